// A rep in words: what happens to one man while it rolls, how it ended, and
// what it cost.
import type { BookOut, FaultAnswer, Rep, Track, TrackEvent } from "../wire/types.ts";
import { type AnswerLine, capital, costSays, faultSays, playName, toHim } from "./answers.ts";

/** clock writes a time of a rep: "1.2 s", "−0.4 s". */
export const clock = (ms: number): string =>
	`${ms < -49 ? "−" : ""}${(Math.abs(ms) / 1000).toFixed(1)}\u00a0s`;

function yards(gain: number): string {
	const n = Math.round(gain) + 0;
	return n === 0 ? "no gain" : n > 0 ? String(n) : `a loss of ${-n}`;
}

function how({ end }: Track): string {
	const whom = end.caught === "" ? "" : `${end.caught} has it. `;
	switch (end.how) {
		case "out of bounds":
			return `${whom}Out of bounds for ${yards(end.gain_yd)}.`;
		case "no throw":
			return "Nobody to throw to.";
		case "broken up":
			return `${end.by === "" ? "The ball is broken up" : `${end.by} breaks it up`}.`;
		case "whistle":
			return "Whistle.";
	}
	if (end.how === "broke" || (end.broke && end.by === "")) return `${whom}Broke.`;
	if (end.broke) return `${whom}Broke, ${end.by} tackles after ${yards(end.gain_yd)}.`;
	if (end.by === "") return `${whom}Down for ${yards(end.gain_yd)}.`;
	const two = end.with === "" ? `${end.by} tackles` : `${end.by} and ${end.with} tackle`;
	return `${whom}${two} for ${yards(end.gain_yd)}.`;
}

/** faultLine words one fault: "N over the top opened lane 0, FS saved it." */
export function faultLine(f: FaultAnswer, saved = true): string {
	const what = `${f.who} ${faultSays(f.kind)}`;
	const opened = f.opens === null ? "" : ` opened lane\u00a0${f.opens}`;
	return `${what}${opened}${f.saved_by === "" || !saved ? "" : `, ${f.saved_by} saved it`}.`;
}

/** endSays is the answer of a whole rep, in one line. */
export function endSays(track: Track): string {
	const { end, faults } = track;
	const cause = faults.find((f) => f.opens !== null && f.opens === end.lane) ?? faults[0];
	const free = track.free.find((f) => f.free);
	const where =
		cause !== undefined
			? faultLine(cause, !end.broke)
			: free !== undefined
				? `${free.who} was free.`
				: end.lane >= 0
					? `Ball went to lane\u00a0${end.lane}.`
					: "";
	return `${how(track)} ${where}`.trim();
}

/** What an event is to the man who does it (who) or has it done to him (to). */
const DOES: Record<string, (e: TrackEvent) => string> = {
	bump: () => "Bump over",
	key: (e) => (e.to ? `${e.to} shows it: go` : "Your key shows it: go"),
	block: (e) => (e.to ? `Take on ${e.to}` : "Take on the block"),
	declare: () => "The ball has declared",
	shed: () => "Off the block",
	replace: () => "Replace the edge",
	match: (e) => (e.to ? `Take ${e.to}` : "Take your man"),
	"too early": () => "Too early, on the fake",
	tackle: () => "Tackle",
	"broken up": () => "Broken up",
};
const DONE: Record<string, (e: TrackEvent) => string> = {
	block: (e) => (e.who ? `${e.who} is on you` : "You are blocked"),
};

/** What everybody sees of an event, where nothing may be said of it. */
const SEEN: Record<string, (e: TrackEvent) => string> = {
	motion: (e) => `${e.who ?? "A man"} goes in motion`,
	snap: () => "Snap",
	ball: (e) => `Ball to ${e.to ?? "nobody"}`,
	catch: (e) => `${e.to ?? e.who ?? "A man"} has it`,
	commit: (e) => `The ball takes lane ${e.lane ?? "?"}`,
	cut: (e) => `The ball cuts to lane ${e.lane ?? "?"}`,
	tackle: (e) => `${e.who ?? "A man"} tackles`,
	broke: () => "Broke",
};

/** mine lists what of a rep is about one man, in order. */
export const mine = (track: Track, who: string, events: number): TrackEvent[] =>
	track.events
		.slice(0, events)
		.filter((e) => (e.who === who && e.what in DOES) || (e.to === who && e.what in DONE));

/** toMe turns a line of the staff about one man into words to him. */
function toMe(say: string, who: string): string {
	const mark = [`${who}: `, `${who} `].find((m) => say.startsWith(m)) ?? "";
	return toHim(say.slice(mark.length).replaceAll(` on ${who}`, " on you"));
}

/** eventSays words an event: the staff's line, or to one man what he does. */
export function eventSays(e: TrackEvent, who: string): string {
	const say = e.say ?? "";
	if (who === "") {
		const seen = SEEN[e.what];
		return say !== ""
			? capital(say)
			: (seen?.(e) ?? capital([e.who, e.what, e.to].filter((t) => t).join(" ")));
	}
	if (say !== "") return capital(toMe(say, who));
	const own = e.who === who ? DOES[e.what] : DONE[e.what];
	return own?.(e) ?? capital(e.what);
}

/** repSays names what is run: "Toss, half speed, N over the top". */
export function repSays(rep: Rep, book: BookOut | null): string {
	const parts = [playName(book, rep.play)];
	if (rep.speed === "walk") parts.push("walked");
	if (rep.speed === "half") parts.push("half speed");
	if (rep.lane >= 0) parts.push(`sent to lane ${rep.lane}`);
	for (const [spot, rule] of Object.entries(rep.errors)) parts.push(`${spot} ${faultSays(rule)}`);
	return parts.join(", ");
}

/** priceSays is what a fault cost in this rep: nothing is a price, too. */
export const priceSays = (f: FaultAnswer): string =>
	f.cost_yd === null
		? ""
		: f.cost_yd < 0.05
			? "cost nothing"
			: `cost ${f.cost_yd.toFixed(1)}\u00a0yd`;

function yourCost(f: FaultAnswer): string {
	const price = priceSays(f);
	return `${capital(toHim(f.because))}.${price === "" ? "" : ` It ${price}.`}`;
}

/** repLine is what the top of one defender's screen says while a rep is shown. */
export function repLine(
	track: Track | null,
	who: string,
	events: number,
	over: boolean,
	play: string,
	key: string,
): AnswerLine {
	const line = (head: string, sub: string, fix: string): AnswerLine => ({
		sign: null,
		head,
		sub,
		fix,
	});
	if (track === null) return line("Set", play, "");
	if (over) {
		const fault = track.faults.find((f) => f.who === who);
		const end = endSays(track);
		if (fault === undefined) return { ...line("Clean", "No fault of yours", end), sign: "yes" };
		return {
			sign: "no",
			head: capital(faultSays(fault.kind)),
			sub: fault.because === "" ? capital(costSays(fault)) : yourCost(fault),
			fix: end,
		};
	}
	const last = mine(track, who, events).at(-1);
	const ball = track.events.slice(0, events).at(-1);
	return line(
		last === undefined ? (key === "" ? "Eyes up" : `Eyes on ${key}`) : eventSays(last, who),
		play,
		ball === undefined ? "" : eventSays(ball, ""),
	);
}
