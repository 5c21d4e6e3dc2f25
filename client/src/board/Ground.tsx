// The field under the men: a plan, not turf. Yard lines and numbers are the
// real ones of the rulebook in use; the scale at the edge counts from the line.

import {
	across,
	deepest,
	GOALS,
	hashFromSideline,
	numbersFromSideline,
	type Side,
	WIDTH,
	YARD,
} from "../field/ground.ts";
import { fieldPoint, type Projection } from "../field/projection.ts";
import type { Ball } from "../wire/types.ts";
import { SILENT } from "./aria.ts";

interface Props {
	ball: Ball;
	side: Side;
	p: Projection;
	/** Size of the smallest text. */
	font: number;
}

export function Ground({ ball, side, p, font }: Props) {
	const left = -across(ball);
	const right = left + WIDTH;
	const { seen } = p;
	const at = (x: number, y: number) => p.toScreen(fieldPoint(x, y));
	const x1 = Math.max(seen.minX, left);
	const x2 = Math.min(seen.maxX, right);
	const y1 = Math.max(seen.minY, -ball.yard * YARD - 360);
	const y2 = Math.min(seen.maxY, deepest(ball));
	const a = at(x1, y1);
	const b = at(x2, y2);
	return (
		<g class="ground" {...SILENT}>
			<rect
				class="turf"
				x={Math.min(a.x, b.x)}
				y={Math.min(a.y, b.y)}
				width={Math.abs(b.x - a.x)}
				height={Math.abs(b.y - a.y)}
			/>
			{yardLines(ball, seen.minY, seen.maxY).map(({ y, yard }) => {
				const s = at(x1, y);
				const e = at(x2, y);
				const goal = yard === 0 || yard === 100;
				return (
					<line key={yard} class={goal ? "goal" : "yard"} x1={s.x} x2={e.x} y1={s.y} y2={e.y} />
				);
			})}
			<path class="hash" d={hashTicks(ball, p, left)} />
			{yardNumbers(ball, p, left, right)}
			{[left, right].map((x) => {
				if (x < seen.minX || x > seen.maxX) return null;
				const s = at(x, y1);
				const e = at(x, y2);
				return <line key={x} class="sideline" x1={s.x} x2={e.x} y1={s.y} y2={e.y} />;
			})}
			<line class="scrimmage" x1={at(x1, 0).x} x2={at(x2, 0).x} y1={at(0, 0).y} y2={at(0, 0).y} />
			<Scale p={p} side={side} font={font} />
		</g>
	);
}

/** Every fifth yard line in sight, with its yard from the offense's own goal. */
function yardLines(ball: Ball, minY: number, maxY: number): { y: number; yard: number }[] {
	const lines = [];
	for (let yard = 0; yard <= 100; yard += 5) {
		const y = (yard - ball.yard) * YARD;
		if (y !== 0 && y > minY && y < maxY) lines.push({ y, yard });
	}
	return lines;
}

function hashTicks(ball: Ball, p: Projection, left: number): string {
	const h = hashFromSideline(ball.rules);
	let d = "";
	for (const x of [left + h, left + WIDTH - h, left + 12, left + WIDTH - 12]) {
		if (x < p.seen.minX || x > p.seen.maxX) continue;
		const from = Math.ceil(Math.max(p.seen.minY / YARD, -ball.yard));
		const to = Math.floor(Math.min(p.seen.maxY / YARD, GOALS / YARD - ball.yard));
		for (let i = from; i <= to; i++) {
			const s = p.toScreen(fieldPoint(x - 12, i * YARD));
			const e = p.toScreen(fieldPoint(x + 12, i * YARD));
			d += `M${s.x.toFixed(1)} ${s.y.toFixed(1)}H${e.x.toFixed(1)}`;
		}
	}
	return d;
}

/** The painted numbers, read from their sideline, 2 yd high. */
function yardNumbers(ball: Ball, p: Projection, left: number, right: number) {
	const inset = numbersFromSideline(ball.rules) - YARD;
	const size = Math.min(2 * YARD * p.scale, 64);
	return [left + inset, right - inset].flatMap((x, i) => {
		if (x < p.seen.minX + YARD || x > p.seen.maxX - YARD) return [];
		const marks = [];
		for (let yard = 10; yard <= 90; yard += 10) {
			const y = (yard - ball.yard) * YARD;
			if (y < p.seen.minY + YARD || y > p.seen.maxY - YARD) continue;
			const s = p.toScreen(fieldPoint(x, y));
			// The foot of a digit is towards its own sideline.
			const turn = (i === 0 ? 90 : -90) * p.turnX;
			marks.push(
				<text
					key={`${i}${yard}`}
					class="numbers"
					font-size={size}
					transform={`translate(${s.x.toFixed(1)} ${s.y.toFixed(1)}) rotate(${turn})`}
					dy="0.35em"
				>
					{yard <= 50 ? yard : 100 - yard}
				</text>,
			);
		}
		return marks;
	});
}

/** The depth scale along the ball's edge of the board: yards from the line. */
function Scale({ p, side, font }: { p: Projection; side: Side; font: number }) {
	const inner = (side === "right" ? -1 : 1) * p.turnX; // -1: the ball's side is left on the screen
	const x = inner === -1 ? 1 : p.size.width - 1;
	const to = (long: number) => x - inner * long;
	let ticks = "";
	const marks = [];
	for (let i = Math.ceil(p.seen.minY / YARD); i <= p.seen.maxY / YARD; i++) {
		const y = p.toScreen(fieldPoint(0, i * YARD)).y;
		if (y < font * 0.6 || y > p.size.height - font * 0.6) continue;
		ticks += `M${x} ${y.toFixed(1)}H${to(i % 5 === 0 ? 9 : 5)}`;
		if (i % 5 !== 0) continue;
		marks.push(
			<text
				key={i}
				class="scale"
				x={to(12)}
				y={y}
				dy="0.35em"
				font-size={font}
				text-anchor={inner === -1 ? "start" : "end"}
			>
				{i === 0 ? "line" : Math.abs(i)}
			</text>,
		);
	}
	return (
		<>
			<path class="ticks" d={ticks} />
			{marks}
		</>
	);
}
