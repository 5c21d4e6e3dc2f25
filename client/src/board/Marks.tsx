// What is drawn around the men: the rule's box, the key, the fix, the tie of a
// block, and what somebody points at.

import { YARD } from "../field/ground.ts";
import { fieldPoint, fromPlace, type Projection } from "../field/projection.ts";
import { tenth } from "../field/words.ts";
import type { Place, PocketAnswer } from "../wire/types.ts";
import { SILENT } from "./aria.ts";
import type { BoardScene } from "./scene.ts";
import { focusOf } from "./scene.ts";
import { arrow } from "./shapes.ts";
import type { Spot2 } from "./spread.ts";

type Drawn = ReadonlyMap<string, Spot2>;

/** Below lies under the men. */
export function Below({
	s,
	p,
	drawn,
	r,
}: {
	s: BoardScene;
	p: Projection;
	drawn: Drawn;
	r: number;
}) {
	const focus = focusOf(s);
	const me = focus === null ? undefined : drawn.get(focus);
	const key = s.key === null ? undefined : drawn.get(s.key);
	return (
		<g class="marks" {...SILENT}>
			{s.pocket !== null && <Pocket pocket={s.pocket} p={p} />}
			{s.box !== null && <RuleBox box={s.box} p={p} />}
			{me !== undefined && key !== undefined && (
				<line
					class="key"
					data-tie={`${focus}>${s.key}`}
					x1={me.x}
					y1={me.y}
					x2={key.x}
					y2={key.y}
				/>
			)}
			{s.motion !== null && <Trail s={s} p={p} drawn={drawn} r={r} />}
			{s.blocks.map((b) => {
				const by = drawn.get(b.by);
				const on = drawn.get(b.on);
				return by === undefined || on === undefined ? null : (
					<line
						key={`${b.by}>${b.on}`}
						class="tie"
						data-tie={`${b.by}>${b.on}`}
						x1={by.x}
						y1={by.y}
						x2={on.x}
						y2={on.y}
						stroke-width={r * 0.5}
					/>
				);
			})}
			{s.spots.map((d) => {
				const at = drawn.get(d.who);
				return d.going === null || at === undefined ? null : (
					<Going key={d.who} going={d.going} at={at} p={p} r={r} />
				);
			})}
			{s.held !== null && s.held in s.places && <Column s={s} p={p} r={r} />}
		</g>
	);
}

/** Going is where a frozen man is on his way to: as far as he runs in 0.4 s. */
function Going({ going, at, p, r }: { going: Place; at: Spot2; p: Projection; r: number }) {
	const dx = going[0] * 0.4 * p.scale * p.turnX;
	const dy = going[1] * 0.4 * p.scale * p.turnY;
	const long = Math.hypot(dx, dy);
	if (long < 2) return null;
	const x = (d: number) => at.x + (dx / long) * d;
	const y = (d: number) => at.y + (dy / long) * d;
	const tip = r * 1.25 + long;
	return <path class="going" d={arrow(x(r), y(r), x(tip), y(tip), r * 0.5)} />;
}

/** Trail is the way of the man in motion. */
function Trail({ s, p, drawn, r }: { s: BoardScene; p: Projection; drawn: Drawn; r: number }) {
	const to = drawn.get(s.motion?.who ?? "");
	if (s.motion === null || to === undefined) return null;
	const from = p.toScreen(fromPlace(s.motion.from));
	const long = Math.hypot(to.x - from.x, to.y - from.y);
	if (long < r) return null;
	const part = (long - r - 4) / long;
	return (
		<>
			<circle class="start" cx={from.x} cy={from.y} r={r * 0.35} />
			<path
				class="trail"
				d={arrow(
					from.x,
					from.y,
					from.x + (to.x - from.x) * part,
					from.y + (to.y - from.y) * part,
					r * 0.6,
				)}
			/>
		</>
	);
}

function RuleBox({ box, p }: { box: readonly [number, number, number, number]; p: Projection }) {
	const a = p.toScreen(fieldPoint(box[0], box[1]));
	const b = p.toScreen(fieldPoint(box[2], box[3]));
	// A rule without play on one axis still needs something to see.
	const least = 4;
	const w = Math.max(Math.abs(b.x - a.x), least);
	const h = Math.max(Math.abs(b.y - a.y), least);
	return (
		<rect class="rulebox" x={(a.x + b.x - w) / 2} y={(a.y + b.y - h) / 2} width={w} height={h} />
	);
}

/** Pocket is where I may stand and still keep everything; lighter where it is contested. */
function Pocket({ pocket, p }: { pocket: PocketAnswer; p: Projection }) {
	const path = (loops: readonly (readonly Place[])[]) =>
		loops
			.map(
				(l) =>
					`M${l
						.map(([x, y]) => {
							const at = p.toScreen(fieldPoint(x, y));
							return `${at.x.toFixed(1)} ${at.y.toFixed(1)}`;
						})
						.join("L")}Z`,
			)
			.join("");
	return (
		<>
			<path class="pocket maybe" fill-rule="evenodd" d={path(pocket.maybe)} />
			<path class="pocket" fill-rule="evenodd" d={path(pocket.keeps)} />
		</>
	);
}

/** Column is the yard scale beside the man who is being moved. */
function Column({ s, p, r }: { s: BoardScene; p: Projection; r: number }) {
	const at = s.places[s.held ?? ""];
	if (at === undefined) return null;
	const from = Math.min(0, at[1]);
	const to = Math.max(0, at[1]);
	let d = "";
	for (let i = Math.ceil(from / YARD); i <= to / YARD; i++) {
		const t = p.toScreen(fieldPoint(at[0], i * YARD));
		const w = i % 5 === 0 ? r * 0.5 : r * 0.3;
		d += `M${t.x - w} ${t.y}h${2 * w}`;
	}
	const line = p.toScreen(fieldPoint(at[0], 0));
	const me = p.toScreen(fromPlace(at));
	return (
		<>
			<line class="column" x1={line.x} y1={line.y} x2={me.x} y2={me.y} />
			<path class="ticks" d={d} />
		</>
	);
}

/** Above lies over the men. */
export function Above({
	s,
	p,
	drawn,
	r,
	font,
}: {
	s: BoardScene;
	p: Projection;
	drawn: Drawn;
	r: number;
	font: number;
}) {
	const focus = focusOf(s);
	const man = s.spots.find((d) => d.who === focus);
	const me = focus === null ? undefined : drawn.get(focus);
	return (
		<g class="marks" {...SILENT}>
			{man !== undefined && me !== undefined && man.fix !== null && (
				<Fix move={man.fix} me={me} p={p} r={man.who === s.me ? r * 1.3 : r} />
			)}
			{s.pointed.map((who) => {
				const at = typeof who === "string" ? drawn.get(who) : p.toScreen(fromPlace(who));
				return at === undefined ? null : (
					<circle key={String(who)} class="pointed" cx={at.x} cy={at.y} r={r * 1.9} />
				);
			})}
			{s.held !== null && <Depth s={s} drawn={drawn} r={r} font={font} width={p.size.width} />}
		</g>
	);
}

function Fix({
	move,
	me,
	p,
	r,
}: {
	move: readonly [number, number];
	me: Spot2;
	p: Projection;
	r: number;
}) {
	const dx = move[0] * p.scale * p.turnX;
	const dy = move[1] * p.scale * p.turnY;
	const long = Math.hypot(dx, dy);
	if (long < 3) return null;
	// A short way still starts outside the disc, so that the number stays readable.
	const from = r + 2;
	const tip = Math.max(long, from + 14);
	const x = (d: number) => me.x + (dx / long) * d;
	const y = (d: number) => me.y + (dy / long) * d;
	return (
		<>
			<path class="fix under" d={arrow(x(from), y(from), x(tip), y(tip), 9)} />
			<path class="fix" d={arrow(x(from), y(from), x(tip), y(tip), 9)} />
			{long > from + 14 && <circle class="goalspot" cx={x(long)} cy={y(long)} r="4" />}
		</>
	);
}

/** Depth is written beside a man while he moves. */
function Depth({
	s,
	drawn,
	r,
	font,
	width,
}: {
	s: BoardScene;
	drawn: Drawn;
	r: number;
	font: number;
	width: number;
}) {
	const at = s.places[s.held ?? ""];
	const me = drawn.get(s.held ?? "");
	if (at === undefined || me === undefined) return null;
	const right = me.x < width - r * 5;
	return (
		<text
			class="depth"
			x={me.x + (right ? r * 1.9 : -r * 1.9)}
			y={me.y}
			dy="0.36em"
			font-size={font * 1.25}
			text-anchor={right ? "start" : "end"}
		>
			{tenth(Math.abs(at[1]))}
		</text>
	);
}
