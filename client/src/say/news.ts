// What is new for one defender.
import { keyChanged, recounted } from "../store/compare.ts";
import type { Verdicts } from "../wire/types.ts";
import { capital } from "./answers.ts";

/** countSays words what changed for one defender between two verdicts; "" if nothing did. */
export function countSays(old: Verdicts, now: Verdicts, label: string, newLook: boolean): string {
	const a = old.spots[label];
	const b = now.spots[label];
	if (b === undefined) return "";
	// On the other half his count starts anew: then only his key is news.
	const changes =
		a === undefined || a.half === b.half
			? recounted(old.look.numbers, now.look.numbers, b.half)
			: [];
	const parts = changes.map((c) => `#${c.number} is ${c.tag}`);
	if (a !== undefined && keyChanged(a, b) && b.assignment.key !== "")
		parts.push(`read ${b.assignment.key}`);
	if (parts.length === 0) return "";
	if (changes.length === 0) return capital(`${parts.join("")} now`);
	return `${newLook ? "New look" : "Count changed"}: ${parts.join(", ")}`;
}
