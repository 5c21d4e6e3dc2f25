// From the field to the screen and back. A place in inches and a place in
// pixels cannot be mixed up: each has its own brand, and this file alone turns
// one into the other.

import type { Ball, Place } from "../wire/types.ts";
import { out, type Side, sideline, YARD } from "./ground.ts";

declare const onField: unique symbol;
declare const onScreen: unique symbol;
/** Inches from the ball: x to the offense's right, y beyond the line. */
export type FieldPoint = { readonly x: number; readonly y: number; readonly [onField]: true };
/** Pixels from the board's upper left corner. */
export type ScreenPoint = { readonly x: number; readonly y: number; readonly [onScreen]: true };

export const fieldPoint = (x: number, y: number): FieldPoint => ({ x, y }) as FieldPoint;
export const screenPoint = (x: number, y: number): ScreenPoint => ({ x, y }) as ScreenPoint;
export const fromPlace = (p: Place): FieldPoint => fieldPoint(p[0], p[1]);

/** Whose eyes the board is seen with: his own side is at the bottom. */
export type Eyes = "defense" | "offense";

/** Part of the field, in inches. */
export interface Extent {
	readonly minX: number;
	readonly maxX: number;
	readonly minY: number;
	readonly maxY: number;
}

export interface Size {
	readonly width: number;
	readonly height: number;
}

export interface Projection {
	readonly size: Size;
	readonly eyes: Eyes;
	/** What is seen: at least the extent asked for. */
	readonly seen: Extent;
	/** Pixels an inch. */
	readonly scale: number;
	/** +1 if the offense's right is to the right on the screen. */
	readonly turnX: 1 | -1;
	/** +1 if deeper (towards the defense's end) is down on the screen. */
	readonly turnY: 1 | -1;
	toScreen(p: FieldPoint): ScreenPoint;
	toField(p: ScreenPoint): FieldPoint;
}

/** What of the width is worth showing: the field, and a yard beyond its sidelines. */
export interface Width {
	readonly left: number;
	readonly right: number;
}
export const field = (ball: Ball): Width => ({
	left: -sideline(ball, "left") - YARD,
	right: sideline(ball, "right") + YARD,
});

/**
 * project fits the extent into the size at one scale for both axes. Room that
 * is left over shows more of the field: across mostly on the side under study,
 * as far as there is field, and deeper.
 */
export function project(
	extent: Extent,
	size: Size,
	eyes: Eyes,
	toward: Side,
	width: Width,
): Projection {
	const wide = extent.maxX - extent.minX;
	const deep = extent.maxY - extent.minY;
	const scale = Math.max(Math.min(size.width / wide, size.height / deep), 1e-6);
	const overX = size.width / scale - wide;
	const overY = size.height / scale - deep;
	const room = toward === "right" ? width.right - extent.maxX : extent.minX - width.left;
	const outer = Math.min(overX * 0.65, Math.max(room, 0));
	const seen: Extent = {
		minX: extent.minX - (toward === "left" ? outer : overX - outer),
		maxX: extent.maxX + (toward === "right" ? outer : overX - outer),
		minY: extent.minY - overY * 0.3,
		maxY: extent.maxY + overY * 0.7,
	};
	const turnX = eyes === "offense" ? 1 : -1;
	const turnY = eyes === "offense" ? -1 : 1;
	const left = turnX === 1 ? seen.minX : seen.maxX;
	const top = turnY === 1 ? seen.minY : seen.maxY;
	return {
		size,
		eyes,
		seen,
		scale,
		turnX,
		turnY,
		toScreen: (p) => screenPoint((p.x - left) * turnX * scale, (p.y - top) * turnY * scale),
		toField: (p) => fieldPoint(left + (p.x * turnX) / scale, top + (p.y * turnY) / scale),
	};
}

const LEAST_DEEP = 16 * YARD;
const LEAST_BACK = -8 * YARD;
const MARGIN = 3 * YARD;
/** On the side away from the half under study: as much as a snapper and his neighbour take. */
const NEAR = 3.5 * YARD;

/**
 * needed is the part of the field that matters on one side: from the ball to the
 * farthest man there and 3 yd more. Men far out on the other side are not worth
 * the room; the board marks them at its edge.
 */
export function needed(ball: Ball, toward: Side, places: Iterable<Place>): Extent {
	let wide = 8 * YARD;
	let maxY = LEAST_DEEP;
	let minY = LEAST_BACK;
	for (const [x, y] of places) {
		const o = out(toward, x);
		if (o < -NEAR) continue;
		wide = Math.max(wide, o + MARGIN);
		maxY = Math.max(maxY, y + MARGIN);
		minY = Math.min(minY, y - MARGIN);
	}
	const outer = Math.min(wide, sideline(ball, toward) + YARD);
	return {
		minX: toward === "right" ? -NEAR : -outer,
		maxX: toward === "right" ? outer : NEAR,
		minY,
		maxY,
	};
}

/**
 * steady keeps the old extent while it still shows what is needed without
 * wasting much, so that the board does not jump with every step of a man.
 */
export function steady(old: Extent | null, now: Extent): Extent {
	if (old === null) return now;
	const holds =
		old.minX <= now.minX && old.maxX >= now.maxX && old.minY <= now.minY && old.maxY >= now.maxY;
	const area = (e: Extent) => (e.maxX - e.minX) * (e.maxY - e.minY);
	return holds && area(old) <= area(now) * 1.35 ? old : now;
}
