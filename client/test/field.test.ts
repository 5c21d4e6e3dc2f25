import assert from "node:assert/strict";
import { test } from "node:test";
import fc from "fast-check";
import {
	clampPlace,
	GOALS,
	hashFromSideline,
	nearestHash,
	numbersFromSideline,
	sideline,
	WIDTH,
	yardLine,
} from "../src/field/ground.ts";
import { type Eyes, field, fieldPoint, needed, project, steady } from "../src/field/projection.ts";
import { halves, placeWords, type Step, stepArrow, stepMove } from "../src/field/words.ts";
import type { Ball } from "../src/wire/types.ts";

const anyBall = fc.record({
	rules: fc.constantFrom<Ball["rules"]>("nfhs", "ncaa", "pro"),
	hash: fc.constantFrom<Ball["hash"]>("left", "middle", "right"),
	yard: fc.integer({ min: 1, max: 99 }),
});

// NFHS 1-2-3 (53 ft 4 in), NCAA 2-12-7 (60 ft), NFL Rule 1-1 (70 ft 9 in);
// short and wide side of a ball on the left hash follow by arithmetic.
test("hashes and sidelines of three rulebooks", () => {
	const table: [Ball["rules"], number, number, number][] = [
		["nfhs", 53 * 12 + 4, 17.7778, 35.5556],
		["ncaa", 60 * 12, 20, 33.3333],
		["pro", 70 * 12 + 9, 23.5833, 29.75],
	];
	for (const [rules, hash, short, wide] of table) {
		const ball: Ball = { rules, hash: "left", yard: 40 };
		assert.equal(hashFromSideline(rules), hash);
		assert.ok(Math.abs(sideline(ball, "left") / 36 - short) < 5e-5);
		assert.ok(Math.abs(sideline(ball, "right") / 36 - wide) < 5e-5);
		const middle: Ball = { rules, hash: "middle", yard: 40 };
		assert.equal(sideline(middle, "left"), 960);
		assert.equal(nearestHash(rules, hash), "left");
		assert.equal(nearestHash(rules, WIDTH - hash), "right");
		assert.equal(nearestHash(rules, 950), "middle");
	}
	// NFHS 1-1-2, NCAA 1-2-1, NFL Rule 1-1-1: 160 ft by 100 yd between the goals.
	assert.equal(WIDTH, 160 * 12);
	assert.equal(GOALS, 3600);
	// NFHS 7-2-1, NCAA 1-2-1-i: 9 yd; NFL: bottoms 12 yd in and 2 yd high.
	assert.equal(numbersFromSideline("nfhs"), 324);
	assert.equal(numbersFromSideline("pro"), 504);
});

test("both sidelines make the whole width", () => {
	fc.assert(
		fc.property(anyBall, (ball) => sideline(ball, "left") + sideline(ball, "right") === WIDTH),
	);
});

test("clamping lands on the field and leaves a good place alone", () => {
	fc.assert(
		fc.property(
			anyBall,
			fc.integer({ min: -4000, max: 4000 }),
			fc.integer({ min: -6000, max: 6000 }),
			(ball, x, y) => {
				const once = clampPlace(ball, [x, y]);
				assert.deepEqual(clampPlace(ball, once), once);
				assert.ok(once[0] <= sideline(ball, "right") && -once[0] <= sideline(ball, "left"));
			},
		),
	);
});

test("a place goes to the screen and comes back, for both eyes and both sides", () => {
	fc.assert(
		fc.property(
			anyBall,
			fc.constantFrom<Eyes>("defense", "offense"),
			fc.constantFrom("left" as const, "right" as const),
			fc.integer({ min: 200, max: 2000 }),
			fc.integer({ min: 150, max: 1200 }),
			fc.integer({ min: -900, max: 900 }),
			fc.integer({ min: -400, max: 900 }),
			(ball, eyes, side, width, height, x, y) => {
				const p = project(needed(ball, side, [[x, y]]), { width, height }, eyes, side, field(ball));
				const s = p.toScreen(fieldPoint(x, y));
				const back = p.toField(s);
				assert.ok(Math.abs(back.x - x) < 1e-6 && Math.abs(back.y - y) < 1e-6);
			},
		),
	);
});

test("the defense looks up at the offense and has it the other way round across", () => {
	const ball: Ball = { rules: "nfhs", hash: "left", yard: 40 };
	const extent = needed(ball, "right", [[648, 0]]);
	const size = { width: 360, height: 360 };
	const d = project(extent, size, "defense", "right", field(ball));
	const o = project(extent, size, "offense", "right", field(ball));
	const backfield = fieldPoint(0, -180);
	const deep = fieldPoint(0, 360);
	assert.ok(d.toScreen(backfield).y < d.toScreen(deep).y, "offense at the top");
	assert.ok(o.toScreen(backfield).y > o.toScreen(deep).y, "offense at the bottom");
	const outer = fieldPoint(648, 0);
	assert.ok(
		d.toScreen(outer).x < d.toScreen(fieldPoint(0, 0)).x,
		"the offense's right is his left",
	);
	assert.ok(o.toScreen(outer).x > o.toScreen(fieldPoint(0, 0)).x);
});

test("all that is needed is seen, whatever the shape of the screen", () => {
	fc.assert(
		fc.property(
			anyBall,
			fc.constantFrom("left" as const, "right" as const),
			fc.integer({ min: 200, max: 2000 }),
			fc.integer({ min: 150, max: 1200 }),
			(ball, side, width, height) => {
				const e = needed(ball, side, [[side === "right" ? 600 : -600, 400]]);
				const { seen } = project(e, { width, height }, "defense", side, field(ball));
				const eps = 1e-6;
				assert.ok(seen.minX <= e.minX + eps && seen.maxX >= e.maxX - eps);
				assert.ok(seen.minY <= e.minY + eps && seen.maxY >= e.maxY - eps);
				assert.ok(seen.minY <= -8 * 36 + eps && seen.maxY >= 16 * 36 - eps);
			},
		),
	);
});

test("a small step of a man leaves the drawn part as it is", () => {
	const ball: Ball = { rules: "nfhs", hash: "left", yard: 40 };
	const a = needed(ball, "right", [[648, 0]]);
	assert.equal(steady(a, needed(ball, "right", [[630, 0]])), a);
	const wider = needed(ball, "right", [[900, 0]]);
	assert.equal(steady(a, wider), wider);
});

test("steps say in and out from the ball on both sides, and point the right way", () => {
	assert.deepEqual(stepMove("in", "right"), [-18, 0]);
	assert.deepEqual(stepMove("in", "left"), [18, 0]);
	assert.deepEqual(stepMove("out", "right"), [18, 0]);
	assert.deepEqual(stepMove("out", "left"), [-18, 0]);
	assert.deepEqual(stepMove("up", "left"), [0, -18]);
	assert.deepEqual(stepMove("back", "right"), [0, 18]);
	for (const half of ["left", "right"] as const) {
		for (const eyes of ["defense", "offense"] as const) {
			const ball: Ball = { rules: "nfhs", hash: "middle", yard: 40 };
			const p = project(
				needed(ball, half, []),
				{ width: 360, height: 360 },
				eyes,
				half,
				field(ball),
			);
			for (const step of ["in", "out", "up", "back"] as Step[]) {
				const [x, y] = stepMove(step, half);
				const from = p.toScreen(fieldPoint(0, 180));
				const to = p.toScreen(fieldPoint(x, 180 + y));
				const way =
					to.x > from.x ? "right" : to.x < from.x ? "left" : to.y > from.y ? "down" : "up";
				assert.equal(stepArrow(step, half, p.turnX, p.turnY), way, `${half} ${eyes} ${step}`);
			}
			// Up is toward the line: for the defense's eyes that is up the screen.
			assert.equal(stepArrow("up", half, p.turnX, p.turnY), eyes === "defense" ? "up" : "down");
		}
	}
});

test("places in words", () => {
	assert.equal(halves(54), "1½");
	assert.equal(halves(18), "½");
	assert.equal(halves(-36), "1");
	assert.equal(placeWords([270, 180], "right"), "7½ out, 5 deep");
	assert.equal(placeWords([-270, 180], "left"), "7½ out, 5 deep");
	assert.equal(placeWords([-270, 0], "right"), "7½ out on the left, on the line");
	assert.equal(placeWords([0, -180], "right"), "over the ball, 5 back");
	assert.equal(yardLine(42), "own 42");
	assert.equal(yardLine(50), "the 50");
	assert.equal(yardLine(80), "their 20");
});
