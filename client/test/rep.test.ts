import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { signal } from "@preact/signals";
import fc from "fast-check";
import { endSays, eventSays, faultLine, mine, repLine, repSays } from "../src/say/rep.ts";
import {
	ballAt,
	blocksAt,
	develop,
	flightAt,
	lanesAt,
	ownersAt,
	placesAt,
	repAt,
} from "../src/store/film.ts";
import { nothing, reduce } from "../src/store/model.ts";
import { predict } from "../src/store/predict.ts";
import { inverse } from "../src/store/undo.ts";
import { HubTime } from "../src/sync/hubtime.ts";
import { Reel } from "../src/ui/reel.ts";
import { readDown } from "../src/wire/decode.ts";
import type { Rep, State, Track } from "../src/wire/types.ts";
import { book, fact, scene, welcome } from "./fakehub/scene.ts";

/** The published example: what a hub sends a coach. */
function track(): Track {
	const text = readFileSync("../testdata/wire/v1/down-rep.json", "utf8");
	const t = readDown(text).rep;
	assert.ok(t !== undefined);
	return t;
}

const rep = (over: Partial<Rep> = {}): Rep => ({
	play: "toss",
	errors: {},
	lane: -1,
	seed: 0,
	from: 0,
	until: 2700,
	speed: "full",
	at: 0,
	since: 10_000,
	...over,
});

const running = (over: Partial<Rep> = {}): State => ({ ...scene(), rep: rep(over) });

test("the hub's time is the difference that was under way the shortest", () => {
	const t = new HubTime();
	assert.equal(t.at(500), null);
	t.hear(10_000, 0, 100); // 40 ms under way in truth: true difference 9,940
	assert.equal(t.at(100), 10_000);
	t.hear(12_000, 0, 2_000);
	assert.equal(t.at(2_000), 12_000);
	t.hear(14_000, 30, 4_001); // half of the way is known
	assert.equal(t.at(4_001), 14_016);
	for (let i = 0; i < 8; i++) t.hear(20_000 + i, 0, 11_000 + i);
	assert.equal(t.at(11_000), 20_015, "the last eight count");
	t.forget();
	assert.equal(t.at(0), null);
});

test("whatever the ways are, the hub's time is off by no more than half a way there and back", () => {
	const way = fc.record({
		there: fc.integer({ min: 0, max: 400 }),
		back: fc.integer({ min: 0, max: 400 }),
	});
	fc.assert(
		fc.property(
			fc.array(way, { minLength: 1, maxLength: 20 }),
			fc.integer({ min: -1e9, max: 1e9 }),
			(ways, truth) => {
				const t = new HubTime();
				let here = 0;
				let quickest = 0;
				let told = 0;
				for (const { there, back } of ways) {
					here += 2000;
					told = quickest;
					t.hear(here - there + truth, told, here); // it left so long ago
					const rtt = Math.max(there + back, 1);
					quickest = quickest === 0 ? rtt : Math.min(quickest, rtt);
				}
				const off = (t.at(here) ?? Number.NaN) - (here + truth);
				const last = ways.slice(-8);
				const least = Math.min(...last.map((w) => w.there));
				assert.equal(off, told / 2 - least, "late by the way there, less half of there and back");
				assert.ok(off <= told / 2);
			},
		),
	);
});

test("a rep is where the hub's time says, and ends by itself", () => {
	assert.equal(repAt(rep(), 9_000), 0, "not before it begins");
	assert.equal(repAt(rep(), 11_000), 1_000);
	assert.equal(repAt(rep({ speed: "half", at: 500 }), 11_000), 1_000);
	assert.equal(repAt(rep({ speed: "walk" }), 11_000), 250);
	assert.equal(repAt(rep(), 99_000), 2_700);
	assert.equal(repAt(rep({ at: 1_150, since: 0 }), 99_000), 1_150, "it stands");
	assert.equal(repAt(rep({ at: 7 }), null), 7, "no time was heard yet");
});

test("between two keys everybody goes straight, beyond them he stands", () => {
	const t = track();
	const film = develop(t);
	assert.deepEqual(placesAt(film, -500).B, [54, -180]);
	assert.deepEqual(placesAt(film, 0).B, [54, -180]);
	assert.deepEqual(placesAt(film, 900).B, [204, -160]);
	assert.deepEqual(placesAt(film, 450).B, [129, -170]);
	assert.deepEqual(placesAt(film, 2_700).B, [344, 180]);
	assert.deepEqual(placesAt(film, 9_000).B, [344, 180]);
	assert.deepEqual(placesAt(film, 9_000).SN, [0, 0]);
	assert.deepEqual(ballAt(film, 0), [0, -180]);
	assert.deepEqual(film.bounds, [
		[0, -180],
		[648, 378],
	]);
});

test("a way of any keys is the same at its keys, and never leaves them", () => {
	const inch = fc.integer({ min: -4320, max: 4320 });
	const way = fc.array(fc.tuple(inch, inch), { minLength: 1, maxLength: 40 });
	fc.assert(
		fc.property(way, fc.integer({ min: -5000, max: 9000 }), (places, ms) => {
			const deltas = places.flatMap(([x, y], i) => {
				const [px, py] = places[i - 1] ?? [0, 0];
				return [x - px, y - py];
			});
			const film = develop({
				...track(),
				from: -300,
				step: 100,
				men: ["A"],
				spots: [],
				keys: [deltas],
				ball: deltas,
			});
			for (const [i, at] of places.entries()) {
				assert.deepEqual(placesAt(film, -300 + i * 100).A, at);
			}
			const [x, y] = placesAt(film, ms).A ?? [Number.NaN, Number.NaN];
			const k = Math.min(Math.max(Math.floor((ms + 300) / 100), 0), places.length - 1);
			const [a, b] = [places[k], places[Math.min(k + 1, places.length - 1)]];
			assert.ok(a !== undefined && b !== undefined);
			assert.ok(x >= Math.min(a[0], b[0]) - 1e-6 && x <= Math.max(a[0], b[0]) + 1e-6);
			assert.ok(y >= Math.min(a[1], b[1]) - 1e-6 && y <= Math.max(a[1], b[1]) + 1e-6);
		}),
	);
});

test("blocks last from the contact until he is off, a ball flies until somebody has it", () => {
	const t = track();
	t.events.splice(6, 0, { t: 2_000, what: "shed", who: "N", to: "H" });
	const film = develop(t);
	assert.deepEqual(blocksAt(film, 1_249), []);
	assert.deepEqual(
		blocksAt(film, 1_250).map((b) => [b.by, b.on]),
		[["H", "N"]],
	);
	assert.deepEqual(blocksAt(film, 2_000), []);
	assert.equal(flightAt(film, 699), null);
	assert.deepEqual(flightAt(film, 1_000), ballAt(film, 700));
	assert.equal(flightAt(film, 1_150), null);
	assert.equal(lanesAt(film, 1_549), null);
	assert.equal(lanesAt(film, 1_550)?.takes, 0);
	assert.equal(ownersAt(film, -1), null);
	assert.equal(ownersAt(film, 0)?.of.N, "H");
});

test("the track stays as long as its rep, and no longer", () => {
	let m = reduce(nothing, { welcome: welcome() }, 0);
	m = reduce(m, { rep: track() }, 0);
	assert.equal(m.track, null, "there is no such rep");
	m = reduce(m, { facts: [fact(2, { rep: rep() })] }, 0);
	m = reduce(m, { rep: track() }, 0);
	assert.equal(m.track?.play, "toss");
	m = reduce(m, { facts: [fact(3, { rep: rep({ at: 900, since: 0 }) })] }, 0);
	assert.equal(m.track?.play, "toss");
	const { state: _, ...bare } = welcome({ seq: 3 });
	m = reduce(m, { welcome: bare }, 0);
	assert.equal(m.track?.play, "toss", "the link was away for a moment");
	m = reduce(m, { facts: [fact(4, { rep: scene().rep })] }, 0);
	assert.equal(m.track, null);
	m = reduce(m, { drags: [{ who: "N", at: [1, 2], by: "m9" }] }, 0);
	m = reduce(m, { facts: [fact(5, { rep: rep() })] }, 0);
	assert.deepEqual(m.drags, {}, "a snap takes men out of all hands");
});

test("what a coach does to a rep shows at once, as far as it is plain", () => {
	const s = running();
	assert.equal(predict(s, { do: "stop", ms: 99_000 }, "m1")?.rep?.at, 2_700);
	assert.equal(predict(s, { do: "stop", ms: 900, mode: "half" }, "m1")?.rep?.speed, "half");
	assert.equal(predict(s, { do: "set" }, "m1")?.rep?.play, "");
	assert.equal(predict(s, { do: "roll" }, "m1"), null, "when it begins the hub alone knows");
	assert.equal(predict(s, { do: "snap", play: "toss" }, "m1"), null);
	const moved = predict(s, { do: "place", who: "N", at: [1, 180] }, "m1");
	assert.equal(moved?.rep?.play, "", "a man who is moved ends it");
	assert.equal(predict(s, { do: "floor", mode: "all" }, "m1")?.rep, undefined);
	assert.equal(predict(scene(), { do: "place", who: "N", at: [1, 180] }, "m1")?.rep, undefined);
	assert.deepEqual(
		inverse({ do: "snap", play: "toss" }, scene(), null),
		[],
		"a snap is not undone",
	);
	assert.deepEqual(inverse({ do: "stop", ms: 3 }, s, null), []);
});

function played(over: Partial<Rep> = {}, calm = false) {
	const state = signal<State | null>(running(over));
	const model = signal({ ...nothing, state: state.value, track: track() });
	let hub = 10_000;
	let drift = 0; // the clock goes on while a frame is drawn
	let frames: (() => void)[] = [];
	const reel = new Reel({
		state,
		model,
		hubNow: () => {
			hub += drift;
			return hub;
		},
		frame: (run) => {
			frames.push(run);
			return () => {
				frames = frames.filter((f) => f !== run);
			};
		},
		calm: () => calm,
	});
	const seen: number[] = [];
	reel.watch((ms) => seen.push(ms));
	const stop = reel.start();
	return {
		reel,
		state,
		seen,
		stop,
		waits: () => frames.length,
		goesOn(ms: number) {
			drift = ms;
		},
		at(ms: number) {
			hub = 10_000 + ms;
			const now = frames;
			frames = [];
			for (const f of now) f();
		},
	};
}

test("a rolling rep draws every frame, and is told anew only when something happens", () => {
	const p = played();
	let told = 0;
	const stop = p.reel.stage.subscribe(() => told++);
	for (let ms = 16; ms <= 3_000; ms += 16) p.at(ms);
	assert.ok(p.seen.length > 160, String(p.seen.length));
	assert.ok(p.seen.every((v, i) => i === 0 || v >= (p.seen[i - 1] ?? 0)));
	assert.equal(p.seen.at(-1), 2_700);
	assert.ok(told < 12, `${told} times`);
	assert.equal(p.reel.stage.value?.over, true);
	assert.equal(p.reel.stage.value?.events, 7);
	assert.equal(p.waits(), 0, "over: no frame is asked for");
	p.state.value = running({ at: 1_000, since: 0 });
	p.at(9_000);
	assert.equal(p.seen.at(-1), 1_000);
	assert.equal(p.waits(), 0, "it stands: no frame is asked for");
	p.state.value = scene();
	p.at(9_100);
	assert.equal(p.reel.stage.value, null);
	stop();
	p.stop();
});

test("the end is drawn, also when the time runs on while a frame is drawn", () => {
	const p = played();
	p.goesOn(3);
	for (let ms = 16; p.waits() > 0 && ms < 9_000; ms += 16) p.at(ms);
	assert.equal(p.seen.at(-1), 2_700);
	assert.equal(p.reel.stage.value?.over, true);
	p.stop();
});

test("who wants less motion sees key after key, and a standing rep where it stands", () => {
	const p = played({}, true);
	for (const ms of [100, 899, 901, 1_799]) p.at(ms);
	assert.deepEqual(p.seen, [0, 0, 900, 900]);
	p.state.value = running({ at: 1_150, since: 0 });
	p.at(5_000);
	assert.equal(p.seen.at(-1), 1_150);
	p.stop();
});

test("under my own finger the rep is there already", () => {
	const p = played({ at: 100, since: 0 });
	p.at(0);
	p.reel.scrubbed.value = 1_500;
	p.at(1);
	assert.equal(p.seen.at(-1), 1_500);
	assert.equal(p.reel.rolls(), false);
	p.reel.scrubbed.value = null;
	p.at(2);
	assert.equal(p.seen.at(-1), 100);
	p.stop();
});

test("the end of a rep is one line", () => {
	const t = track();
	assert.equal(endSays(t), "FS tackles for 6. N over the top opened lane\u00a00, FS saved it.");
	t.faults = [];
	t.end = { ...t.end, gain_yd: 1.6, lane: 1 };
	assert.equal(endSays(t), "FS tackles for 2. Ball went to lane\u00a01.");
	t.end = { ...t.end, gain_yd: -1.2, with: "C" };
	assert.equal(endSays(t), "FS and C tackle for a loss of 1. Ball went to lane\u00a01.");
	t.end = { ...t.end, gain_yd: 15, broke: true, by: "", how: "broke", lane: 0 };
	t.faults = [{ who: "N", kind: "over-the-top", opens: 0, saved_by: "", cost_yd: 9, because: "" }];
	assert.equal(endSays(t), "Broke. N over the top opened lane\u00a00.");
	t.faults = [
		{ who: "N", kind: "over-the-top", opens: 0, saved_by: "FS", cost_yd: 9, because: "" },
	];
	t.end = { ...t.end, gain_yd: 11.2, by: "FS", how: "tackled" };
	assert.equal(endSays(t), "Broke, FS tackles after 11. N over the top opened lane\u00a00.");
	t.faults = [];
	t.end = { ...t.end, broke: false, how: "no throw", gain_yd: 0, lane: -1 };
	assert.equal(endSays(t), "Nobody to throw to.");
	t.end = { ...t.end, how: "broken up", by: "C" };
	assert.equal(endSays(t), "C breaks it up.");
	const saved = { who: "FS", kind: "late", opens: null, saved_by: "", cost_yd: null, because: "" };
	assert.equal(faultLine(saved), "FS late.");
});

test("a man's line follows him through the rep", () => {
	const t = track();
	const at = (events: number, over = false) => repLine(t, "N", events, over, "Toss", "H");
	assert.equal(at(1).head, "Eyes on H");
	assert.equal(at(2).head, "Reads H block");
	assert.equal(at(5).head, "H has N, hat outside");
	assert.equal(at(5).fix, "H has N, hat outside");
	assert.deepEqual(at(7, true), {
		sign: "no",
		head: "Over the top",
		sub: "Opens lane 0: 4.1 yd, saved by FS",
		fix: "FS tackles for 6. N over the top opened lane\u00a00, FS saved it.",
	});
	t.faults = t.faults.map((f) => ({ ...f, because: "his rule is the inside hat" }));
	assert.equal(at(7, true).sub, "Your rule is the inside hat. It cost 4.1\u00a0yd.");
	t.faults = t.faults.map((f) => ({ ...f, cost_yd: 0 }));
	assert.equal(at(7, true).sub, "Your rule is the inside hat. It cost nothing.");
	assert.equal(repLine(t, "C", 7, true, "Toss", "").head, "Clean");
	assert.equal(repLine(null, "N", 0, false, "Toss", "H").head, "Set");
	assert.deepEqual(
		mine(t, "N", 7).map((e) => e.what),
		["key", "block"],
	);
	assert.equal(eventSays({ t: 0, what: "match", who: "C", to: "Z" }, "C"), "Take Z");
	assert.equal(eventSays({ t: 0, what: "block", who: "H", to: "N" }, "N"), "H is on you");
	assert.equal(eventSays({ t: 0, what: "ball", who: "Q", to: "B" }, ""), "Ball to B");
	assert.equal(
		repSays(rep({ speed: "half", lane: 1, errors: { N: "over-the-top" } }), book()),
		"Toss, half speed, sent to lane 1, N over the top",
	);
});
