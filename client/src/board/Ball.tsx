// The ball on the board: drawn before the snapper, and dragged by the coach to
// another hash or yard line.
import { useRef } from "preact/hooks";
import { across, nearestHash, YARD, yardLine } from "../field/ground.ts";
import { fieldPoint, type Projection } from "../field/projection.ts";
import type { Ball, Place } from "../wire/types.ts";
import { SILENT } from "./aria.ts";
import { BALL, type Touch } from "./pointer.ts";

/** A ball under the finger: where it would be put down, and where the finger is. */
export interface Ghost {
	readonly ball: Ball;
	readonly at: Place;
}

interface BallHand {
	shown: boolean;
	over(touch: Touch | undefined): Touch;
}

/** useBall lets the ball be dragged to another hash or yard line. */
export function useBall(
	ball: Ball,
	onBall: ((b: Ball) => void) | undefined,
	set: (g: Ghost | null) => void,
	ghost: Ghost | null,
): { current: BallHand } {
	const ref = useRef<BallHand>({ shown: false, over: () => idle });
	ref.current = {
		shown: onBall !== undefined,
		over: (touch) => ({
			grab: (who) => (who === BALL ? { who, at: [0, 0] } : (touch?.grab(who) ?? null)),
			take: (who, at) => (who === BALL ? undefined : touch?.take(who, at)),
			move: (who, at) => {
				if (who !== BALL) return touch?.move(who, at);
				const yard = Math.min(Math.max(ball.yard + Math.round(at[1] / YARD), 1), 99);
				const hash = nearestHash(ball.rules, across(ball) + at[0]);
				set({ ball: { ...ball, hash, yard }, at });
			},
			drop: (who) => {
				if (who !== BALL) return touch?.drop(who);
				if (ghost !== null) onBall?.(ghost.ball);
				set(null);
			},
			tap: (who, at) => touch?.tap(who === BALL ? null : who, at),
		}),
	};
	return ref;
}

const idle: Touch = {
	grab: () => null,
	take: () => undefined,
	move: () => undefined,
	drop: () => undefined,
	tap: () => undefined,
};

/** The ball lies just beyond the line, where the snapper's square does not hide it. */
const ballSpot = (p: Projection, at: Place, r: number) => {
	const s = p.toScreen(fieldPoint(at[0], at[1]));
	return { x: s.x, y: s.y + p.turnY * r * 1.75 };
};

export function withBall(
	drawn: ReadonlyMap<string, { x: number; y: number }>,
	p: Projection,
	hand: BallHand,
	r: number,
): ReadonlyMap<string, { x: number; y: number }> {
	return hand.shown ? new Map([...drawn, [BALL, ballSpot(p, [0, 0], r)]]) : drawn;
}

const shape = (
	<>
		<path d="M-9 0Q0 -9 9 0Q0 9 -9 0Z" />
		<path class="lace" d="M-3.5 0H3.5" />
	</>
);

/** The ball of a rep, and the way it has flown: whoever runs the rep moves them. */
export const FlyingBall = ({ r }: { r: number }) => (
	<g class="ball" {...SILENT}>
		<path class="flight" />
		<g class="flies">
			<g transform={`scale(${Math.max(0.9, r / 16).toFixed(2)})`}>{shape}</g>
		</g>
	</g>
);

export function BallMark({ p, at, r }: { p: Projection; at: Place; r: number }) {
	const { x, y } = ballSpot(p, at, r);
	return (
		<g class="ball" transform={`translate(${x} ${y})`} {...SILENT}>
			{shape}
		</g>
	);
}

export function GhostBall({
	p,
	ghost,
	font,
	r,
}: {
	p: Projection;
	ghost: Ghost;
	font: number;
	r: number;
}) {
	const { x, y } = ballSpot(p, ghost.at, r);
	return (
		<text
			class="depth"
			x={x}
			y={y + p.turnY * font * 1.6}
			dy="0.36em"
			font-size={font * 1.2}
			text-anchor="middle"
		>
			{`${ghost.ball.hash === "middle" ? "middle" : `${ghost.ball.hash} hash`}, ${yardLine(ghost.ball.yard)}`}
		</text>
	);
}
