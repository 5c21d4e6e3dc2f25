import assert from "node:assert/strict";
import { test } from "node:test";
import { costSays, lineOf, momentLine, seconds, toHim } from "../src/say/answers.ts";
import { laneLabels } from "../src/say/lanes.ts";
import { linkWords } from "../src/say/link.ts";
import { sayEnding, sayRefusal } from "../src/say/refusals.ts";
import { Link } from "../src/sync/link.ts";
import { Acts } from "../src/ui/acts.ts";
import { Hands } from "../src/ui/hands.ts";
import { cleanCode, readRoute, secret } from "../src/ui/route.ts";
import { Close, Code, type LaneAnswer, type Op, type Place } from "../src/wire/types.ts";
import { Exchange, FakeClock, memoryKeep } from "./fakehub/clock.ts";
import { answer, book, emptyMoment, fact, scene, verdicts, welcome } from "./fakehub/scene.ts";

function handed() {
	const clock = new FakeClock();
	const acts: Op[] = [];
	const drags: [string, Place][] = [];
	let frame: (() => void) | null = null;
	const state = scene();
	const hands = new Hands({
		state: () => state,
		place: (who) => state.men[who]?.at ?? state.spots[who]?.at,
		drag: (who, at) => void drags.push([who, at]),
		act: (op) => void acts.push(op),
		frame: (run) => {
			frame = run;
		},
		after: clock.after,
	});
	const draw = () => {
		const run = frame;
		frame = null;
		run?.();
	};
	return { clock, acts, drags, hands, draw, state };
}

test("a drag is told once a frame and settled once", () => {
	const { hands, draw, drags, acts } = handed();
	hands.take("N", [100, 100]);
	for (let i = 1; i <= 5; i++) hands.move("N", [100 + i, 100]);
	draw();
	hands.move("N", [110, 100]);
	draw();
	assert.deepEqual(drags, [
		["N", [105, 100]],
		["N", [110, 100]],
	]);
	hands.drop();
	assert.deepEqual(acts, [{ do: "place", who: "N", at: [110, 100] }]);
	assert.equal(hands.held.value, null);
	draw();
	assert.equal(drags.length, 2, "nothing is told of a man who has been let go");
});

test("steps in quick succession settle as one operation", () => {
	const { hands, clock, acts, state } = handed();
	const [x, y] = state.spots.N?.at ?? [0, 0];
	for (let i = 0; i < 3; i++) {
		hands.step("N", [18, 0]);
		clock.pass(100);
	}
	assert.deepEqual(acts, []);
	clock.pass(300);
	assert.deepEqual(acts, [{ do: "place", who: "N", at: [x + 54, y] }]);
});

test("men stay on the field, and the offense on its side of the line", () => {
	const { hands } = handed();
	hands.take("H", [300, 500]);
	assert.deepEqual(hands.held.value?.at, [300, 0]);
	hands.take("N", [-5000, 100]);
	// 640 in to the left sideline from the left hash, NFHS 1-2-3.
	assert.deepEqual(hands.held.value?.at, [-640, 100]);
});

test("a man who is let go because the picture changed goes nowhere", () => {
	const { hands, acts } = handed();
	hands.take("N", [100, 100]);
	hands.letGo();
	hands.move("N", [200, 100]);
	hands.drop();
	assert.deepEqual(acts, []);
});

test("the address says what to show, and secrets are known as such", () => {
	assert.deepEqual(readRoute("#coach=ab12"), { kind: "coach", key: "ab12" });
	assert.deepEqual(readRoute("#join=7kq-4rm"), { kind: "home", code: "7KQ4RM" });
	assert.deepEqual(readRoute("#s=x1"), { kind: "session", session: "x1" });
	assert.deepEqual(readRoute("#wall"), { kind: "wall", session: "" });
	assert.deepEqual(readRoute("#wall=x1"), { kind: "wall", session: "x1" });
	assert.deepEqual(readRoute(""), { kind: "home", code: "" });
	assert.deepEqual(readRoute("#join=%"), { kind: "home", code: "" });
	assert.ok(secret(readRoute("#coach=ab12")));
	assert.ok(secret(readRoute("#join=7KQ4RM")));
	assert.ok(!secret(readRoute("#s=x1")));
	assert.equal(cleanCode(" 7kq 4rm "), "7KQ4RM");
});

function coached() {
	const clock = new FakeClock();
	const net = new Exchange();
	const link = new Link(
		{ token: "t", key: "s1.coach" },
		{ clock, dial: net.dial, keep: memoryKeep(), newId: () => "c".repeat(16), hidden: () => false },
	);
	link.start();
	net.last.open();
	net.last.down({ welcome: welcome({ role: "coach", member: "m1" }) });
	return { link, net, acts: new Acts(link, book) };
}

test("undo and redo of one's own moves", () => {
	const { link, acts } = coached();
	const start = link.state.value?.men.H?.at;
	acts.do({ do: "place", who: "H", at: [360, -36] });
	acts.do({ do: "floor", mode: "all" });
	assert.equal(link.state.value?.floor, "all");
	acts.undo();
	assert.equal(link.state.value?.floor, "own");
	acts.undo();
	assert.deepEqual(link.state.value?.men.H?.at, start);
	assert.equal(acts.canUndo.value, false);
	acts.redo();
	assert.deepEqual(link.state.value?.men.H?.at, [360, -36]);
	acts.do({ do: "floor", mode: "coach" });
	assert.equal(acts.canRedo.value, false, "a new move ends the way forth");
});

test("what was refused cannot be undone", () => {
	const { net, acts } = coached();
	acts.do({ do: "floor", mode: "all" });
	net.last.down({ refused: [{ n: 1, code: Code.NotAllowed }] });
	assert.equal(acts.canUndo.value, false);
});

test("undo brings back only what somebody has not brought back already", () => {
	const { net, link, acts } = coached();
	acts.do({ do: "place", who: "H", at: [360, -36] });
	const man = scene().men.H ?? { at: [0, 0] as Place, line: false };
	net.last.down({
		facts: [
			fact(2, { men: { H: { ...man, at: [360, -36] } } }, { client: link.client, n: 1 }),
			fact(3, { men: { H: man } }),
		],
	});
	const before = net.last.sent.length;
	acts.undo();
	assert.equal(net.last.sent.length, before);
});

test("the answer: keeps, contested, loses, and a rule that is broken", () => {
	const a = answer("N");
	assert.deepEqual(lineOf(a, book()), {
		sign: "yes",
		head: "Keeps",
		sub: "0.3\u00a0s ahead of H on Toss",
		fix: "Stay",
	});
	const contested = {
		...a,
		leverage: { ...a.leverage, keeps: "contested" as const, margin_s: -0.03 },
	};
	assert.equal(lineOf(contested, book()).sub, "Within 0.1\u00a0s of H on Toss");
	const loses = {
		...a,
		rule: { ...a.rule, verdict: "wrong-side" as const },
		leverage: { ...a.leverage, keeps: "no" as const, margin_s: -0.18 },
		fix: { move: [-54, 36] as Place, say: "1½ yd inside, 1 deeper" },
	};
	assert.deepEqual(lineOf(loses, book()), {
		sign: "no",
		head: "Loses",
		sub: "Wrong side of #2; 0.2\u00a0s behind H on Toss",
		fix: "1½ yd inside, 1 deeper",
	});
	const none = { ...a, leverage: { ...a.leverage, margin_s: null } };
	assert.equal(lineOf(none, null).sub, "No race in this job");
	assert.equal(seconds(0.04), "0.04\u00a0s");
});

test("a fault is told to the man who made it", () => {
	for (const [because, told] of [
		[
			"his rule is the inside hat on H; his hat is outside; lane 0 is open",
			"your rule is the inside hat on H; your hat is outside; lane 0 is open",
		],
		[
			"his rule is the outside hat on H; he went inside of him",
			"your rule is the outside hat on H; you went inside of him",
		],
		[
			"his man cracked inside, so the edge is his; he is not there",
			"your man cracked inside, so the edge is yours; you are not there",
		],
		[
			"the free man in front of him is blocked, so the lane is his; he gets there too late",
			"the free man in front of you is blocked, so the lane is yours; you get there too late",
		],
		["he fits another lane than his own", "you fit another lane than your own"],
	] as const) {
		assert.equal(toHim(because), told);
	}
});

test("a frozen moment: my fault and its cost, or clean and my job", () => {
	const lane = (n: number, over: Partial<LaneAnswer>): LaneAnswer => ({
		n,
		inside: "",
		outside: "",
		shut_by: "",
		fit_by: "",
		gain_yd: null,
		span: [0, 36],
		...over,
	});
	const v = verdicts({
		lanes: [lane(0, {}), lane(1, { fit_by: "FS", gain_yd: 1.6 }), lane(2, { shut_by: "C" })],
		faults: [
			{
				who: "N",
				kind: "over-the-top",
				opens: 0,
				saved_by: "",
				cost_yd: 7.4,
				because: "hat outside",
			},
		],
	});
	assert.deepEqual(momentLine("N", v), {
		sign: "no",
		head: "Over the top",
		sub: "Hat outside",
		fix: "Opens lane 0: 7.4 yd",
	});
	assert.equal(momentLine("FS", v).sub, "You fit lane 1");
	assert.equal(momentLine("C", v).sub, "You shut lane 2");
	assert.equal(momentLine("C", v).fix, "First cause: N, over the top.");
	assert.equal(
		costSays({ who: "N", kind: "x", opens: 0, saved_by: "FS", cost_yd: null, because: "" }),
		"opens lane 0, saved by FS",
	);
	assert.deepEqual(laneLabels(lane(0, {})), ["open", "open"]);
	assert.deepEqual(laneLabels(lane(2, { shut_by: "C" })), ["shut by C", "by C", "C"]);
	assert.equal(emptyMoment().play, "");
});

test("every refusal and every end has its sentence", () => {
	for (const code of Object.values(Code)) {
		for (const detail of ["", "N"]) assert.match(sayRefusal(code, detail), /[.:]/);
	}
	assert.match(sayRefusal("from-a-later-hub", "N"), /from-a-later-hub \(N\)/);
	for (const code of Object.values(Close)) {
		assert.ok(sayEnding(code).say.length > 10);
	}
	assert.equal(sayEnding(Close.Removed).way, "join");
});

test("the link in words: live, reconnecting, offline since", () => {
	const clock = new FakeClock();
	assert.equal(linkWords({ kind: "live" }, clock).say, "live");
	const lost = { kind: "resuming" as const, lost: clock.now(), day: clock.day() };
	assert.equal(linkWords(lost, clock).say, "reconnecting");
	clock.pass(3000);
	assert.equal(linkWords(lost, clock).say, "offline since 12:04");
});
