// From a seat to what its board draws.
import type { BoardScene, DefenseMan, OffenseMan } from "../board/scene.ts";
import { sideOf } from "../field/ground.ts";
import type { Eyes } from "../field/projection.ts";
import { halves, placeWords } from "../field/words.ts";
import { HEAD } from "../say/answers.ts";
import { sayHolder } from "../say/people.ts";
import { blocksAt, placesAt } from "../store/film.ts";
import { placesOf } from "../store/predict.ts";
import type { Place, SpotAnswer, State, Verdicts } from "../wire/types.ts";
import type { Seat } from "./seat.ts";

export interface SceneWish {
	readonly eyes: Eyes;
	readonly selected: string | null;
	/** Splits beside the numbers, holders under the discs. */
	readonly full: boolean;
}

/** boardScene is null before there is a state. */
export function boardScene(seat: Seat, wish: SceneWish): BoardScene | null {
	const s = seat.state.value;
	if (s === null) return null;
	const { verdicts, roster, role } = seat.link.model.value;
	const frozen = s.moment.play !== "";
	const { reel } = seat;
	const film = reel.film.value;
	const stage = reel.stage.value;
	const runs = s.rep.play !== "";
	const ms = reel.now();
	const places =
		film === null ? seat.places.value : { ...seat.places.value, ...placesAt(film, ms) };
	// What is true of the alignment says nothing once the ball is snapped.
	const alive = frozen || runs;
	const over = runs && stage?.over === true;
	const faults = frozen ? verdicts?.faults : over ? film?.track.faults : undefined;
	const me = role === "player" ? seat.spot.value : null;
	const focus = wish.selected ?? me;
	const answer = focus === null || keptBack(s, focus, role) ? undefined : verdicts?.spots[focus];
	const holder = (label: string) =>
		roster.people.find((p) => p.spot === label && p.role === "player");
	const men: OffenseMan[] = Object.keys(s.men).map((who) => {
		const number = numberOf(verdicts, who);
		const at = places[who];
		return {
			who,
			number,
			aside: wish.full && !alive && number > 0 && at !== undefined ? halves(at[0]) : "",
			moving: s.motion.who === who && !alive,
		};
	});
	const spots: DefenseMan[] = Object.keys(s.spots).map((who) => {
		const kept = keptBack(s, who, role);
		const full = kept ? undefined : verdicts?.spots[who];
		const fault = faults?.findIndex((f) => f.who === who) ?? -1;
		const mine = who === me;
		const person = holder(who);
		const hat = full?.assignment.hat;
		const move = full?.fix.move;
		return {
			who,
			text: mine && person !== undefined && person.number !== "" ? person.number : who,
			under: mine || alive ? "" : wish.full ? (person?.number ?? "") : "",
			sign: alive
				? fault >= 0
					? "no"
					: null
				: kept
					? null
					: (full?.leverage.keeps ?? verdicts?.signs[who] ?? null),
			half: full?.half ?? sideOf(s.spots[who]?.at[0] ?? 0, s.side),
			hat: hat === undefined || hat === "either" || over ? null : hat,
			fix: alive || move === undefined || (move[0] === 0 && move[1] === 0) ? null : move,
			flag: fault + 1,
			going: frozen ? (s.moment.makes[who]?.going ?? null) : null,
			late: frozen && s.moment.late.includes(who),
		};
	});
	return {
		ball: s.ball,
		side: (me === null ? undefined : verdicts?.spots[me]?.half) ?? s.side,
		eyes: wish.eyes,
		men,
		spots,
		places,
		settled: film === null ? settledPlaces(s) : [...settledPlaces(s), ...film.bounds],
		running: film === null ? null : reel.on(film),
		blocks: frozen ? s.moment.blocks : film === null ? [] : blocksAt(film, ms),
		lanes: frozen ? (verdicts?.lanes ?? []) : (stage?.lanes?.lanes ?? []),
		takes: stage?.lanes?.takes ?? -1,
		me,
		selected: wish.selected,
		held: seat.hands.held.value?.who ?? null,
		key: keyOf(answer, alive, focus === null ? undefined : stage?.owners?.of[focus]),
		box: alive || answer === undefined ? null : answer.rule.box,
		pocket: alive || wish.full ? null : (answer?.pocket ?? null),
		motion: s.motion.who === "" || alive ? null : s.motion,
		pointed: seat.pointed.value,
		stale: seat.stale.value,
		edges: role === "coach",
		describe: (who) => describe(who, s, places, verdicts, holder(who)?.name ?? ""),
	};
}

/** keyOf is whom the man in focus reads before the snap, and has in a rep. */
function keyOf(
	answer: SpotAnswer | undefined,
	alive: boolean,
	has: string | undefined,
): string | null {
	const who = alive ? has : answer?.assignment.key;
	return who === undefined || who === "" ? null : who;
}

/**
 * keptBack tells whether a spot's answer must not show yet: with hidden answers
 * only the coach sees them before the player has committed.
 */
export const keptBack = (s: State, label: string, role: string): boolean =>
	s.hidden && role !== "coach" && s.moment.play === "" && !s.committed.includes(label);

/** settledPlaces chooses the drawn part: the alignment, and the moment if one is frozen. */
function settledPlaces(s: State): Place[] {
	const before = placesOf({ ...s, moment: { ...s.moment, play: "" } });
	const all = Object.values(before);
	if (s.moment.play !== "") all.push(...Object.values(s.moment.places));
	if (s.motion.who !== "") all.push(s.motion.to);
	return all;
}

/** numberOf is a receiver's number on his side, 0 if he is none. */
export function numberOf(v: Verdicts | null, tag: string): number {
	if (v === null) return 0;
	const { right, left } = v.look.numbers;
	return Math.max(right.indexOf(tag), left.indexOf(tag)) + 1;
}

/** describe puts one man into words, for screen readers and the board in words. */
export function describe(
	who: string,
	s: State,
	places: Readonly<Record<string, Place>>,
	v: Verdicts | null,
	holder: string,
): string {
	const at = places[who];
	const where = at === undefined ? "" : placeWords(at, s.side);
	const number = numberOf(v, who);
	const parts = [who];
	if (who in s.spots) parts.push(sayHolder(holder));
	if (number > 0) parts.push(`number ${number}`);
	parts.push(where);
	const sign = v?.spots[who]?.leverage.keeps ?? v?.signs[who];
	const fault = s.moment.play === "" ? undefined : v?.faults.find((f) => f.who === who);
	if (fault !== undefined) parts.push(`at fault: ${fault.because}`);
	else if (sign !== undefined && s.moment.play === "") parts.push(HEAD[sign].toLowerCase());
	return parts.filter((t) => t !== "").join(", ");
}
