// The three signs of leverage: closed ring with a tick, dashed ring with "~",
// broken ring with an arrow along the fix. Shape, word and colour always agree.
import { arrow, ringDashes } from "./shapes.ts";

export type SignKind = "yes" | "contested" | "no";

const CLASS = { yes: "keeps", contested: "contested", no: "loses" } as const;

export const signClass = (sign: SignKind | null | undefined): string =>
	sign === null || sign === undefined ? "unsaid" : CLASS[sign];

/** glyph is the mark inside a ring of radius r around (x, y); angle is the fix's. */
export function glyph(sign: SignKind, x: number, y: number, r: number, angle: number): string {
	switch (sign) {
		case "yes":
			return `M${x - r * 0.45} ${y + r * 0.02}L${x - r * 0.1} ${y + r * 0.38}L${x + r * 0.5} ${y - r * 0.35}`;
		case "contested":
			return `M${x - r * 0.5} ${y + r * 0.12}q${r * 0.25} ${-r * 0.5} ${r * 0.5} ${-r * 0.12}t${r * 0.5} ${-r * 0.12}`;
		case "no": {
			const dx = Math.cos(angle) * r * 0.55;
			const dy = Math.sin(angle) * r * 0.55;
			return arrow(x - dx, y - dy, x + dx, y + dy, r * 0.5);
		}
	}
}

/** Sign is the stand-alone picture, as in the answer line and the rows. */
export function Sign({
	sign,
	size,
	angle = 0,
}: {
	sign: SignKind | null;
	size: number;
	angle?: number;
}) {
	const c = size / 2;
	const r = c - Math.max(size * 0.09, 2.5);
	const width = Math.max(size * 0.1, 2.5);
	return (
		<svg
			class={`sign ${signClass(sign)}`}
			width={size}
			height={size}
			viewBox={`0 0 ${size} ${size}`}
			aria-hidden="true"
		>
			<circle
				class="under"
				cx={c}
				cy={c}
				r={r}
				stroke-width={width + 2}
				stroke-dasharray={ringDashes(sign, r)}
			/>
			<circle
				class="ring"
				cx={c}
				cy={c}
				r={r}
				stroke-width={width}
				stroke-dasharray={ringDashes(sign, r)}
			/>
			{sign !== null && (
				<>
					<path class="under" d={glyph(sign, c, c, r * 0.8, angle)} stroke-width={width + 2} />
					<path class="ring" d={glyph(sign, c, c, r * 0.8, angle)} stroke-width={width} />
				</>
			)}
		</svg>
	);
}
