import assert from "node:assert/strict";
import { test } from "node:test";
import fc from "fast-check";
import { layLabels, textWidth } from "../src/board/lanelabels.ts";
import { hatOf, type Piece, spread } from "../src/board/spread.ts";
import { stepOrder } from "../src/card/Steps.tsx";
import { field, needed, project } from "../src/field/projection.ts";
import { countSays } from "../src/say/news.ts";
import { placesOf } from "../src/store/predict.ts";
import { boardScene } from "../src/ui/boardscene.ts";
import { Seat } from "../src/ui/seat.ts";
import type { Ball, Down, Place, State } from "../src/wire/types.ts";
import { Exchange, FakeClock, memoryKeep } from "./fakehub/clock.ts";
import { answer, emptyMoment, scene, verdicts, welcome } from "./fakehub/scene.ts";

const ball: Ball = { rules: "nfhs", hash: "middle", yard: 40 };
const yd = (x: number, y: number): Place => [Math.round(x * 36), Math.round(y * 36)];

/** The same picture on the other side of the ball. */
function mirrored(s: State): State {
	const flip = (at: Place): Place => [-at[0] + 0, at[1]];
	return {
		...s,
		side: "left",
		men: Object.fromEntries(Object.entries(s.men).map(([k, m]) => [k, { ...m, at: flip(m.at) }])),
		spots: Object.fromEntries(
			Object.entries(s.spots).map(([k, m]) => [k, { ...m, at: flip(m.at) }]),
		),
	};
}

function seatAt(frame: Down): Seat {
	const net = new Exchange();
	const clock = new FakeClock();
	const seat = new Seat(
		{ token: "t", key: "k" },
		{ clock, dial: net.dial, keep: memoryKeep(), newId: () => "a".repeat(16), hidden: () => false },
	);
	seat.link.start();
	net.last.open();
	net.last.down(frame);
	return seat;
}

test("the half-ring lies towards the ball for an inside hat, on both halves and from both ends", () => {
	for (const half of ["right", "left"] as const) {
		const state = half === "right" ? scene() : mirrored(scene());
		const v = verdicts({ spots: { N: answer("N", { half }) } });
		const seat = seatAt({ welcome: welcome({ state }), verdicts: v });
		for (const eyes of ["defense", "offense"] as const) {
			const s = boardScene(seat, { eyes, selected: null, full: false });
			const n = s?.spots.find((d) => d.who === "N");
			assert.equal(n?.half, half);
			assert.equal(n?.hat, "inside");
			// The step called "in" goes where the ring is.
			assert.equal(stepOrder(half, eyes)[0] === "in", (half === "right") === (eyes === "offense"));
		}
	}
});

test("with hidden answers nothing is shown of a spot before it commits", () => {
	const state = { ...scene(), hidden: true };
	const v = verdicts({ spots: { N: answer("N") }, signs: { N: "no", C: "yes" } });
	const shown = (s: State) =>
		boardScene(seatAt({ welcome: welcome({ state: s }), verdicts: v }), {
			eyes: "defense",
			selected: null,
			full: false,
		});
	const before = shown(state);
	assert.ok(before?.spots.every((d) => d.sign === null && d.fix === null && d.hat === null));
	assert.equal(before?.box, null);
	const after = shown({ ...state, committed: ["N"] });
	assert.equal(after?.spots.find((d) => d.who === "N")?.sign, "yes");
	assert.equal(after?.spots.find((d) => d.who === "C")?.sign, null);
});

test("a blocker and his man never hide each other, and the hat side stays", () => {
	const near = fc.tuple(
		fc.integer({ min: 150, max: 700 }),
		fc.integer({ min: 40, max: 250 }),
		fc.integer({ min: -50, max: 50 }),
		fc.integer({ min: -30, max: 30 }),
	);
	fc.assert(
		fc.property(
			near,
			fc.constantFrom("defense" as const, "offense" as const),
			fc.constantFrom("right" as const, "left" as const),
			([x, y, dx, dy], eyes, half) => {
				const out = half === "right" ? 1 : -1;
				const by: Place = [x * out, y];
				const on: Place = [(x + dx) * out, y + dy];
				const p = project(
					needed(ball, half, [by, on]),
					{ width: 360, height: 250 },
					eyes,
					half,
					field(ball),
				);
				const pieces: Piece[] = [
					{ who: "H", at: by, r: 12, fixed: false },
					{ who: "N", at: on, r: 12, fixed: false },
				];
				const drawn = spread(pieces, [{ by: "H", on: "N" }], p);
				const h = drawn.get("H") ?? { x: 0, y: 0 };
				const n = drawn.get("N") ?? { x: 0, y: 0 };
				assert.ok(Math.hypot(h.x - n.x, h.y - n.y) >= 23, "side by side");
				const hat = hatOf(on, by, half);
				const right = (n.x - h.x) * p.turnX * out;
				if (hat === "out") assert.ok(right > 0);
				if (hat === "in") assert.ok(right < 0);
			},
		),
	);
});

test("a man under the finger is drawn exactly where he is", () => {
	const p = project(
		needed(ball, "right", []),
		{ width: 360, height: 250 },
		"defense",
		"right",
		field(ball),
	);
	const at = yd(7, 3);
	const drawn = spread(
		[
			{ who: "N", at, r: 14, fixed: true },
			{ who: "H", at: yd(7.2, 3), r: 12, fixed: false },
		],
		[],
		p,
	);
	const truth = p.toScreen({ x: at[0], y: at[1] } as Parameters<typeof p.toScreen>[0]);
	assert.deepEqual(drawn.get("N"), { x: truth.x, y: truth.y });
});

test("labels of lanes never overlap and stay on the board", () => {
	fc.assert(
		fc.property(
			fc.array(fc.integer({ min: 1, max: 200 }), { minLength: 1, maxLength: 5 }),
			fc.integer({ min: 0, max: 100 }),
			(widths, start) => {
				let x = start;
				const strips = widths.map((w, i) => {
					const strip = { key: String(i), left: x, right: x + w, says: ["shut by FS", "FS"] };
					x += w;
					return strip;
				});
				const labels = layLabels(strips, 12, 1200);
				assert.equal(labels.length, strips.length);
				for (const [i, a] of labels.entries()) {
					const wa = textWidth(a.text, 12) / 2;
					assert.ok(a.x - wa >= 0);
					for (const b of labels.slice(i + 1)) {
						const wb = textWidth(b.text, 12) / 2;
						assert.ok(a.row !== b.row || Math.abs(a.x - b.x) >= wa + wb - 1e-9);
					}
				}
			},
		),
	);
});

test("in a frozen moment men are where the moment has them", () => {
	const s: State = {
		...scene(),
		moment: { ...emptyMoment(), play: "toss", carrier: "B", places: { B: yd(5.5, -3.5) } },
	};
	assert.deepEqual(placesOf(s).B, yd(5.5, -3.5));
	assert.deepEqual(placesOf(s).Q, s.men.Q?.at);
});

test("news of the count: a new number, a new key, nothing, and the other half", () => {
	const a = verdicts();
	const b = verdicts({
		look: { ...a.look, numbers: { right: ["Z", "B", "H"], left: [] } },
		spots: { N: { ...answer("N"), assignment: { ...answer("N").assignment, key: "B" } } },
	});
	assert.equal(countSays(a, b, "N", false), "Count changed: #2 is B, #3 is H, read B");
	assert.equal(countSays(a, b, "N", true), "New look: #2 is B, #3 is H, read B");
	const key = { ...answer("N"), assignment: { ...answer("N").assignment, key: "B" } };
	assert.equal(countSays(a, verdicts({ spots: { N: key } }), "N", false), "Read B now");
	assert.equal(countSays(a, a, "N", false), "");
	const left = verdicts({
		look: { ...a.look, numbers: { right: [], left: ["Z", "H"] } },
		spots: { N: answer("N", { half: "left" }) },
	});
	assert.equal(countSays(a, left, "N", false), "");
});
