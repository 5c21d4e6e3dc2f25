// A page for looking at screens without a server: the query says which.
// It is bundled by itself and never goes into the product.
import { render } from "preact";
import { Player } from "../../src/card/Player.tsx";
import type { Dial, Socket } from "../../src/sync/clock.ts";
import { browserClock } from "../../src/sync/clock.ts";
import { Coach } from "../../src/ui/Coach.tsx";
import { showTheme, theme } from "../../src/ui/device.ts";
import { Join } from "../../src/ui/Home.tsx";
import { Seat } from "../../src/ui/seat.ts";
import { Wall } from "../../src/ui/Wall.tsx";
import type { Down, SpotAnswer, Up } from "../../src/wire/types.ts";
import { memoryKeep } from "./clock.ts";
import { answer, book, emptyMoment, fact, roster, scene, verdicts, welcome } from "./scene.ts";

const ask = new URLSearchParams(location.search);
const view = ask.get("view") ?? "player";
const what = ask.get("case") ?? "keeps";
showTheme();
theme.value = ask.get("theme") === "room" ? "room" : "sun";
if (ask.get("text") === "200") document.documentElement.style.fontSize = "200%";

window.fetch = async (input: RequestInfo | URL) => {
	const body = String(input).startsWith("/api/qr")
		? {
				size: 21,
				path: "M0 0h7v7h-7zM14 0h7v7h-7zM0 14h7v7h-7zM9 2h3v3h-3zM9 9h4v4h-4zM15 15h4v2h-4z",
			}
		: book();
	return new Response(JSON.stringify(body), { status: 200 });
};

const base = answer("N");
const loses: SpotAnswer = {
	...base,
	rule: {
		...base.rule,
		verdict: "too-wide",
		because: "Apex out to 1 inside #2; he stands half a yard outside of that",
	},
	leverage: {
		...base.leverage,
		keeps: "no",
		margin_s: -0.18,
		because: "H seals the inside point 0.18 s before he can hold it",
	},
	fix: { move: [-54, 36], say: "1½ yd inside, 1 deeper" },
};
const contested: SpotAnswer = {
	...base,
	leverage: { ...base.leverage, keeps: "contested", margin_s: 0.04 },
	fix: { move: [-18, 0], say: "½ yd inside" },
};

const all = (n: SpotAnswer): Record<string, SpotAnswer> => ({
	N: n,
	C: {
		...answer("C"),
		rule: {
			...base.rule,
			box: [18 * 36, 5 * 36, 19.5 * 36, 8 * 36] as [number, number, number, number],
			side: "outside",
			landmark: "#1",
		},
		assignment: {
			...base.assignment,
			hat: "outside",
			key: "H",
			on: "Z",
			block: "outside hat on #1",
			fit: "force",
		},
	},
	FS: {
		...contested,
		spot: "FS",
		rule: {
			...base.rule,
			box: [5 * 36, 8 * 36, 9 * 36, 14 * 36] as [number, number, number, number],
		},
		leverage: { ...contested.leverage, race: "alley", by: "B" },
		assignment: { ...base.assignment, hat: "either", on: "", fit: "alley" },
	},
});

function frames(): Down {
	const s = scene();
	let v = verdicts();
	const role = view === "player" ? "player" : view === "wall" ? "wall" : "coach";
	let n = base;
	if (what === "loses") n = loses;
	if (what === "contested") n = contested;
	if (what === "nospot") s.spots.N = { at: s.spots.N?.at ?? [0, 0], by: "", man: "22" };
	if (what === "floor") s.floor = "coach";
	if (what === "hidden") s.hidden = true;
	if (what === "waiting") s.members.m2 = { role: "player", in: false };
	v.signs = { N: n.leverage.keeps, C: "yes", FS: "contested" };
	v.spots = role === "player" ? { N: n } : all(n);
	if (what === "frozen") {
		const yd = (x: number, y: number): [number, number] => [Math.round(x * 36), Math.round(y * 36)];
		s.moment = {
			...emptyMoment(),
			play: "toss",
			carrier: "B",
			places: {
				B: yd(5.5, -3.5),
				H: yd(7.5, 3.2),
				N: yd(8.3, 3.4),
				Z: yd(17.8, 4.6),
				C: yd(18.6, 5),
				FS: yd(10.8, 5),
				Q: yd(0.5, -5),
			},
			blocks: [
				{ by: "H", on: "N" },
				{ by: "Z", on: "C" },
			],
		};
		v = {
			...v,
			sound: false,
			lanes: [
				{
					n: 0,
					inside: "box",
					outside: "H on N",
					shut_by: "",
					fit_by: "",
					gain_yd: null,
					span: [4 * 36, 7.5 * 36],
				},
				{
					n: 1,
					inside: "H on N",
					outside: "Z on C",
					shut_by: "N",
					fit_by: "",
					gain_yd: null,
					span: [7.5 * 36, 17.8 * 36],
				},
				{
					n: 2,
					inside: "Z on C",
					outside: "sideline",
					shut_by: "N",
					fit_by: "",
					gain_yd: null,
					span: [17.8 * 36, 26.7 * 36],
				},
			],
			faults: [
				{
					who: "N",
					kind: "over-the-top",
					opens: 0,
					saved_by: "",
					cost_yd: 7.4,
					because:
						"his rule is the hat inside #2; from outside he shuts the lanes beyond and leaves the inside one to nobody",
				},
			],
		};
	}
	return {
		welcome: welcome({ role, member: role === "player" ? "m2" : "m1", state: s }),
		verdicts: v,
		roster: roster(),
	};
}

const dial: Dial = () => {
	const socket: Socket = {
		send: (text) => {
			const up = JSON.parse(text) as Up;
			if (up.hello !== undefined) {
				setTimeout(() => {
					socket.onmessage?.(JSON.stringify(frames()));
					if (what === "count") {
						const v = verdicts({ on: 2 });
						v.look.numbers.right = ["Z", "B", "H"];
						setTimeout(
							() =>
								socket.onmessage?.(
									JSON.stringify({
										facts: [fact(2, { men: { B: { at: [480, -80], line: false } } })],
										verdicts: {
											...v,
											spots: { N: { ...base, assignment: { ...base.assignment, key: "B" } } },
										},
									}),
								),
							50,
						);
					}
					if (what === "stale") setTimeout(() => socket.onclose?.(1006), 50);
				}, 5);
			}
		},
		close: () => undefined,
		onopen: null,
		onmessage: null,
		onclose: null,
	};
	let first = true;
	queueMicrotask(() => {
		if (first) socket.onopen?.();
		first = false;
	});
	return socket;
};
let dialled = 0;
const seat = new Seat(
	{ token: "t".repeat(40), key: "page" },
	{
		clock: browserClock,
		dial: () =>
			what === "stale" && dialled++ > 0
				? { send() {}, close() {}, onopen: null, onmessage: null, onclose: null }
				: dial(),
		keep: memoryKeep(),
		newId: () => "a".repeat(16),
		hidden: () => false,
	},
);
const root = document.getElementById("app");
if (root !== null) {
	const leave = () => undefined;
	if (view === "join") render(<Join code="7KQ4RM" joined={leave} coach={leave} />, root);
	if (view === "player") render(<Player seat={seat} leave={leave} />, root);
	if (view === "coach") render(<Coach seat={seat} session="s1" leave={leave} />, root);
	if (view === "wall") render(<Wall seat={seat} session="s1" />, root);
	if (view !== "join") seat.start();
}
