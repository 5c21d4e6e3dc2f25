// What changed between two verdicts, so that a screen can say it.
import type { Side } from "../field/ground.ts";
import type { Numbers, SpotAnswer, Verdicts } from "../wire/types.ts";

/** flipped lists the spots whose answer turns over between two calls on the same look. */
export function flipped(before: Verdicts, after: Verdicts): string[] {
	return Object.keys(after.spots).filter((label) => {
		const a = before.spots[label];
		const b = after.spots[label];
		if (a === undefined || b === undefined) return false;
		return (
			a.rule.side !== b.rule.side ||
			a.assignment.hat !== b.assignment.hat ||
			(a.leverage.keeps === "no") !== (b.leverage.keeps === "no")
		);
	});
}

/** A new number of a receiver, on the side that a defender counts. */
export interface Recount {
	readonly number: number;
	readonly tag: string;
}

/** recounted lists the numbers that went to another man on one side. */
export function recounted(before: Numbers, after: Numbers, side: Side): Recount[] {
	const changes: Recount[] = [];
	for (const [i, tag] of after[side].entries()) {
		if (before[side][i] !== tag) changes.push({ number: i + 1, tag });
	}
	return changes;
}

/** keyChanged tells whether a defender reads another man now. */
export const keyChanged = (before: SpotAnswer, after: SpotAnswer): boolean =>
	before.assignment.key !== after.assignment.key;

const WORST = { no: 0, contested: 1, yes: 2 } as const;

/** worstFirst orders the spots for the coach's rows: first causes, then the least margin. */
export function worstFirst(labels: readonly string[], v: Verdicts | null): string[] {
	const rank = (label: string): [number, number] => {
		const fault = v?.faults.findIndex((f) => f.who === label) ?? -1;
		if (fault >= 0) return [-1, fault];
		const answer = v?.spots[label];
		const sign = answer?.leverage.keeps ?? v?.signs[label];
		return [
			sign === undefined ? 3 : WORST[sign],
			answer?.leverage.margin_s ?? Number.POSITIVE_INFINITY,
		];
	};
	return [...labels].sort((a, b) => {
		const [ra, ma] = rank(a);
		const [rb, mb] = rank(b);
		return ra - rb || (ma === mb ? 0 : ma - mb) || a.localeCompare(b);
	});
}

/** keepCount is how many of the men whose sign is known keep leverage. */
export function keepCount(v: Verdicts): { keep: number; all: number } {
	const signs = Object.values(v.signs);
	return { keep: signs.filter((s) => s === "yes").length, all: signs.length };
}
