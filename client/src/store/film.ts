// A rep as it can be looked up at any time: where everybody is, who blocks
// whom, which lanes there are, where the ball flies. Times are milliseconds
// after the snap, places inches from the ball's spot.
import type { Block, Place, Rep, Track, TrackLanes, TrackOwners } from "../wire/types.ts";

interface Span {
	readonly from: number;
	readonly until: number;
}

interface Tie extends Span, Block {}

/** A ball in the air, and where it left the hand. */
interface Flight extends Span {
	readonly place: Place;
}

export interface Film {
	readonly track: Track;
	/** By tag or label, x and y at every key. */
	readonly ways: ReadonlyMap<string, readonly number[]>;
	readonly ball: readonly number[];
	readonly ties: readonly Tie[];
	readonly flights: readonly Flight[];
	/** Two corners of what is walked on. */
	readonly bounds: readonly [Place, Place];
}

/** develop unpacks a track. */
export function develop(track: Track): Film {
	const ways = new Map<string, readonly number[]>();
	for (const [i, who] of [...track.men, ...track.spots].entries()) {
		ways.set(who, summed(track.keys[i] ?? [0, 0]));
	}
	const ball = summed(track.ball);
	const half = { track, ways, ball, ties: tiesOf(track) };
	return { ...half, flights: flightsOf(track, ball), bounds: boundsOf([...ways.values(), ball]) };
}

/** summed turns a first place and changes into places. */
function summed(deltas: readonly number[]): number[] {
	const out: number[] = [];
	for (const [i, d] of deltas.entries()) out.push(d + (out[i - 2] ?? 0));
	return out;
}

function boundsOf(ways: readonly (readonly number[])[]): [Place, Place] {
	const least: Place = [0, 0];
	const most: Place = [0, 0];
	for (const way of ways) {
		for (const [i, v] of way.entries()) {
			const axis = (i % 2) as 0 | 1;
			least[axis] = Math.min(least[axis], v);
			most[axis] = Math.max(most[axis], v);
		}
	}
	return [least, most];
}

/** tiesOf reads from the events who blocks whom, and until when. */
function tiesOf(track: Track): Tie[] {
	const ties: Tie[] = [];
	const over = (of: (t: Block) => boolean, at: number) => {
		for (const [i, t] of ties.entries()) {
			if (t.until === Number.POSITIVE_INFINITY && of(t)) ties[i] = { ...t, until: at };
		}
	};
	for (const e of track.events) {
		const pair = [e.who ?? "", e.to ?? ""];
		const by = pair.find((w) => track.men.includes(w));
		const on = pair.find((w) => track.spots.includes(w));
		if (e.what === "block" && by !== undefined && on !== undefined) {
			over((t) => t.by === by, e.t);
			ties.push({ by, on, from: e.t, until: Number.POSITIVE_INFINITY });
		} else if (e.what === "shed" && on !== undefined) {
			over((t) => t.on === on && (by === undefined || t.by === by), e.t);
		}
	}
	return ties;
}

/** A ball is in the air from the hand until somebody has it, or nobody will. */
const DOWN = ["catch", "broken up", "no throw", "out of bounds"];

function flightsOf(track: Track, ball: readonly number[]): Flight[] {
	return track.events.flatMap((e, i) => {
		if (e.what !== "ball") return [];
		const end = track.events.slice(i + 1).find((n) => DOWN.includes(n.what));
		return [{ from: e.t, until: end?.t ?? track.end.t, place: along(track, ball, e.t) }];
	});
}

/** along is a place on a way: straight and at an even pace between two keys. */
function along(track: Track, way: readonly number[], ms: number): Place {
	const last = way.length / 2 - 1;
	const at = Math.min(Math.max((ms - track.from) / track.step, 0), last);
	const k = Math.min(Math.floor(at), last - 1);
	if (last < 1) return [way[0] ?? 0, way[1] ?? 0];
	const part = at - k;
	const on = (axis: number) => {
		const a = way[2 * k + axis] ?? 0;
		const b = way[2 * k + 2 + axis] ?? a;
		return a + (b - a) * part;
	};
	return [on(0), on(1)];
}

/** placesAt is where everybody on the film is at a time. */
export function placesAt(film: Film, ms: number): Record<string, Place> {
	const out: Record<string, Place> = {};
	for (const [who, way] of film.ways) out[who] = along(film.track, way, ms);
	return out;
}

export const ballAt = (film: Film, ms: number): Place => along(film.track, film.ball, ms);

const during = <T extends Span>(list: readonly T[], ms: number): T[] =>
	list.filter((s) => s.from <= ms && ms < s.until);

/** blocksAt is who blocks whom at a time. */
export const blocksAt = (film: Film, ms: number): Block[] => during(film.ties, ms);

/** flightAt is where the ball left that is in the air at a time, or null. */
export const flightAt = (film: Film, ms: number): Place | null =>
	during(film.flights, ms)[0]?.place ?? null;

/** lanesAt is the lanes as they are at a time; null before there are any. */
export const lanesAt = (film: Film, ms: number): TrackLanes | null =>
	film.track.lanes.filter((l) => l.t <= ms).at(-1) ?? null;

/** ownersAt is who answers for whom at a time; null if nobody has anybody. */
export const ownersAt = (film: Film, ms: number): TrackOwners | null =>
	film.track.owners.filter((o) => o.t <= ms).at(-1) ?? null;

const SHARES: Record<string, number> = { walk: 0.25, half: 0.5, full: 1 };

/** repAt is where a rep is at the hub's time (W35). */
export function repAt(rep: Rep, hub: number | null): number {
	if (rep.since === 0 || hub === null || hub <= rep.since) return rep.at;
	const on = (hub - rep.since) * (SHARES[rep.speed] ?? 1);
	return Math.max(Math.min(rep.at + on, rep.until), rep.at);
}

export const isOver = (rep: Rep, ms: number): boolean => ms >= rep.until;
