// Where pieces are drawn when their true places are too close together for the
// screen. A blocker and his man are drawn as a pair: the man where he is, the
// blocker behind him, so that the side his hat is on can be seen.
import type { Side } from "../field/ground.ts";
import { YARD } from "../field/ground.ts";
import type { Projection } from "../field/projection.ts";
import { fromPlace } from "../field/projection.ts";
import type { Block, Place } from "../wire/types.ts";

export interface Piece {
	readonly who: string;
	readonly at: Place;
	/** Radius on the screen, in pixels. */
	readonly r: number;
	/** A man under the finger is drawn exactly where he is. */
	readonly fixed: boolean;
}

export interface Spot2 {
	x: number;
	y: number;
}

export type Hat = "in" | "even" | "out";

/** hatOf is the side of his blocker a man's hat is on: half a man, 0.5 yd, decides. */
export function hatOf(man: Place, blocker: Place, half: Side): Hat {
	const d = (man[0] - blocker[0]) * (half === "right" ? 1 : -1);
	return d >= YARD / 2 ? "out" : d <= -YARD / 2 ? "in" : "even";
}

const ROUNDS = 12;
/** Clear of the depth scale. */
const EDGE = 34;
/** Pieces are never drawn farther than so many of their radii from the truth. */
const FARTHEST = 2.8;

/** spread gives every piece's place on the screen. */
export function spread(
	pieces: readonly Piece[],
	blocks: readonly Block[],
	p: Projection,
): Map<string, Spot2> {
	const truth = new Map<string, Spot2>();
	const drawn = new Map<string, Spot2>();
	for (const piece of pieces) {
		const s = p.toScreen(fromPlace(piece.at));
		// Whoever is beyond the edge is marked at it.
		const x = Math.min(Math.max(s.x, piece.r + EDGE), p.size.width - piece.r - EDGE);
		truth.set(piece.who, { x, y: s.y });
		drawn.set(piece.who, { x, y: s.y });
	}
	const byWho = new Map(pieces.map((piece) => [piece.who, piece]));
	const paired = new Set<string>();
	for (const b of blocks) {
		const by = byWho.get(b.by);
		const on = byWho.get(b.on);
		if (by !== undefined && on !== undefined && !by.fixed) {
			if (behind(by, on, drawn, p)) paired.add(b.by);
		}
	}
	for (let round = 0; round < ROUNDS; round++) {
		let moved = false;
		for (const [i, a] of pieces.entries()) {
			for (const b of pieces.slice(i + 1)) moved = apart(a, b, drawn, paired) || moved;
		}
		if (!moved) break;
	}
	for (const piece of pieces) keepNear(piece, truth, drawn);
	return drawn;
}

/** behind draws a blocker touching his man, on the side away from the man's hat. */
function behind(by: Piece, on: Piece, drawn: Map<string, Spot2>, p: Projection): boolean {
	const man = drawn.get(on.who);
	const blocker = drawn.get(by.who);
	if (man === undefined || blocker === undefined) return false;
	const gap = by.r + on.r;
	let dx = blocker.x - man.x;
	let dy = blocker.y - man.y;
	if (Math.hypot(dx, dy) >= gap) return false;
	const lateral = (by.at[0] - on.at[0]) * p.turnX;
	const even = Math.abs(by.at[0] - on.at[0]) < YARD / 2;
	// The offense comes from the line: its side is up for the defense's eyes.
	// Who is plainly past his man is drawn past him.
	const offense = Math.abs(dy) > gap * 0.3 ? Math.sign(dy) : -p.turnY;
	dx = even ? 0 : Math.sign(lateral) * Math.max(Math.abs(dx), gap * 0.8);
	dy = offense * Math.max(Math.abs(dy), gap * (even ? 1 : 0.55));
	const long = Math.hypot(dx, dy);
	blocker.x = man.x + (dx / long) * gap;
	blocker.y = man.y + (dy / long) * gap;
	return true;
}

function apart(a: Piece, b: Piece, drawn: Map<string, Spot2>, paired: Set<string>): boolean {
	const pa = drawn.get(a.who);
	const pb = drawn.get(b.who);
	if (pa === undefined || pb === undefined || (a.fixed && b.fixed)) return false;
	let dx = pb.x - pa.x;
	let dy = pb.y - pa.y;
	let d = Math.hypot(dx, dy);
	const want = a.r + b.r;
	if (d >= want - 0.5) return false;
	if (d < 0.01) {
		dx = 0;
		dy = 1;
		d = 1;
	}
	const push = (want - d) / d;
	// Whoever is already drawn beside his man yields more than the man.
	const weight = a.fixed
		? 0
		: b.fixed
			? 1
			: paired.has(a.who) === paired.has(b.who)
				? 0.5
				: paired.has(a.who)
					? 0.9
					: 0.1;
	pa.x -= dx * push * weight;
	pa.y -= dy * push * weight;
	pb.x += dx * push * (1 - weight);
	pb.y += dy * push * (1 - weight);
	return true;
}

function keepNear(piece: Piece, truth: Map<string, Spot2>, drawn: Map<string, Spot2>): void {
	const t = truth.get(piece.who);
	const d = drawn.get(piece.who);
	if (t === undefined || d === undefined) return;
	const far = Math.hypot(d.x - t.x, d.y - t.y);
	const most = piece.r * FARTHEST;
	if (far <= most) return;
	d.x = t.x + ((d.x - t.x) * most) / far;
	d.y = t.y + ((d.y - t.y) * most) / far;
}
