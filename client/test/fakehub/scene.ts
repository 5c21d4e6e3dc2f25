// One board for tests and for looking at screens: two receivers to the right
// and three men against them. Invented people.
import type {
	BookOut,
	Fact,
	Roster,
	SpotAnswer,
	State,
	Verdicts,
	Welcome,
} from "../../src/wire/types.ts";

const yd = (x: number, y: number): [number, number] => [Math.round(x * 36), Math.round(y * 36)];

export const emptyMoment = () => ({
	play: "",
	carrier: "",
	places: {},
	blocks: [],
	late: [],
	makes: {},
});

export const emptyRep = () => ({
	play: "",
	errors: {},
	lane: 0,
	seed: 0,
	from: 0,
	until: 0,
	speed: "" as const,
	at: 0,
	since: 0,
});

export function scene(): State {
	return {
		title: "Tuesday install",
		book: "herons",
		ball: { rules: "nfhs", hash: "left", yard: 42 },
		side: "right",
		look: "twins-right",
		call: "two-read",
		men: {
			SN: { at: [0, 0], line: true },
			Q: { at: yd(0, -5), line: false },
			B: { at: yd(1.5, -5), line: false },
			H: { at: yd(9, -1), line: false },
			Z: { at: yd(18, -0.3), line: true },
		},
		spots: {
			N: { at: yd(8.5, 4.2), by: "m2", man: "22" },
			C: { at: yd(19, 7), by: "m3", man: "4" },
			FS: { at: yd(7, 10.5), by: "", man: "7" },
		},
		motion: { who: "", from: [0, 0], to: [0, 0], line: false },
		moment: emptyMoment(),
		rep: emptyRep(),
		floor: "own",
		hidden: false,
		committed: [],
		door: "open",
		members: {
			m1: { role: "coach", in: true },
			m2: { role: "player", in: true },
			m3: { role: "player", in: true },
		},
	};
}

export const roster = (): Roster => ({
	people: [
		{ member: "m1", name: "Coach", number: "", role: "coach", in: true, here: true, spot: "" },
		{ member: "m2", name: "Rui", number: "22", role: "player", in: true, here: true, spot: "N" },
		{ member: "m3", name: "Bly", number: "4", role: "player", in: true, here: true, spot: "C" },
		{ member: "m4", name: "Tam", number: "51", role: "player", in: false, here: true, spot: "" },
	],
	code: "7KQ4RM",
	link: "http://board.test:8080/#join=7KQ4RM",
});

export function answer(spot: string, over: Partial<SpotAnswer> = {}): SpotAnswer {
	return {
		spot,
		half: "right",
		rule: {
			verdict: "right",
			landmark: "#2",
			side: "inside",
			move: [0, 0],
			box: [6 * 36, 4 * 36, 8 * 36, 6 * 36],
			because: "apex out to 1 inside #2, 4 to 6 deep",
		},
		leverage: {
			keeps: "yes",
			margin_s: 0.27,
			margin_yd: 1.8,
			against: "toss",
			race: "hat",
			by: "H",
			because: "he holds the inside point 0.27 s before H can seal it",
		},
		fix: { move: [0, 0], say: "stay" },
		assignment: {
			align: "5 deep, apex out to 1 inside #2",
			eyes: "tackle, then #2, then back",
			fit: "cutback",
			block: "inside hat on #2",
			pass: "#2: wall him to 8-10",
			plays: ["toss, swing: hat inside on #2"],
			rules: ["#2: wall him to 8-10", "#2 out: look for #3 out"],
			hat: "inside",
			key: "H",
			on: "H",
		},
		pocket: null,
		...over,
	};
}

export function verdicts(over: Partial<Verdicts> = {}): Verdicts {
	return {
		on: 1,
		live: false,
		look: { legal: true, violations: [], notes: [], numbers: { right: ["Z", "H"], left: [] } },
		spots: { N: answer("N") },
		signs: { N: "yes", C: "yes", FS: "contested" },
		lanes: [],
		sound: true,
		faults: [],
		...over,
	};
}

export const welcome = (over: Partial<Welcome> = {}): Welcome => ({
	v: 1,
	session: "s1",
	member: "m2",
	role: "player",
	epoch: "e1",
	seq: 1,
	chain: "00000000000000aa",
	state: scene(),
	counter: 0,
	t: 1000,
	...over,
});

export const fact = (seq: number, set: Fact["set"], over: Partial<Fact> = {}): Fact => ({
	seq,
	chain: seq.toString(16).padStart(16, "0"),
	do: "place",
	set,
	...over,
});

export const book = (): BookOut => ({
	name: "Herons",
	looks: [
		{
			id: "twins-right",
			name: "Twins right, left hash",
			side: "right",
			ball: { rules: "nfhs", hash: "left", yard: 42 },
			men: scene().men,
			menu: ["toss", "bubble", "now"],
		},
		{
			id: "twins-left",
			name: "Twins left, right hash",
			side: "left",
			ball: { rules: "nfhs", hash: "right", yard: 42 },
			men: Object.fromEntries(
				Object.entries(scene().men).map(([k, m]) => [
					k,
					{ ...m, at: [-m.at[0] + 0, m.at[1]] as [number, number] },
				]),
			),
			menu: ["toss", "bubble"],
		},
		{
			id: "tight-right",
			name: "Tight right, middle",
			side: "right",
			ball: { rules: "nfhs", hash: "middle", yard: 35 },
			men: scene().men,
			menu: ["toss", "crack"],
		},
	],
	calls: [
		{
			id: "two-read",
			name: "Two-read",
			spots: [
				{ spot: "N", label: "N", name: "Nickel" },
				{ spot: "C", label: "C", name: "Corner" },
				{ spot: "FS", label: "FS", name: "Free safety" },
			],
		},
		{
			id: "quarters",
			name: "Quarters",
			spots: [
				{ spot: "N", label: "N", name: "Nickel" },
				{ spot: "C", label: "C", name: "Corner" },
				{ spot: "FS", label: "FS", name: "Free safety" },
			],
		},
	],
	plays: [
		{ id: "toss", name: "Toss", kind: "toss" },
		{ id: "bubble", name: "Bubble", kind: "bubble" },
		{ id: "now", name: "Now", kind: "now" },
		{ id: "crack", name: "Crack", kind: "toss" },
	],
	squad: [
		{ number: "22", name: "Rui", spot: "N" },
		{ number: "4", name: "Bly", spot: "C" },
		{ number: "7", name: "Ode", spot: "FS" },
	],
	caution:
		"Head up, never lead with the helmet. Walk-through is air. A player with a suspected head injury is out until a licensed professional clears him.",
});
