// One finger or mouse on the board. A press that stays put is a tap; one that
// moves drags whatever the owner of the board lets it take.
import { type Projection, screenPoint } from "../field/projection.ts";
import type { Place } from "../wire/types.ts";

/** The ball can be taken like a man. */
export const BALL = "@ball";

/** Pixels before a press counts as a drag. */
const SLOP = 5;

export interface Touch {
	/** Whom a press on this man (or on nobody) takes, and where he is; null if nobody. */
	grab(who: string | null): { who: string; at: Place } | null;
	take(who: string, at: Place): void;
	move(who: string, at: Place): void;
	drop(who: string): void;
	tap(who: string | null, at: Place): void;
}

export interface Press {
	down(e: PointerEvent): void;
	move(e: PointerEvent): void;
	up(e: PointerEvent): void;
	lost(e: PointerEvent): void;
}

interface Held {
	id: number;
	rect: DOMRect;
	p: Projection;
	x: number;
	y: number;
	over: string | null;
	grabbed: { who: string; at: Place } | null;
	moving: boolean;
}

/** press follows one pointer at a time; find tells who is drawn nearest. */
export function press(
	svg: () => SVGSVGElement | null,
	projection: () => Projection,
	find: (x: number, y: number) => string | null,
	touch: () => Touch,
): Press {
	let held: Held | null = null;

	const placeAt = (h: Held, e: PointerEvent): Place => {
		const from = h.p.toField(screenPoint(h.x, h.y));
		const to = h.p.toField(screenPoint(e.clientX - h.rect.left, e.clientY - h.rect.top));
		const at = h.grabbed?.at ?? [from.x, from.y];
		return [at[0] + to.x - from.x, at[1] + to.y - from.y];
	};

	const end = (e: PointerEvent, kept: boolean) => {
		if (held === null || e.pointerId !== held.id) return;
		const h = held;
		held = null;
		if (h.grabbed !== null && h.moving) {
			if (kept) touch().move(h.grabbed.who, placeAt(h, e));
			touch().drop(h.grabbed.who);
		} else if (kept && !h.moving) {
			const f = h.p.toField(screenPoint(h.x, h.y));
			touch().tap(h.over, [f.x, f.y]);
		}
	};

	return {
		down(e) {
			const el = svg();
			if (held !== null || e.button !== 0 || el === null) return;
			const rect = el.getBoundingClientRect();
			const x = e.clientX - rect.left;
			const y = e.clientY - rect.top;
			const over = find(x, y);
			held = {
				id: e.pointerId,
				rect,
				p: projection(),
				x,
				y,
				over,
				grabbed: touch().grab(over),
				moving: false,
			};
			try {
				el.setPointerCapture(e.pointerId);
			} catch {
				// The pointer is gone already; its end will not come, so forget it.
				held = null;
			}
		},
		move(e) {
			if (held === null || e.pointerId !== held.id) return;
			const x = e.clientX - held.rect.left;
			const y = e.clientY - held.rect.top;
			if (!held.moving) {
				if (Math.hypot(x - held.x, y - held.y) < SLOP) return;
				held.moving = true;
				if (held.grabbed !== null) touch().take(held.grabbed.who, held.grabbed.at);
			}
			if (held.grabbed !== null) touch().move(held.grabbed.who, placeAt(held, e));
		},
		up: (e) => end(e, true),
		lost: (e) => end(e, false),
	};
}

/** nearest finds whoever is drawn within reach pixels of a place. */
export function nearest(
	drawn: ReadonlyMap<string, { x: number; y: number }>,
	x: number,
	y: number,
	reach: number,
): string | null {
	let best: string | null = null;
	let least = reach;
	for (const [who, at] of drawn) {
		const d = Math.hypot(at.x - x, at.y - y);
		if (d < least) {
			least = d;
			best = who;
		}
	}
	return best;
}
