// The men: rounded squares for the offense, discs for the defense.

import { glyph, signClass } from "./Sign.tsx";
import type { DefenseMan, OffenseMan } from "./scene.ts";
import { arrow, halfRing, ringDashes } from "./shapes.ts";

const tagSize = (text: string, r: number): number =>
	r * (text.length <= 1 ? 1.15 : text.length === 2 ? 0.95 : text.length === 3 ? 0.74 : 0.6);

/** Square is one man of the offense, drawn around (0, 0). */
export function Square({
	man,
	r,
	up,
	font,
	edge,
}: {
	man: OffenseMan;
	r: number;
	up: number;
	font: number;
	/** -1 or 1 if he is beyond the board's left or right edge. */
	edge: number;
}) {
	const s = r * 0.92;
	return (
		<>
			<rect class="square" x={-s} y={-s} width={2 * s} height={2 * s} rx={r * 0.28} />
			<text class="tag" dy="0.36em" font-size={tagSize(man.who, r)}>
				{man.who}
			</text>
			{edge !== 0 && (
				<path class="edge" d={arrow(-edge * r * 0.5, r * 1.5, edge * r, r * 1.5, r * 0.5)} />
			)}
			{(man.number > 0 || man.moving) && (
				<text class="numeral" y={up * (r + font * 0.75)} dy="0.36em" font-size={font}>
					{man.number > 0 ? `#${man.number}` : ""}
					{man.aside !== "" && <tspan class="aside">{` ${man.aside}`}</tspan>}
					{man.moving && <tspan class="aside">{man.number > 0 ? " moving" : "moving"}</tspan>}
				</text>
			)}
		</>
	);
}

interface DiscProps {
	man: DefenseMan;
	r: number;
	mine: boolean;
	/** -1: inside is left on the screen. */
	inside: -1 | 1;
	/** Whether the whole arrow of the fix is drawn elsewhere. */
	fixShown: boolean;
	/** Way of the fix on the screen. */
	angle: number;
	/** Side of the disc that nobody blocks him from. */
	flagSide: -1 | 1;
	font: number;
}

/** Disc is one man of the defense, drawn around (0, 0). */
export function Disc({ man, r, mine, inside, fixShown, angle, flagSide, font }: DiscProps) {
	const { sign } = man;
	const stroke = Math.max(2.5, r * 0.2);
	const dashes = ringDashes(sign, r);
	const badge = Math.max(6.5, r * 0.44);
	const bx = r * 0.78 * (man.hat === "inside" ? -inside : man.hat === "outside" ? inside : 1);
	const tip = Math.max(14, r * 0.85);
	const hatSide = man.hat === null ? 0 : man.hat === "inside" ? inside : -inside;
	return (
		<g class={`disc ${signClass(sign)}${mine ? " mine" : ""}${man.late ? " late" : ""}`}>
			{hatSide !== 0 && (
				<path
					class="hat"
					d={halfRing(0, 0, r + stroke + 2, hatSide as -1 | 1)}
					stroke-width={stroke}
				/>
			)}
			<circle class="fill" r={r} />
			<circle class="under" r={r} stroke-width={stroke + 2} stroke-dasharray={dashes} />
			<circle class="ring" r={r} stroke-width={stroke} stroke-dasharray={dashes} />
			<text class="tag" dy="0.36em" font-size={tagSize(man.text, r * 0.95)}>
				{man.text}
			</text>
			{(sign === "yes" || sign === "contested") && (
				<g class="badge" transform={`translate(${bx} ${r * 0.78})`}>
					<circle r={badge} />
					<path d={glyph(sign, 0, 0, badge * 0.8, 0)} />
				</g>
			)}
			{sign === "no" && man.fix !== null && !fixShown && (
				<path
					class="fixway"
					d={arrow(
						Math.cos(angle) * (r + 2),
						Math.sin(angle) * (r + 2),
						Math.cos(angle) * (r + tip),
						Math.sin(angle) * (r + tip),
						tip * 0.45,
					)}
				/>
			)}
			{man.under !== "" && (
				<text class="underneath" y={r + font * 0.95} dy="0.36em" font-size={font}>
					{man.under}
				</text>
			)}
			{man.late && (
				<text class="underneath" y={-r - font * 0.8} dy="0.36em" font-size={font}>
					late
				</text>
			)}
			{man.flag > 0 && (
				<g class="flag" transform={`translate(${flagSide * r * 0.7} ${-r * 0.7})`}>
					<path class="pole" d={`M0 ${r * 0.3}V${-font * 1.25}`} />
					<rect
						x={flagSide === 1 ? 0 : -font * 1.1}
						y={-font * 1.35}
						width={font * 1.1}
						height={font * 1.2}
						rx="1.5"
					/>
					<text x={flagSide * font * 0.55} y={-font * 0.75} dy="0.36em" font-size={font * 0.92}>
						{man.flag}
					</text>
				</g>
			)}
		</g>
	);
}
