// Measures of the ground and where the ball lies on it. The hub has the same
// table in Go; both are held to the same published numbers by their tests.
import type { Ball, Place } from "../wire/types.ts";

export type Side = "left" | "right";

/** Whole inches; a yard is 36 of them. */
export const YARD = 36;
/** Sideline to sideline, 160 ft in all three codes. */
export const WIDTH = 1920;
/** Goal line to goal line. */
export const GOALS = 3600;
export const END_ZONE = 360;

/**
 * Hash marks from the nearer sideline: NFHS 1-2-3 (53 ft 4 in), NCAA 2-12-7
 * (60 ft), NFL Rule 1-1 (70 ft 9 in).
 */
const HASH = { nfhs: 640, ncaa: 720, pro: 849 } as const;

/**
 * Edge of the yard numbers towards the middle, from the sideline: 9 yd in
 * NFHS 7-2-1 and NCAA 1-2-1-i; pro bottoms 12 yd in and 2 yd high.
 */
const NUMBERS = { nfhs: 9 * YARD, ncaa: 9 * YARD, pro: 14 * YARD } as const;

export const hashFromSideline = (rules: Ball["rules"]): number => HASH[rules];
export const numbersFromSideline = (rules: Ball["rules"]): number => NUMBERS[rules];

/** sideline is the distance from the ball to the sideline on side s. */
export function sideline(ball: Ball, s: Side): number {
	if (ball.hash === "middle") return WIDTH / 2;
	const h = HASH[ball.rules];
	return ball.hash === s ? h : WIDTH - h;
}

/** across is how far the ball lies from the left sideline. */
export const across = (ball: Ball): number => sideline(ball, "left");

/** deepest and behind are the end lines ahead of and behind the offense. */
export const deepest = (ball: Ball): number => GOALS - ball.yard * YARD + END_ZONE;
export const behind = (ball: Ball): number => -(ball.yard * YARD + END_ZONE);

/** clampPlace moves a place to the nearest whole inch on the field. */
export function clampPlace(ball: Ball, [x, y]: readonly [number, number]): Place {
	const between = (least: number, v: number, most: number) =>
		Math.min(Math.max(Math.round(v), least), most) + 0;
	return [
		between(-sideline(ball, "left"), x, sideline(ball, "right")),
		between(behind(ball), y, deepest(ball)),
	];
}

/** clampMan keeps a man of the offense on his side of the line before the snap, too. */
export function clampMan(ball: Ball, to: readonly [number, number], behindLine: boolean): Place {
	const [x, y] = clampPlace(ball, to);
	return behindLine ? [x, Math.min(y, 0)] : [x, y];
}

/** out is how far x lies outside the ball on side s. */
export const out = (s: Side, x: number): number => (s === "right" ? x : -x);

/** sideOf is the side of the ball a place lies on; the middle counts to other. */
export const sideOf = (x: number, other: Side): Side => (x > 0 ? "right" : x < 0 ? "left" : other);

/** nearestHash is the hash that a ball put down at so many inches from the left sideline goes to. */
export function nearestHash(rules: Ball["rules"], fromLeft: number): Ball["hash"] {
	const at: [Ball["hash"], number][] = [
		["left", HASH[rules]],
		["middle", WIDTH / 2],
		["right", WIDTH - HASH[rules]],
	];
	at.sort((a, b) => Math.abs(a[1] - fromLeft) - Math.abs(b[1] - fromLeft));
	return at[0]?.[0] ?? "middle";
}

/** yardLine names the ball's yard line as it is called out: "own 42", "50", "their 20". */
export function yardLine(yard: number): string {
	if (yard === 50) return "the 50";
	return yard < 50 ? `own ${yard}` : `their ${100 - yard}`;
}
