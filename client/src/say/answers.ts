// The answer in words: first what it is, then why, then what to change.

import type { SignKind } from "../board/Sign.tsx";
import type { BookOut, FaultAnswer, RuleAnswer, SpotAnswer, Verdicts } from "../wire/types.ts";

/** What the top of a defender's screen says. */
export interface AnswerLine {
	readonly sign: SignKind | null;
	readonly head: string;
	readonly sub: string;
	readonly fix: string;
}

export const HEAD: Record<SignKind, string> = { yes: "Keeps", contested: "Contested", no: "Loses" };

/** seconds without a sign: 0.27 gives "0.3 s", never broken over two lines, and a gap below a tenth two digits. */
export function seconds(s: number): string {
	const a = Math.abs(s);
	return `${a < 0.095 ? a.toFixed(2) : a.toFixed(1)}\u00a0s`;
}

export const capital = (t: string): string => t.charAt(0).toUpperCase() + t.slice(1);

export const playName = (book: BookOut | null, id: string): string =>
	book?.plays.find((p) => p.id === id)?.name ?? id;

/** ruleSays words where he stands against his rule; "" if he is right. */
export function ruleSays(rule: RuleAnswer): string {
	const off = rule.landmark === "" ? "" : ` ${rule.landmark}`;
	switch (rule.verdict) {
		case "right":
			return "";
		case "wrong-side":
			return off === "" ? "on the wrong side" : `wrong side of${off}`;
		case "too-tight":
			return off === "" ? "too tight" : `too tight to${off}`;
		case "too-wide":
			return off === "" ? "too wide" : `too wide of${off}`;
		case "too-deep":
			return "too deep";
		case "too-shallow":
			return "too shallow";
	}
}

/** marginSays words the race: "0.3 s ahead of H on Toss". */
export function marginSays(a: SpotAnswer, book: BookOut | null): string {
	const { margin_s: margin, by, against } = a.leverage;
	if (margin === null) return "no race in this job";
	const on = against === "" ? "" : ` on ${playName(book, against)}`;
	const whom = by === "" ? "the ball" : by;
	if (a.leverage.keeps === "contested") return `within 0.1\u00a0s of ${whom}${on}`;
	if (margin < 0) return `${seconds(margin)} behind ${whom}${on}`;
	return `${seconds(margin)} ahead of ${whom}${on}`;
}

/** lineOf is the answer of one defender. */
export function lineOf(a: SpotAnswer, book: BookOut | null): AnswerLine {
	const rule = ruleSays(a.rule);
	const margin = marginSays(a, book);
	const stay = a.fix.move[0] === 0 && a.fix.move[1] === 0;
	return {
		sign: a.leverage.keeps,
		head: HEAD[a.leverage.keeps],
		sub: capital(rule === "" ? margin : `${rule}; ${margin}`),
		fix: capital(a.fix.say === "" ? (stay ? "stay" : "move along the arrow") : a.fix.say),
	};
}

const FAULTS: Record<string, string> = {
	"over-the-top": "over the top",
	"ducks-under": "ducks under",
	"edge-lost": "edge lost",
	late: "late",
	"late-alley": "late to the alley",
	"wrong-lane": "in the wrong lane",
	"crack-not-replaced": "crack not replaced",
	"two-in-one-lane": "two in one lane",
	"left-block-early": "left the block early",
	"late-shed": "late off the block",
	"trigger-early": "triggered early",
	"receiver-free": "receiver free",
	"wrong-side": "on the wrong side",
	"off-depth": "off his depth",
};

/** faultSays names a kind of fault; one from a later hub is shown without its hyphens. */
export const faultSays = (kind: string): string => FAULTS[kind] ?? kind.replaceAll("-", " ");

/** costSays words what a fault opened and who saved it. */
export function costSays(f: FaultAnswer): string {
	const parts: string[] = [];
	const cost = f.cost_yd === null ? "" : `${Math.round(f.cost_yd * 10) / 10 + 0} yd`;
	if (f.opens !== null) parts.push(`opens lane ${f.opens}${cost === "" ? "" : `: ${cost}`}`);
	else if (cost !== "") parts.push(`costs ${cost}`);
	if (f.saved_by !== "") parts.push(`saved by ${f.saved_by}`);
	return parts.length === 0 ? "opens nothing" : parts.join(", ");
}

const YOURS: readonly (readonly [RegExp, string])[] = [
	[/\bis his\b(?=[;,.]|$)/g, "is yours"],
	[/\bin front of him\b/g, "in front of you"],
	[/\bhis\b/g, "your"],
	[/\bhe is\b/g, "you are"],
	[/\bhe (get|fit)s\b/g, "you $1"],
	[/\bhe\b/g, "you"],
];

/** toHim turns why a man is at fault into words to that man. */
export const toHim = (because: string): string =>
	YOURS.reduce((text, [of, to]) => text.replace(of, to), because);

/** momentLine is the answer of one defender in a frozen moment. */
export function momentLine(label: string, v: Verdicts): AnswerLine {
	const fault = v.faults.find((f) => f.who === label);
	if (fault !== undefined) {
		return {
			sign: "no",
			head: capital(faultSays(fault.kind)),
			sub: capital(toHim(fault.because)),
			fix: capital(costSays(fault)),
		};
	}
	const fits = v.lanes.find((l) => l.fit_by === label || l.shut_by === label);
	const first = v.faults[0];
	const job =
		fits === undefined
			? ""
			: fits.fit_by === label
				? `fits lane ${fits.n}`
				: `shuts lane ${fits.n}`;
	return {
		sign: "yes",
		head: "Clean",
		sub: capital(
			job === ""
				? "no fault of yours"
				: `you ${job.replace("fits", "fit").replace("shuts", "shut")}`,
		),
		fix:
			first === undefined
				? "Every lane is shut or fit."
				: `First cause: ${first.who}, ${faultSays(first.kind)}.`,
	};
}

/** What every margin rests on; shown wherever a why is. */
export const ASSUMES =
	"Model: every man starts from a stand, reacts, then runs at the speed the book gives him. Under a tenth of a second counts as contested.";
