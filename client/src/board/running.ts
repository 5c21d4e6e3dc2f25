// Drawing a rep on, frame by frame: the men, the ball, the ties of the blocks.
// Only their places are set; the page is not drawn anew.
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { YARD } from "../field/ground.ts";
import { fromPlace, type Projection } from "../field/projection.ts";
import { ballAt, blocksAt, type Film, flightAt, placesAt } from "../store/film.ts";
import type { Place } from "../wire/types.ts";
import type { Running } from "./scene.ts";
import { type Piece, type Spot2, spread } from "./spread.ts";

/** What a frame needs of the board as it was drawn last. */
export interface Drawn {
	p: Projection;
	/** Where everybody is drawn: also what a finger finds. */
	drawn: ReadonlyMap<string, Spot2>;
	r: number;
	pieces: readonly Piece[];
}

/** The ball is in the hands of who is so near, in inches. */
const IN_HAND = 0.8 * YARD;
/** Men who are pushed apart glide there, this much of the way in a frame. */
const GLIDE = 0.3;

const px = (v: number): string => v.toFixed(1);

/** useRunning draws the men of a rep wherever it is. */
export function useRunning(
	svg: { current: SVGSVGElement | null },
	board: { current: Drawn },
	running: Running | null,
): void {
	const off = useRef(new Map<string, Spot2>());
	useLayoutEffect(() => {
		const el = svg.current;
		if (el === null) return;
		if (running === null) off.current.clear();
		else paint(el, board.current, running.film, running.now(), off.current, 1);
	});
	useEffect(() => {
		if (running === null) return;
		return running.watch((ms) => {
			const el = svg.current;
			if (el !== null) paint(el, board.current, running.film, ms, off.current, GLIDE);
		});
	}, [svg, board, running]);
}

/** shown is where the men of a rep are drawn at a time. */
function shown(
	board: Drawn,
	film: Film,
	at: Record<string, Place>,
	ms: number,
): Map<string, Spot2> {
	const pieces = board.pieces.map((piece) => ({
		...piece,
		at: at[piece.who] ?? piece.at,
		fixed: false,
	}));
	return spread(pieces, blocksAt(film, ms), board.p);
}

function paint(
	svg: SVGSVGElement,
	board: Drawn,
	film: Film,
	ms: number,
	off: Map<string, Spot2>,
	glide: number,
): void {
	const { p } = board;
	const at = placesAt(film, ms);
	const drawn = shown(board, film, at, ms);
	for (const [who, d] of drawn) {
		const place = at[who];
		if (place === undefined) continue;
		const true_ = p.toScreen(fromPlace(place));
		const was = off.get(who) ?? { x: d.x - true_.x, y: d.y - true_.y };
		was.x += (d.x - true_.x - was.x) * glide;
		was.y += (d.y - true_.y - was.y) * glide;
		off.set(who, was);
		d.x = true_.x + was.x;
		d.y = true_.y + was.y;
	}
	board.drawn = drawn;
	svg.dataset.ms = ms.toFixed(0); // what is drawn now, for who compares screens
	for (const piece of svg.querySelectorAll<SVGGElement>(".piece")) {
		const d = drawn.get(piece.dataset.who ?? "");
		if (d !== undefined) piece.style.transform = `translate(${px(d.x)}px,${px(d.y)}px)`;
	}
	for (const tie of svg.querySelectorAll<SVGLineElement>("[data-tie]")) {
		const [by = "", on = ""] = (tie.dataset.tie ?? "").split(">");
		const a = drawn.get(by);
		const b = drawn.get(on);
		if (a === undefined || b === undefined) continue;
		tie.setAttribute("x1", px(a.x));
		tie.setAttribute("y1", px(a.y));
		tie.setAttribute("x2", px(b.x));
		tie.setAttribute("y2", px(b.y));
	}
	ballTo(svg, board, film, at, ms);
}

/** ballTo draws the ball at the side of who has it, or in the air with its way. */
function ballTo(
	svg: SVGSVGElement,
	{ p, drawn, r }: Drawn,
	film: Film,
	at: Record<string, Place>,
	ms: number,
): void {
	const ball = ballAt(film, ms);
	const left = flightAt(film, ms);
	const here = p.toScreen(fromPlace(ball));
	const to: Spot2 = { x: here.x, y: here.y };
	const flight = svg.querySelector(".flight");
	if (left === null) {
		const near = film.track.men
			.map((who) => ({
				who,
				far: Math.hypot((at[who]?.[0] ?? 0) - ball[0], (at[who]?.[1] ?? 0) - ball[1]),
			}))
			.sort((a, b) => a.far - b.far)[0];
		const hand = near !== undefined && near.far < IN_HAND ? drawn.get(near.who) : undefined;
		if (hand !== undefined) {
			to.x = hand.x + r * 0.85;
			to.y = hand.y + r * 0.85;
		}
		flight?.setAttribute("d", "");
	} else {
		const from = p.toScreen(fromPlace(left));
		flight?.setAttribute("d", `M${px(from.x)} ${px(from.y)}L${px(to.x)} ${px(to.y)}`);
	}
	svg
		.querySelector<SVGGElement>(".flies")
		?.setAttribute("transform", `translate(${px(to.x)} ${px(to.y)})`);
}
