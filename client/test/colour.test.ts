import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { type Deficiency, simulate } from "@bjornlu/colorblind";
import contrast from "wcag-contrast";

// The colours of both themes, read from the style sheet itself.
const css = readFileSync("src/css/base.css", "utf8");

function block(selector: string): Record<string, string> {
	const from = css.indexOf(`${selector} {`);
	assert.ok(from >= 0, `no ${selector} in base.css`);
	const text = css.slice(from, css.indexOf("}", from));
	return Object.fromEntries(
		[...text.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{3,6})\b/g)].map((m) => [m[1] ?? "", m[2] ?? ""]),
	);
}

const light = block(":root");
const themes: Record<string, Record<string, string>> = {
	sun: light,
	room: { ...light, ...block(':root[data-theme="room"]') },
};
const grounds = ["ground", "turf", "sheet"];
const meanings = ["keeps", "contested", "loses", "key", "point"];

// Okabe and Ito 2008 (values from memory, recomputed contrasts agree with the
// reference library below).
const okabeIto = [
	"#000000",
	"#e69f00",
	"#56b4e9",
	"#009e73",
	"#f0e442",
	"#0072b2",
	"#d55e00",
	"#cc79a7",
];

const deficiencies: Deficiency[] = ["protanopia", "deuteranopia", "tritanopia", "achromatopsia"];

function seen(hex: string, by: Deficiency | null): string {
	const full = hex.length === 4 ? `#${[...hex.slice(1)].map((c) => c + c).join("")}` : hex;
	if (by === null) return full;
	const n = Number.parseInt(full.slice(1), 16);
	const c = simulate({ r: n >> 16, g: (n >> 8) & 255, b: n & 255 }, by);
	const two = (x: number) =>
		Math.round(Math.min(Math.max(x, 0), 255))
			.toString(16)
			.padStart(2, "0");
	return `#${two(c.r)}${two(c.g)}${two(c.b)}`;
}

const ratio = (a: string, b: string) => contrast.hex(a, b);

// WCAG 2.2, 1.4.3: the well-known pair about the threshold of 4.5.
test("the reference library knows the published pair", () => {
	assert.ok(ratio("#767676", "#ffffff") >= 4.5);
	assert.ok(ratio("#777777", "#ffffff") < 4.5);
});

// 1.4.6 for the answer line, 1.4.3 for every other text.
test("text stands out on every ground of both themes", () => {
	for (const [name, t] of Object.entries(themes)) {
		for (const g of grounds) {
			assert.ok(ratio(t.ink ?? "", t[g] ?? "") >= 7, `${name}: ink on ${g}`);
			assert.ok(
				ratio(t.dim ?? "", t[g] ?? "") >= 4.5,
				`${name}: dim on ${g}: ${ratio(t.dim ?? "", t[g] ?? "")}`,
			);
		}
	}
});

test("colours of meaning are of one published set", () => {
	for (const [name, t] of Object.entries(themes)) {
		for (const m of meanings) assert.ok(okabeIto.includes(t[m] ?? ""), `${name}: ${m} ${t[m]}`);
	}
});

// 1.4.11: 3:1 for what must be seen to understand, by its own colour or by the
// outline round it, with any colour vision.
test("signs stand out on every ground with any colour vision", () => {
	for (const [name, t] of Object.entries(themes)) {
		for (const by of [null, ...deficiencies]) {
			for (const g of grounds) {
				const ground = seen(t[g] ?? "", by);
				const outline = ratio(seen(t.outline ?? "", by), ground);
				for (const m of meanings) {
					const own = ratio(seen(t[m] ?? "", by), ground);
					assert.ok(
						Math.max(own, outline) >= 3,
						`${name}, ${by ?? "full colour"}: ${m} on ${g}: ${own.toFixed(2)}, outline ${outline.toFixed(2)}`,
					);
				}
			}
		}
	}
});

// They are large and bold: 1.4.3 asks for 3:1; with full colour vision they have
// what small text needs.
test("letters on a colour of verdict can be read with any colour vision", () => {
	for (const by of [null, ...deficiencies]) {
		for (const m of ["keeps", "contested", "loses"]) {
			const r = ratio(seen(light["on-colour"] ?? "", by), seen(light[m] ?? "", by));
			assert.ok(
				r >= (by === null ? 4.5 : 3),
				`${by ?? "full colour"}: letters on ${m}: ${r.toFixed(2)}`,
			);
		}
	}
});

// A rule between parts need not be seen; the strong one marks fields and controls.
test("the strong rule marks controls at 3:1", () => {
	for (const [name, t] of Object.entries(themes)) {
		for (const g of grounds)
			assert.ok(
				ratio(t["rule-strong"] ?? "", t[g] ?? "") >= 3,
				`${name}: on ${g}: ${ratio(t["rule-strong"] ?? "", t[g] ?? "").toFixed(2)}`,
			);
	}
});
