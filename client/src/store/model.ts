// All that a device knows of its session from the hub, as one value that is
// never changed in place. reduce is pure: the same frames give the same model.
import type {
	Down,
	Drag,
	Fact,
	Place,
	Point,
	Roster,
	State,
	Track,
	Verdicts,
} from "../wire/types.ts";
import { applyChange } from "./change.ts";

export interface SeenPoint {
	readonly point: Point;
	/** When it came, in the clock's milliseconds. */
	readonly at: number;
}

export interface Model {
	readonly session: string;
	readonly member: string;
	readonly role: "coach" | "player" | "wall";
	readonly epoch: string;
	readonly seq: number;
	readonly chain: string;
	/** What is settled; null before the first welcome and while waiting to be let in. */
	readonly state: State | null;
	/** Men under somebody else's finger. */
	readonly drags: Readonly<Record<string, Place>>;
	readonly verdicts: Verdicts | null;
	/** When the verdicts came, in the clock's milliseconds. */
	readonly judgedAt: number;
	/** The track of the rep that is shown. */
	readonly track: Track | null;
	readonly roster: Roster;
	readonly points: readonly SeenPoint[];
	/** A fact is missing: only a whole state helps. */
	readonly torn: boolean;
}

export const nothing: Model = {
	session: "",
	member: "",
	role: "player",
	epoch: "",
	seq: 0,
	chain: "",
	state: null,
	drags: {},
	verdicts: null,
	judgedAt: 0,
	track: null,
	roster: { people: [] },
	points: [],
	torn: false,
};

/** A pointed-at place is shown for this long. */
export const POINT_MS = 4000;

/** reduce gives the model after a frame that came at a time of the clock. */
export function reduce(model: Model, frame: Down, at: number): Model {
	let m = model;
	const w = frame.welcome;
	if (w !== undefined) {
		const goesOn = w.state === undefined && w.epoch === m.epoch && w.session === m.session;
		m = {
			...m,
			session: w.session,
			member: w.member,
			role: w.role,
			epoch: w.epoch,
			seq: w.seq,
			chain: w.chain,
			state: w.state ?? (goesOn ? m.state : null),
			verdicts: goesOn ? m.verdicts : null,
			track: goesOn ? m.track : null,
			drags: {},
			torn: false,
		};
	}
	for (const fact of frame.facts ?? []) m = step(m, fact);
	if (frame.drags !== undefined) m = { ...m, drags: dragged(m, frame.drags) };
	if (frame.verdicts !== undefined) m = { ...m, verdicts: frame.verdicts, judgedAt: at };
	if (frame.rep !== undefined && frame.rep.play === m.state?.rep.play) {
		m = { ...m, track: frame.rep };
	}
	if (frame.roster !== undefined) m = { ...m, roster: frame.roster };
	if (frame.points !== undefined) {
		const fresh = m.points.filter((p) => at - p.at < POINT_MS);
		m = { ...m, points: [...fresh, ...frame.points.map((point) => ({ point, at }))].slice(-8) };
	}
	return m;
}

function step(m: Model, fact: Fact): Model {
	if (fact.seq <= m.seq || m.torn) return m;
	if (fact.seq !== m.seq + 1 || m.state === null) return { ...m, torn: true };
	const state = applyChange(m.state, fact.set);
	return {
		...m,
		seq: fact.seq,
		chain: fact.chain,
		state,
		track: state.rep.play === "" ? null : m.track,
		drags: settled(m.drags, fact),
	};
}

/** settled drops the drags that a fact has overtaken. */
function settled(drags: Model["drags"], fact: Fact): Model["drags"] {
	const { moment, look, rep } = fact.set;
	if (moment !== undefined || look !== undefined || (rep?.play ?? "") !== "") return {};
	const touched = [...Object.keys(fact.set.men ?? {}), ...Object.keys(fact.set.spots ?? {})];
	if (!touched.some((who) => who in drags)) return drags;
	return Object.fromEntries(Object.entries(drags).filter(([who]) => !touched.includes(who)));
}

function dragged(m: Model, news: readonly Drag[]): Model["drags"] {
	const others = news.filter((d) => d.by !== m.member || m.member === "");
	return others.length === 0
		? m.drags
		: { ...m.drags, ...Object.fromEntries(others.map((d) => [d.who, d.at])) };
}
