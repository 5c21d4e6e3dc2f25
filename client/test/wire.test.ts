import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { readBook, readDown, readQr, Unreadable } from "../src/wire/decode.ts";
import { book, fact, roster, verdicts, welcome } from "./fakehub/scene.ts";

// The same recorded frames that the hub is held to.
const GOLDEN = "../testdata/wire/v1/";

test("every recorded frame of the hub is read, and nothing in it is lost", () => {
	const names = readdirSync(GOLDEN).filter((n) => n.startsWith("down-") && n.endsWith(".json"));
	assert.ok(names.length > 0);
	for (const name of names) {
		const text = readFileSync(GOLDEN + name, "utf8");
		assert.deepEqual(readDown(text), JSON.parse(text), name);
	}
});

test("what the fakes send is what the decoder reads", () => {
	const frame = {
		welcome: welcome(),
		facts: [fact(2, { men: { H: null } }, { client: "a".repeat(16), n: 1 })],
		verdicts: verdicts(),
		roster: roster(),
	};
	assert.deepEqual(readDown(JSON.stringify(frame)), frame);
	assert.deepEqual(readBook(book()), book());
});

test("a list or map that was never made is empty, an unknown key is left out", () => {
	const v = JSON.parse(JSON.stringify({ verdicts: verdicts() }));
	v.verdicts.lanes = null;
	v.verdicts.spots = null;
	v.verdicts.newer = 1;
	v.other = {};
	const got = readDown(JSON.stringify(v));
	assert.deepEqual(got.verdicts, { ...verdicts(), lanes: [], spots: {} });
	assert.deepEqual(Object.keys(got), ["verdicts"]);
});

test("what does not fit is refused, saying where", () => {
	const refused: [string, RegExp][] = [
		["{", /want JSON/],
		["[]", /message: want an object/],
		['{"beat":{"t":"soon"}}', /beat\.t: want a number/],
		['{"beat":{}}', /beat\.t/],
		['{"drags":[{"who":"N","at":[1]}]}', /drags\[0\]\.at: want 2 numbers/],
		['{"acks":[{"n":1,"seq":2}]}', /acks\[0\]\.epoch/],
		[JSON.stringify({ verdicts: { ...verdicts(), signs: { N: "maybe" } } }), /signs\.N: want yes/],
		[JSON.stringify({ welcome: { ...welcome(), role: "owner" } }), /role: want coach/],
	];
	for (const [text, where] of refused) {
		assert.throws(
			() => readDown(text),
			(e) => e instanceof Unreadable && where.test(e.message),
			text,
		);
	}
	assert.throws(() => readQr({ size: "29", path: "" }), Unreadable);
});

test("a name that objects treat in their own way does no harm", () => {
	const got = readDown(
		'{"facts":[{"seq":1,"chain":"0","do":"x","set":{"men":{"__proto__":null}}}]}',
	);
	assert.deepEqual(Object.keys(got.facts?.[0]?.set.men ?? {}), []);
});
