import assert from "node:assert/strict";
import { test } from "node:test";
import fc from "fast-check";
import { applyChange } from "../src/store/change.ts";
import { flipped, recounted, worstFirst } from "../src/store/compare.ts";
import { nothing, reduce } from "../src/store/model.ts";
import { placesOf, predict } from "../src/store/predict.ts";
import { inverse, stillNeeded } from "../src/store/undo.ts";
import type { Change, Fact, Op, Place, State } from "../src/wire/types.ts";
import { answer, book, emptyMoment, fact, scene, verdicts, welcome } from "./fakehub/scene.ts";

const place: fc.Arbitrary<Place> = fc.tuple(
	fc.integer({ min: -600, max: 1200 }),
	fc.integer({ min: -300, max: 900 }),
);
const man = fc.record({ at: place, line: fc.boolean() });
const spot = fc.record({
	at: place,
	by: fc.constantFrom("", "m2", "m3"),
	man: fc.constantFrom("", "22"),
});
const some = <T>(of: fc.Arbitrary<T>, keys: string[]): fc.Arbitrary<Record<string, T | null>> =>
	fc.dictionary(fc.constantFrom(...keys), fc.option(of, { nil: null }), { maxKeys: 3 });

const change: fc.Arbitrary<Change> = fc.oneof(
	some(man, ["H", "Z", "B", "Y"]).map((men): Change => ({ men })),
	some(spot, ["N", "C", "FS"]).map((spots): Change => ({ spots })),
	fc.constantFrom("two-read", "quarters").map((call): Change => ({ call })),
	fc.constantFrom("left" as const, "right" as const).map((side): Change => ({ side })),
	fc.boolean().map((hidden): Change => ({ hidden })),
	some(fc.record({ role: fc.constant("player" as const), in: fc.boolean() }), ["m2", "m9"]).map(
		(members): Change => ({ members }),
	),
);

test("a state in the middle and the facts after it give what all facts give", () => {
	fc.assert(
		fc.property(fc.array(change, { maxLength: 30 }), fc.nat(), (changes, cut) => {
			const facts: Fact[] = changes.map((set, i) => fact(i + 2, set));
			const all = reduce(nothing, { welcome: welcome(), facts }, 0);
			const k = facts.length === 0 ? 0 : cut % (facts.length + 1);
			let snapshot: State = scene();
			for (const f of facts.slice(0, k)) snapshot = applyChange(snapshot, f.set);
			const late = reduce(
				nothing,
				{
					welcome: welcome({ state: snapshot, seq: k + 1, chain: (k + 1).toString(16) }),
					facts: facts.slice(k),
				},
				0,
			);
			assert.deepEqual(late.state, all.state);
			assert.equal(late.seq, all.seq);
		}),
	);
});

test("frames cut anywhere, and facts heard twice, make no difference", () => {
	fc.assert(
		fc.property(fc.array(change, { maxLength: 20 }), fc.array(fc.nat(4)), (changes, cuts) => {
			const facts: Fact[] = changes.map((set, i) => fact(i + 2, set));
			const whole = reduce(nothing, { welcome: welcome(), facts }, 0);
			let m = reduce(nothing, { welcome: welcome() }, 0);
			let rest = facts;
			for (const c of [...cuts, facts.length]) {
				m = reduce(m, { facts: rest.slice(0, c) }, 0);
				m = reduce(m, { facts: rest.slice(0, c) }, 0);
				rest = rest.slice(c);
			}
			assert.deepEqual(m.state, whole.state);
			assert.equal(m.torn, false);
		}),
	);
});

test("nothing is changed in place", () => {
	const freeze = <T>(v: T): T => {
		if (typeof v === "object" && v !== null) Object.values(v).forEach(freeze);
		return Object.freeze(v);
	};
	const m = freeze(reduce(nothing, { welcome: welcome() }, 0));
	const next = reduce(
		m,
		{ facts: [fact(2, { men: { H: null, B: { at: [36, 0], line: false } } })] },
		0,
	);
	assert.equal(next.state?.men.H, undefined);
	assert.deepEqual(next.state?.men.B?.at, [36, 0]);
	assert.ok(m.state?.men.H !== undefined);
});

test("a missing fact tears the model and no later one is applied", () => {
	const m = reduce(nothing, { welcome: welcome(), facts: [fact(3, { call: "quarters" })] }, 0);
	assert.equal(m.torn, true);
	assert.equal(m.state?.call, "two-read");
	assert.equal(reduce(m, { welcome: welcome() }, 0).torn, false);
});

test("a resume without a state goes on; in another epoch it drops what was there", () => {
	const m = reduce(nothing, { welcome: welcome(), facts: [fact(2, { call: "quarters" })] }, 0);
	const { state: _, ...bare } = welcome({ seq: 2, chain: "2" });
	assert.equal(reduce(m, { welcome: bare }, 0).state?.call, "quarters");
	assert.equal(reduce(m, { welcome: { ...bare, epoch: "e2" } }, 0).state, null);
});

test("a drag shows until its man is settled; my own echo is not shown", () => {
	let m = reduce(nothing, { welcome: welcome() }, 0);
	m = reduce(
		m,
		{
			drags: [
				{ who: "H", at: [400, 0], by: "m1" },
				{ who: "N", at: [9, 9], by: "m2" },
			],
		},
		0,
	);
	assert.deepEqual(m.drags, { H: [400, 0] });
	m = reduce(m, { facts: [fact(2, { spots: { N: { at: [1, 1], by: "m2", man: "" } } })] }, 0);
	assert.deepEqual(m.drags, { H: [400, 0] });
	m = reduce(m, { facts: [fact(3, { men: { H: { at: [401, 0], line: false } } })] }, 0);
	assert.deepEqual(m.drags, {});
});

test("foreseen: a place, a hold that frees the old spot, a place in a frozen moment", () => {
	const s = scene();
	const moved = predict(s, { do: "place", who: "N", at: [100, 100] }, "m2");
	assert.deepEqual(moved, { spots: { N: { at: [100, 100], by: "m2", man: "22" } } });
	const held = predict(s, { do: "hold", spot: "FS" }, "m2");
	assert.equal(held?.spots?.FS?.by, "m2");
	assert.equal(held?.spots?.N?.by, "");
	const frozen: State = { ...s, moment: { ...emptyMoment(), play: "toss", places: { N: [1, 1] } } };
	const there = predict(frozen, { do: "place", who: "N", at: [50, 60] }, "m2");
	assert.deepEqual(there?.moment?.places.N, [50, 60]);
	assert.deepEqual(placesOf(frozen).N, [1, 1]);
	assert.deepEqual(placesOf(frozen).C, s.spots.C?.at);
	assert.equal(predict(s, { do: "look", look: "twins-left" }, "m1"), null);
	// Off the field is brought back to the sideline: 640 in left of a left-hash ball (NFHS 1-2-3).
	assert.deepEqual(
		predict(s, { do: "place", who: "H", at: [-5000, 0] }, "m1")?.men?.H?.at,
		[-640, 0],
	);
});

test("what is foreseen and then undone is what was there", () => {
	const ops: fc.Arbitrary<Op> = fc.oneof(
		fc
			.tuple(fc.constantFrom("H", "Z", "N", "C"), place)
			.map(([who, at]): Op => ({ do: "place", who, at })),
		fc.boolean().map((on): Op => ({ do: "line", who: "H", on })),
		fc.constantFrom("coach", "own", "all").map((mode): Op => ({ do: "floor", mode })),
		fc.constantFrom("open", "knock", "closed").map((mode): Op => ({ do: "door", mode })),
		fc.boolean().map((on): Op => ({ do: "hide", on })),
		fc.constantFrom("two-read", "quarters").map((call): Op => ({ do: "call", call })),
	);
	fc.assert(
		fc.property(ops, (op) => {
			const before = scene();
			const run = (s: State, o: Op) => applyChange(s, predict(s, o, "m1") ?? {});
			let s = run(before, op);
			for (const back of inverse(op, before, book())) s = run(s, back);
			assert.deepEqual(s, before);
		}),
	);
});

test("motion shows from where to where, and goes back there", () => {
	const before = scene();
	const op: Op = { do: "motion", who: "B", at: [480, -180] };
	const moving = applyChange(before, predict(before, op, "m1") ?? {});
	assert.deepEqual(moving.motion, { who: "B", from: [54, -180], to: [480, -180], line: false });
	assert.deepEqual(moving.men.B?.at, [480, -180]);
	let back = moving;
	for (const o of inverse(op, before, book())) {
		back = applyChange(back, predict(back, o, "m1") ?? {});
	}
	assert.deepEqual(back, before);
	// Sent on: undo brings him back to where he was sent first.
	const on: Op = { do: "motion", who: "B", at: [600, -180] };
	let further = applyChange(moving, predict(moving, on, "m1") ?? {});
	assert.deepEqual(further.motion.from, [54, -180]);
	for (const o of inverse(on, moving, book())) {
		further = applyChange(further, predict(further, o, "m1") ?? {});
	}
	assert.deepEqual(further, moving);
});

test("motion keeps its kind and its way, also through undo", () => {
	const before = scene();
	const op: Op = { do: "motion", who: "B", at: [480, -180], kind: "push", via: [[160, -160]] };
	const moving = applyChange(before, predict(before, op, "m1") ?? {});
	assert.equal(moving.motion.kind, "push");
	assert.deepEqual(moving.motion.via, [[160, -160]]);
	const on: Op = { do: "motion", who: "B", at: [600, -180], kind: "jet" };
	let further = applyChange(moving, predict(moving, on, "m1") ?? {});
	assert.equal(further.motion.kind, "jet");
	assert.equal(further.motion.via, undefined);
	for (const o of inverse(on, moving, book())) {
		further = applyChange(further, predict(further, o, "m1") ?? {});
	}
	assert.deepEqual(further, moving);
	assert.equal(
		predict(before, { ...op, kind: "shift" }, "m1"),
		null,
		"the hub says if he is on the line",
	);
});

test("undo of a look brings the old look and only the men who had left it", () => {
	const before = applyChange(scene(), { men: { H: { at: [360, -36], line: false } } });
	const back = inverse({ do: "look", look: "twins-left" }, before, book());
	assert.deepEqual(back[0], { do: "look", look: "twins-right" });
	const men = back.filter((o) => o.do === "place" && o.who !== undefined && o.who in before.men);
	assert.deepEqual(men, [{ do: "place", who: "H", at: [360, -36] }]);
	assert.deepEqual(stillNeeded(men, before), []);
});

test("whose answer flips with the call, whose number with motion", () => {
	const a = verdicts({ spots: { N: answer("N"), C: answer("C") } });
	const n = answer("N");
	const b = verdicts({
		spots: {
			N: {
				...n,
				rule: { ...n.rule, side: "outside" },
				assignment: { ...n.assignment, hat: "outside" },
			},
			C: answer("C"),
		},
	});
	assert.deepEqual(flipped(a, b), ["N"]);
	assert.deepEqual(flipped(a, a), []);
	assert.deepEqual(
		recounted({ right: ["Z", "H"], left: [] }, { right: ["Z", "B", "H"], left: [] }, "right"),
		[
			{ number: 2, tag: "B" },
			{ number: 3, tag: "H" },
		],
	);
});

test("rows: first cause, then loses, contested, keeps by margin", () => {
	const n = answer("N");
	const v = verdicts({
		spots: {
			N: { ...n, leverage: { ...n.leverage, keeps: "no", margin_s: -0.2 } },
			C: answer("C"),
			FS: { ...n, spot: "FS", leverage: { ...n.leverage, keeps: "contested", margin_s: 0.05 } },
		},
		signs: {},
	});
	assert.deepEqual(worstFirst(["C", "FS", "N", "SS"], v), ["N", "FS", "C", "SS"]);
	const fault = {
		who: "C",
		kind: "edge-lost",
		opens: null,
		saved_by: "",
		cost_yd: null,
		because: "",
	};
	assert.deepEqual(worstFirst(["C", "FS", "N"], { ...v, faults: [fault] }), ["C", "N", "FS"]);
});
