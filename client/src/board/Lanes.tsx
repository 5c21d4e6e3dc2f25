// The lanes of a frozen moment: strips from the line to 8 yards. Hatched is
// shut, plain with a man's name is fit, a bold edge and "open" is open.

import { YARD } from "../field/ground.ts";
import { fieldPoint, type Projection } from "../field/projection.ts";
import { laneKind, laneLabels } from "../say/lanes.ts";
import type { LaneAnswer } from "../wire/types.ts";
import { SILENT } from "./aria.ts";
import { layLabels } from "./lanelabels.ts";

const DEEP = 8 * YARD;

export function Lanes({
	lanes,
	takes,
	p,
	font,
}: {
	lanes: readonly LaneAnswer[];
	takes: number;
	p: Projection;
	font: number;
}) {
	const line = p.toScreen(fieldPoint(0, 0)).y;
	const end = p.toScreen(fieldPoint(0, DEEP)).y;
	const strips = lanes.map((l) => {
		const a = p.toScreen(fieldPoint(l.span[0], 0)).x;
		const b = p.toScreen(fieldPoint(l.span[1], 0)).x;
		return {
			key: String(l.n),
			left: Math.min(a, b),
			right: Math.max(a, b),
			says: laneLabels(l),
			kind: `${laneKind(l)}${l.n === takes ? " takes" : ""}`,
		};
	});
	const labels = layLabels(strips, font, p.size.width);
	const away = Math.sign(end - line);
	const rowY = (row: number) => end + away * font * (0.95 + row * 1.3);
	return (
		<g class="lanes" {...SILENT}>
			{strips.map((s) => (
				<rect
					key={s.key}
					class={`lane ${s.kind}`}
					x={s.left}
					y={Math.min(line, end)}
					width={Math.max(s.right - s.left, 1)}
					height={Math.abs(end - line)}
				/>
			))}
			{labels.map((l) => (
				<g key={l.key} class={`lanelabel ${strips.find((s) => s.key === l.key)?.kind ?? ""}`}>
					{l.row > 0 && (
						<path
							class="leader"
							d={`M${l.foot} ${end}L${l.x} ${rowY(l.row) - away * font * 0.6}`}
						/>
					)}
					<text x={l.x} y={rowY(l.row)} dy="0.35em" font-size={font} text-anchor="middle">
						{l.text}
					</text>
				</g>
			))}
		</g>
	);
}
