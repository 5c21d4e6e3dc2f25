import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { effect, signal } from "@preact/signals";

// The runner starts in client/, so that test data of the repository is found
// from there whatever folder the bundled tests lie in.
test("the runner starts in the client folder", () => {
	const manifest: unknown = JSON.parse(readFileSync("package.json", "utf8"));
	assert.ok(typeof manifest === "object" && manifest !== null && "name" in manifest);
	assert.equal(manifest.name, "halfline-client");
});

// The board binds a man's place straight into an attribute; that rests on an
// effect running once for every change of its signal, at once, in order.
test("a signal runs its effect once for every change", () => {
	const x = signal(0);
	const seen: number[] = [];
	const stop = effect(() => {
		seen.push(x.value);
	});
	x.value = 3;
	x.value = 3;
	x.value = -2;
	stop();
	x.value = 9;
	assert.deepEqual(seen, [0, 3, -2]);
});
