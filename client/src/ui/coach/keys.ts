// One table of keys: what they do, and how the sheet words them.

import type { Desk } from "./desk.ts";
import { SEARCH } from "./Looks.tsx";
import { SPEEDS, STEP_MS } from "./transport.ts";

interface Key {
	readonly keys: readonly string[];
	readonly shown: string;
	readonly say: string;
	readonly run: (desk: Desk, key: string) => void;
}

const floors = ["coach", "own", "all"] as const;
const doors = ["open", "knock", "closed"] as const;
const after = <T>(list: readonly T[], now: T): T | undefined =>
	list[(list.indexOf(now) + 1) % list.length];

export const KEYS: readonly Key[] = [
	{
		keys: ["/"],
		shown: "/",
		say: "find a look",
		run: () => document.getElementById(SEARCH)?.focus(),
	},
	{ keys: ["]"], shown: "]", say: "next look", run: (d) => d.nextLook(1) },
	{ keys: ["["], shown: "[", say: "look before", run: (d) => d.nextLook(-1) },
	{
		keys: ["1", "2", "3", "4", "5", "6", "7", "8", "9"],
		shown: "1 … 9",
		say: "call of that place in the list",
		run: (d, key) => {
			const c = d.calls.value[Number(key) - 1];
			if (c !== undefined) d.call(c.id);
		},
	},
	{ keys: ["c"], shown: "c", say: "toggle to the call before", run: (d) => d.backCall() },
	{
		keys: ["f"],
		shown: "f",
		say: "freeze the chosen play, or back to the alignment",
		run: (d) => (d.frozen.value ? d.thaw() : d.freeze()),
	},
	{
		keys: ["g"],
		shown: "g",
		say: "next play",
		run: (d) => {
			const { menu, others } = d.plays.value;
			const ids = [...menu, ...others].map((p) => p.id);
			const next = after(ids, d.play);
			if (next !== undefined) d.choose(next);
		},
	},
	{ keys: ["n"], shown: "n", say: "snap the chosen play", run: (d) => d.snap() },
	{
		keys: ["r"],
		shown: "r",
		say: "freeze the rep where it is, or let it roll",
		run: (d) => d.transport.roll(),
	},
	{
		keys: [",", "."],
		shown: ", .",
		say: "a tenth of a second back, on; arrows do the same in a rep",
		run: (d, key) => d.transport.step(key === "." ? STEP_MS : -STEP_MS),
	},
	{
		keys: ["w"],
		shown: "w",
		say: "speed: walk, half, full",
		run: (d) => d.transport.setSpeed(after(SPEEDS, d.transport.speed) ?? "full"),
	},
	{
		keys: ["e"],
		shown: "e",
		say: "next rule that the man in hand breaks (in a rep)",
		run: (d) => {
			const who = d.selected.value ?? "";
			const { reel } = d.seat;
			const rules = ["", ...(reel.film.value?.track.breaks[who] ?? [])];
			const next = after(rules, reel.rep.value?.errors[who] ?? "");
			if (rules.length > 1 && next !== undefined) d.transport.breaks(who, next);
		},
	},
	{ keys: ["u"], shown: "u", say: "set: everybody back", run: (d) => d.transport.set() },
	{ keys: ["s"], shown: "s", say: "other side of the ball", run: (d) => d.otherSide() },
	{ keys: ["v"], shown: "v", say: "turn the view", run: (d) => d.turn() },
	{ keys: ["m"], shown: "m", say: "motion of the man in hand", run: (d) => d.motion() },
	{
		keys: ["b"],
		shown: "b",
		say: "whom the man in hand blocks (frozen)",
		run: (d) => {
			const who = d.selected.value;
			if (d.frozen.value && who !== null && who in (d.seat.state.value?.men ?? {}))
				d.mode.value = "block";
		},
	},
	{
		keys: ["o"],
		shown: "o",
		say: "man in hand on or off the line",
		run: (d) => {
			const who = d.selected.value;
			const man = who === null ? undefined : d.seat.state.value?.men[who];
			if (who !== null && man !== undefined) d.do({ do: "line", who, on: !man.line });
		},
	},
	{ keys: ["t"], shown: "t", say: "man in hand too late to count (frozen)", run: (d) => d.late() },
	{ keys: ["p"], shown: "p", say: "point at the man in hand", run: (d) => d.point() },
	{
		keys: ["l"],
		shown: "l",
		say: "line up the man in hand, or all free men",
		run: (d) => {
			const who = d.selected.value;
			const spot = who !== null && who in (d.seat.state.value?.spots ?? {});
			d.do(spot ? { do: "lineup", who } : { do: "lineup" });
		},
	},
	{
		keys: ["x"],
		shown: "x",
		say: "who may move men: me, own man, everybody",
		run: (d) => {
			const mode = after(floors, d.seat.state.value?.floor ?? "own");
			if (mode !== undefined) d.do({ do: "floor", mode });
		},
	},
	{
		keys: ["h"],
		shown: "h",
		say: "hide or show answers",
		run: (d) => d.do({ do: "hide", on: !(d.seat.state.value?.hidden ?? false) }),
	},
	{
		keys: ["d"],
		shown: "d",
		say: "door: open, knock, closed",
		run: (d) => {
			const mode = after(doors, d.seat.state.value?.door ?? "open");
			if (mode !== undefined) d.do({ do: "door", mode });
		},
	},
	{
		keys: ["a"],
		shown: "a",
		say: "let everybody at the door in",
		run: (d) => {
			for (const p of d.seat.link.model.value.roster.people) {
				if (p.role === "player" && !p.in) d.do({ do: "admit", member: p.member });
			}
		},
	},
	{ keys: ["z"], shown: "z", say: "undo", run: (d) => d.seat.acts.undo() },
	{ keys: ["y"], shown: "y", say: "redo", run: (d) => d.seat.acts.redo() },
	{
		keys: ["Escape"],
		shown: "Esc",
		say: "put the man down, close this sheet",
		run: (d) => {
			d.keysShown.value = false;
			d.select(null);
		},
	},
	{
		keys: ["?"],
		shown: "?",
		say: "this sheet",
		run: (d) => {
			d.keysShown.value = !d.keysShown.value;
		},
	},
];

const ARROWS: Record<string, readonly [number, number]> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, -1],
	ArrowDown: [0, 1],
};

/** onKey acts on a key that no field or button has a use for. */
export function onKey(e: KeyboardEvent, desk: Desk): void {
	const t = e.target;
	if (
		t instanceof HTMLInputElement ||
		t instanceof HTMLSelectElement ||
		e.altKey ||
		e.defaultPrevented
	)
		return;
	if (e.ctrlKey || e.metaKey) {
		if (e.key.toLowerCase() !== "z") return;
		e.preventDefault();
		if (e.shiftKey) desk.seat.acts.redo();
		else desk.seat.acts.undo();
		return;
	}
	const way = ARROWS[e.key];
	if (way !== undefined && way[0] !== 0 && desk.seat.reel.rep.value !== null) {
		e.preventDefault();
		desk.transport.step(way[0] * STEP_MS);
		return;
	}
	const who = desk.selected.value;
	if (way !== undefined) {
		if (who === null) return;
		e.preventDefault();
		desk.step(who, way[0], way[1], e.shiftKey);
		return;
	}
	const key = KEYS.find((k) => k.keys.includes(e.key) || k.keys.includes(e.key.toLowerCase()));
	if (key === undefined) return;
	e.preventDefault();
	key.run(desk, e.key);
}
