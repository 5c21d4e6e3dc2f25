import assert from "node:assert/strict";
import { test } from "node:test";
import fc from "fast-check";
import { sayRefusal } from "../src/say/refusals.ts";
import { BASE_MS, backoff, CAP_MS } from "../src/sync/backoff.ts";
import { linkSign } from "../src/sync/connection.ts";
import type { Keep } from "../src/sync/keep.ts";
import { Link } from "../src/sync/link.ts";
import { MOST_WAITING } from "../src/sync/outbox.ts";
import { Close, Code, type Op } from "../src/wire/types.ts";
import { Exchange, FakeClock, memoryKeep } from "./fakehub/clock.ts";
import { fact, welcome } from "./fakehub/scene.ts";

const place = (x: number): Op => ({ do: "place", who: "N", at: [x, 180] });

function started(keep: Keep = memoryKeep(), hidden = { is: false }) {
	const clock = new FakeClock();
	const net = new Exchange();
	let ids = 0;
	const link = new Link(
		{ token: "t".repeat(40), key: "s1.player" },
		{
			clock,
			dial: net.dial,
			keep,
			newId: () => (++ids).toString(16).padStart(16, "a"),
			hidden: () => hidden.is,
		},
	);
	link.start();
	return { clock, net, link, keep, hidden };
}

function live(keep: Keep = memoryKeep()) {
	const s = started(keep);
	s.net.last.open();
	s.net.last.down({ welcome: welcome() });
	return s;
}

test("hello comes first and names version, token and client", () => {
	const { net, link } = started();
	assert.equal(net.last.sent.length, 0);
	net.last.open();
	const hello = net.last.sent[0]?.hello;
	assert.equal(hello?.v, 1);
	assert.equal(hello?.token, "t".repeat(40));
	assert.match(hello?.client ?? "", /^[0-9a-f]{16}$/);
	assert.equal(hello?.resume, undefined);
	assert.equal(link.connection.value.kind, "joining");
	net.last.down({ welcome: welcome() });
	assert.equal(link.connection.value.kind, "live");
});

test("a lost link resumes from the last fact and goes on without a state", () => {
	const { net, link, clock } = live();
	net.last.down({ facts: [fact(2, { call: "quarters" })] });
	net.last.cut();
	assert.equal(link.connection.value.kind, "resuming");
	assert.equal(link.model.value.state?.call, "quarters");
	clock.pass(BASE_MS);
	net.last.open();
	assert.deepEqual(net.last.sent[0]?.hello?.resume, {
		epoch: "e1",
		have: 2,
		chain: fact(2, {}).chain,
	});
	const { state: _, ...bare } = welcome({ seq: 2, chain: fact(2, {}).chain });
	net.last.down({ welcome: bare, facts: [fact(3, { side: "left" })] });
	assert.equal(link.model.value.state?.side, "left");
	assert.equal(link.connection.value.kind, "live");
});

test("an operation shows at once, and stays when its fact and ack come", () => {
	const { net, link } = live();
	link.do(place(99));
	assert.deepEqual(link.state.value?.spots.N?.at, [99, 180]);
	assert.deepEqual(net.last.sent.at(-1)?.op, { n: 1, base: 1, op: place(99) });
	assert.equal(link.pending.value.length, 1);
	net.last.down({
		facts: [
			fact(
				2,
				{ spots: { N: { at: [99, 180], by: "m2", man: "" } } },
				{ client: link.client, n: 1 },
			),
		],
		acks: [{ n: 1, seq: 2, epoch: "e1" }],
	});
	assert.equal(link.pending.value.length, 0);
	assert.deepEqual(link.model.value.state?.spots.N?.at, [99, 180]);
});

test("an ack before its fact does not let the man jump back", () => {
	const { net, link } = live();
	link.do(place(99));
	net.last.down({ acks: [{ n: 1, seq: 2, epoch: "e1" }] });
	assert.deepEqual(link.state.value?.spots.N?.at, [99, 180]);
	net.last.down({ facts: [fact(2, { spots: { N: { at: [99, 180], by: "m2", man: "" } } })] });
	assert.equal(link.pending.value.length, 0);
});

test("a refused operation rolls back and says why", () => {
	const { net, link } = live();
	const before = link.state.value?.spots.N?.at;
	link.do(place(99));
	link.do({ do: "line", who: "H", on: true });
	net.last.down({ refused: [{ n: 1, code: Code.Floor }] });
	assert.deepEqual(link.state.value?.spots.N?.at, before);
	assert.equal(link.state.value?.men.H?.line, true, "the other operation still waits");
	assert.equal(link.notice.value?.code, "floor");
	assert.equal(sayRefusal("floor", ""), "The coach has the floor: nobody else moves men now.");
});

test("what waits is sent again in order, what the hub has is not", () => {
	const { net, link, clock } = live();
	link.do(place(1));
	link.do(place(2));
	net.last.cut();
	link.do(place(3));
	assert.equal(link.pending.value.length, 3);
	clock.pass(BASE_MS);
	net.last.open();
	const { state: _, ...bare } = welcome({ counter: 1 });
	net.last.down({
		welcome: bare,
		facts: [
			fact(2, { spots: { N: { at: [1, 180], by: "m2", man: "" } } }, { client: link.client, n: 1 }),
		],
	});
	const again = net.last.sent.flatMap((u) =>
		u.op === undefined ? [] : [[u.op.n, u.op.op.at?.[0]]],
	);
	assert.deepEqual(again, [
		[2, 2],
		[3, 3],
	]);
});

test("operations survive a reload of the page, under the same client and count", () => {
	const keep = memoryKeep();
	const first = live(keep);
	first.link.do(place(1));
	first.net.last.cut();
	first.link.do(place(2));
	const second = started(keep);
	assert.equal(second.link.client, first.link.client);
	second.net.last.open();
	second.net.last.down({ welcome: welcome() });
	assert.deepEqual(
		second.net.last.sent.flatMap((u) => (u.op === undefined ? [] : [u.op.n])),
		[1, 2],
	);
	second.link.do(place(3));
	assert.equal(second.net.last.sent.at(-1)?.op?.n, 3);
});

test("acknowledged operations are offered again to a hub that came back with less", () => {
	const { net, link, clock } = live();
	link.do(place(1));
	net.last.down({
		facts: [
			fact(2, { spots: { N: { at: [1, 180], by: "m2", man: "" } } }, { client: link.client, n: 1 }),
		],
		acks: [{ n: 1, seq: 2, epoch: "e1" }],
	});
	net.last.cut(Close.Restart);
	clock.pass(BASE_MS);
	net.last.open();
	net.last.down({ welcome: welcome({ epoch: "e2", counter: 0 }) });
	assert.deepEqual(net.last.sent.at(-1)?.op?.n, 1);
	assert.deepEqual(link.state.value?.spots.N?.at, [1, 180]);
});

test("what was acknowledged is not done again in the same epoch", () => {
	const { net, link, clock } = live();
	link.do(place(1));
	link.do(place(1));
	net.last.down({ acks: [{ n: 1, seq: 2, epoch: "e1" }] });
	net.last.down({ acks: [{ n: 2, seq: 0, epoch: "e1" }] });
	net.last.cut(Close.Restart);
	clock.pass(BASE_MS);
	net.last.open();
	// The second changed nothing, so a restarted hub does not count it.
	net.last.down({ welcome: welcome({ counter: 1 }) });
	assert.deepEqual(
		net.last.sent.filter((u) => u.op !== undefined),
		[],
	);
	link.do(place(3));
	assert.equal(net.last.sent.at(-1)?.op?.n, 2, "numbers go on from the hub's count");
});

test("what the hub counted and then lost is sent again", () => {
	const { net, link, clock } = live();
	link.do(place(1));
	for (const counter of [1, 0]) {
		net.last.cut();
		clock.pass(BASE_MS);
		net.last.open();
		const { state: _, ...bare } = welcome({ counter });
		net.last.down({ welcome: bare });
		assert.equal(link.pending.value.length, 1 - counter);
	}
	assert.deepEqual(net.last.sent.at(-1)?.op, { n: 1, base: 1, op: place(1) });
});

test("every operation is applied exactly once whatever is lost on the way", () => {
	fc.assert(
		fc.property(
			fc.array(fc.constantFrom("do", "cut", "lose-ack", "deliver"), { maxLength: 40 }),
			(steps) => {
				const { net, link, clock } = live();
				let counter = 0;
				let done = 0;
				let read = 0;
				const applied: number[] = [];
				// The hub's side: takes operations in order, each number once.
				const serve = (ack: boolean) => {
					for (const u of net.last.sent.slice(read)) {
						if (u.op === undefined || u.op.n <= counter) continue;
						assert.equal(u.op.n, counter + 1, "no gap");
						counter = u.op.n;
						applied.push(u.op.op.at?.[0] ?? -1);
						if (ack) net.last.down({ acks: [{ n: counter, seq: 0, epoch: "e1" }] });
					}
					read = net.last.sent.length;
				};
				const back = () => {
					clock.pass(CAP_MS);
					net.last.open();
					read = 0;
					const { state: _, ...bare } = welcome({ counter });
					net.last.down({ welcome: bare });
				};
				for (const s of steps) {
					if (s === "do") link.do(place(++done));
					if (s === "deliver") serve(true);
					if (s === "lose-ack") serve(false);
					if (s === "cut") {
						net.last.cut();
						back();
					}
				}
				net.last.cut();
				back();
				serve(true);
				assert.deepEqual(
					applied,
					Array.from({ length: done }, (_, i) => i + 1),
				);
				assert.equal(link.pending.value.length, 0);
			},
		),
	);
});

test("storage in trouble: kept, and sent again after the time asked for", () => {
	const { net, link, clock } = live();
	link.do(place(1));
	net.last.down({ refused: [{ n: 1, code: Code.Storage, retry_ms: 700 }] });
	assert.equal(link.pending.value.length, 1);
	link.do(place(2));
	const before = net.last.sent.length;
	clock.pass(700);
	assert.deepEqual(
		net.last.sent.slice(before).map((u) => u.op?.n),
		[1, 2],
	);
});

test("beats are answered with their own time", () => {
	const { net } = live();
	net.last.down({ beat: { t: 4711 } });
	assert.deepEqual(net.last.sent.at(-1), { beat: { t: 4711 } });
});

test("six seconds of silence end a link, beats keep it", () => {
	const { net, link, clock } = live();
	for (let i = 0; i < 6; i++) {
		clock.pass(2000);
		net.last.down({ beat: { t: i } });
	}
	assert.equal(link.connection.value.kind, "live");
	clock.pass(5000);
	assert.equal(link.connection.value.kind, "live");
	clock.pass(1100);
	assert.equal(link.connection.value.kind, "resuming");
	assert.equal(linkSign(link.connection.value, clock), "back");
	clock.pass(3000);
	assert.equal(linkSign(link.connection.value, clock), "off");
});

test("waits double up to the cap and are a random part of it", () => {
	assert.equal(backoff(0, 0.999), 499);
	assert.equal(backoff(1, 0.5), 500);
	assert.equal(backoff(20, 0.5), CAP_MS / 2);
	fc.assert(
		fc.property(fc.nat(40), fc.double({ min: 0, max: 0.999, noNaN: true }), (n, r) => {
			const w = backoff(n, r);
			assert.ok(w >= 0 && w < CAP_MS);
		}),
	);
});

test("a failed attempt waits longer each time; being shown again resets that", () => {
	const { net, link, clock } = live();
	clock.random = 0.9999;
	net.last.cut();
	const dials = () => net.sockets.length;
	let n = dials();
	clock.pass(499);
	assert.equal(dials(), ++n);
	net.last.cut();
	clock.pass(998);
	assert.equal(dials(), n);
	clock.pass(2);
	assert.equal(dials(), ++n);
	net.last.cut();
	link.wake();
	assert.equal(dials(), ++n, "tried at once");
	net.last.cut();
	clock.pass(500);
	assert.equal(dials(), ++n, "and the next wait is short again");
});

test("an attempt without an answer is given up after 5 s", () => {
	const { net, clock } = started();
	clock.pass(5000);
	assert.ok(net.last.closed);
	clock.pass(BASE_MS);
	assert.equal(net.sockets.length, 2);
});

test("a page that wakes up doubts its link until it hears a word", () => {
	const { net, link, clock } = live();
	link.wake();
	clock.pass(1000);
	net.last.down({ beat: { t: 1 } });
	clock.pass(2000);
	assert.equal(link.connection.value.kind, "live");
	net.last.down({ beat: { t: 2 } });
	link.wake();
	clock.pass(2500);
	assert.equal(link.connection.value.kind, "resuming");
});

test("a device that slept doubts its link", () => {
	const { link, clock } = live();
	clock.sleep(60_000);
	clock.pass(1);
	assert.equal(link.connection.value.kind, "live");
	clock.pass(2500);
	assert.equal(link.connection.value.kind, "resuming");
});

test("a hidden page does not dial; shown again it does at once", () => {
	const hidden = { is: false };
	const { net, link, clock } = started(memoryKeep(), hidden);
	net.last.open();
	net.last.down({ welcome: welcome() });
	hidden.is = true;
	net.last.cut();
	clock.pass(3_000);
	assert.equal(net.sockets.length, 1);
	hidden.is = false;
	link.wake();
	assert.equal(net.sockets.length, 2);
});

test("codes from 4500 stop, those below come back", () => {
	for (const code of [
		Close.Replaced,
		Close.NoToken,
		Close.NoSession,
		Close.Removed,
		Close.Version,
		Close.BadHello,
	]) {
		const { net, link, clock } = live();
		net.last.cut(code);
		assert.deepEqual(link.connection.value, { kind: "ended", code });
		link.wake();
		clock.pass(60_000);
		assert.equal(net.sockets.length, 1);
	}
	for (const code of [Close.Restart, Close.Slow, Close.Quiet, Close.Stale, 1006, 1001]) {
		const { net, clock } = live();
		net.last.cut(code);
		clock.pass(CAP_MS);
		assert.ok(net.sockets.length > 1, String(code));
	}
});

test("a planned restart spreads the way back over the time it names", () => {
	const { net, clock } = live();
	clock.random = 0.5;
	net.last.down({ bye: { code: "restart", wait_ms: 5000 } });
	net.last.cut(Close.Restart);
	clock.pass(2499);
	assert.equal(net.sockets.length, 1);
	clock.pass(1);
	assert.equal(net.sockets.length, 2);
});

test("a torn model asks for the whole state", () => {
	const { net, link, clock } = live();
	net.last.down({ facts: [fact(5, { call: "quarters" })] });
	assert.equal(link.connection.value.kind, "resuming");
	clock.pass(BASE_MS);
	net.last.open();
	assert.equal(net.last.sent[0]?.hello?.resume, undefined);
});

test("messages that cannot be read end in asking for a reload", () => {
	const { net, link, clock } = live();
	for (let i = 0; i < 3; i++) {
		net.last.onmessage?.("{");
		clock.pass(CAP_MS);
		if (link.connection.value.kind !== "ended") net.last.open();
	}
	assert.deepEqual(link.connection.value, { kind: "ended", code: Close.Version });
});

test("a full outbox takes no more and says why", () => {
	const { net, link } = live();
	net.last.cut();
	for (let i = 0; i < MOST_WAITING; i++) assert.equal(link.do(place(i)), true);
	assert.equal(link.do(place(0)), false);
	assert.match(
		sayRefusal(link.notice.value?.code ?? "", link.notice.value?.detail ?? ""),
		/500 moves are waiting/,
	);
});
