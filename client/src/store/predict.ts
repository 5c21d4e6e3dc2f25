// What an operation of our own will most likely make of the state, so that it
// shows at once. Only what is plain is foreseen; the rest waits for the hub.
// A wrong guess does no harm: the confirmed state replaces it.
import { clampPlace } from "../field/ground.ts";
import type { Change, Moment, Motion, Op, Place, Rep, State } from "../wire/types.ts";

/** predict gives the expected change, or null if the hub alone can tell. */
export function predict(state: State, op: Op, member: string): Change | null {
	const change = foreseen(state, op, member);
	if (change === null || state.rep.play === "" || change.rep !== undefined) return change;
	// Whatever changes the board ends the rep.
	const { men, motion, call, ball, moment } = change;
	const board = [men, motion, call, ball, moment].some((part) => part !== undefined);
	return board || op.do === "place" ? { ...change, rep: noRep() } : change;
}

function foreseen(state: State, op: Op, member: string): Change | null {
	switch (op.do) {
		case "place":
			return op.who === undefined || op.at === undefined ? null : placed(state, op.who, op.at);
		case "motion":
			return sent(state, op);
		case "line": {
			const man = op.who === undefined ? undefined : state.men[op.who];
			return man === undefined || op.who === undefined
				? null
				: { men: { [op.who]: { ...man, line: op.on ?? false } } };
		}
		case "call":
			return op.call === undefined ? null : { call: op.call };
		case "ball":
			return op.ball === undefined ? null : { ball: op.ball };
		case "title":
			return op.text === undefined ? null : { title: op.text };
		case "floor":
			return op.mode === "coach" || op.mode === "own" || op.mode === "all"
				? { floor: op.mode }
				: null;
		case "door":
			return op.mode === "open" || op.mode === "knock" || op.mode === "closed"
				? { door: op.mode }
				: null;
		case "hide":
			return { hidden: op.on ?? false, committed: [] };
		case "thaw":
			return state.moment.play === "" ? null : { moment: noMoment() };
		case "set":
			return { rep: noRep(), moment: noMoment() };
		case "stop": {
			const { rep } = state;
			if (rep.play === "" || op.ms === undefined) return null;
			const at = Math.min(Math.max(op.ms, rep.from), rep.until);
			const speed = (["walk", "half", "full"] as const).find((m) => m === op.mode) ?? rep.speed;
			return { rep: { ...rep, at, speed, since: 0 } };
		}
		case "late": {
			const { who, on } = op;
			if (who === undefined || state.moment.play === "") return null;
			const others = state.moment.late.filter((w) => w !== who);
			return { moment: { ...state.moment, late: on ? [...others, who] : others } };
		}
		case "hold":
			return op.spot === undefined ? null : held(state, op.spot, member);
		case "letgo": {
			const mine = spotOf(state, member);
			const spot = mine === null ? undefined : state.spots[mine];
			return mine === null || spot === undefined
				? null
				: { spots: { [mine]: { ...spot, by: "" } } };
		}
		case "give":
			return op.spot === undefined ? null : held(state, op.spot, op.member ?? "");
		default:
			return null;
	}
}

/** spotOf is the spot a member holds, or null. */
export function spotOf(state: State, member: string): string | null {
	if (member === "") return null;
	for (const [label, spot] of Object.entries(state.spots)) if (spot.by === member) return label;
	return null;
}

/** placesOf is where everybody stands now: in the frozen moment if there is one. */
export function placesOf(state: State): Record<string, Place> {
	const all: Record<string, Place> = {};
	for (const [who, man] of Object.entries(state.men)) all[who] = man.at;
	for (const [who, spot] of Object.entries(state.spots)) all[who] = spot.at;
	return state.moment.play === "" ? all : { ...all, ...state.moment.places };
}

function placed(state: State, who: string, to: Place): Change | null {
	const at = clampPlace(state.ball, to);
	if (state.moment.play !== "") {
		const { [who]: _, ...makes } = state.moment.makes;
		return { moment: { ...state.moment, places: { ...state.moment.places, [who]: at }, makes } };
	}
	const man = state.men[who];
	if (man !== undefined) {
		const ends = state.motion.who === who;
		return { men: { [who]: { ...man, at } }, ...(ends ? { motion: nobody() } : {}) };
	}
	const spot = state.spots[who];
	return spot === undefined ? null : { spots: { [who]: { ...spot, at } } };
}

const noMoment = (): Moment => ({
	play: "",
	carrier: "",
	places: {},
	blocks: [],
	late: [],
	makes: {},
});
const noRep = (): Rep => ({
	play: "",
	errors: {},
	lane: 0,
	seed: 0,
	from: 0,
	until: 0,
	speed: "",
	at: 0,
	since: 0,
});
const nobody = (): Motion => ({ who: "", from: [0, 0], to: [0, 0], line: false });

/**
 * sent puts a man in motion, or the man in motion back where he was. Whether one
 * who is set again is on the line is the hub's to say.
 */
function sent(state: State, { who = "", at: to, kind, via }: Op): Change | null {
	const { motion } = state;
	if (who === "") {
		if (motion.who === "") return null;
		return { motion: nobody(), men: { [motion.who]: { at: motion.from, line: motion.line } } };
	}
	const man = state.men[who];
	if (man === undefined || to === undefined || kind === "shift" || kind === "return") return null;
	const start = motion.who === who ? motion : { from: man.at, line: man.line };
	return {
		motion: {
			who,
			from: start.from,
			to,
			line: start.line,
			...(kind === undefined ? {} : { kind }),
			...(via === undefined ? {} : { via }),
		},
		men: { [who]: { at: to, line: false } },
	};
}

function held(state: State, label: string, member: string): Change | null {
	const spot = state.spots[label];
	if (spot === undefined) return null;
	const before = spotOf(state, member);
	const old = before === null ? undefined : state.spots[before];
	return {
		spots: {
			...(before === null || old === undefined ? {} : { [before]: { ...old, by: "" } }),
			[label]: { ...spot, by: member },
		},
	};
}
