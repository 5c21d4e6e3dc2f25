// Places and moves in the words of a staff: inside and outside from the ball,
// deeper and shallower from the line, in half yards.

import type { Place } from "../wire/types.ts";
import { out, type Side, sideOf, YARD } from "./ground.ts";

/** halves writes yards to the nearest half: 2.6 yd in inches gives "2½". */
export function halves(inches: number): string {
	const n = Math.round(Math.abs(inches) / 18);
	const whole = Math.floor(n / 2);
	if (n % 2 === 0) return String(whole);
	return whole === 0 ? "½" : `${whole}½`;
}

/** tenth writes yards with at most one decimal. */
export const tenth = (inches: number): string => String(Math.round((inches / YARD) * 10) / 10 + 0);

/** placeWords says where a man stands: "7½ outside the ball to the right, 5 deep". */
export function placeWords([x, y]: Place, side: Side): string {
	const s = sideOf(x, side);
	const across =
		Math.round(Math.abs(x) / 18) === 0
			? "over the ball"
			: `${halves(x)} out ${s === side ? "" : `on the ${s} `}`.trim();
	const depth =
		Math.round(Math.abs(y) / 18) === 0
			? "on the line"
			: y > 0
				? `${halves(y)} deep`
				: `${halves(y)} back`;
	return `${across}, ${depth}`;
}

export type Step = "in" | "out" | "up" | "back";

/** One press of a step button, in inches. */
export const HALF_YARD = 18;

/**
 * stepMove is a half-yard step of a man who plays the given half: in is towards
 * the ball, up is towards the line of scrimmage.
 */
export function stepMove(step: Step, half: Side, by = HALF_YARD): Place {
	switch (step) {
		case "in":
			return [out(half, -by) + 0, 0];
		case "out":
			return [out(half, by) + 0, 0];
		case "up":
			return [0, -by];
		case "back":
			return [0, by];
	}
}

/** Where a step leads on the screen. */
export type Arrow = "left" | "right" | "up" | "down";

/** stepArrow is the way a step goes on the screen for these eyes. */
export function stepArrow(step: Step, half: Side, turnX: 1 | -1, turnY: 1 | -1): Arrow {
	const [x, y] = stepMove(step, half);
	if (x !== 0) return x * turnX > 0 ? "right" : "left";
	return y * turnY > 0 ? "down" : "up";
}
