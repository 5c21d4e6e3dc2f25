// What a fact makes of the state.
import type { Change, State } from "../wire/types.ts";

function merge<T>(
	old: Readonly<Record<string, T>>,
	news: Readonly<Record<string, T | null>> | undefined,
): Record<string, T> {
	if (news === undefined) return old as Record<string, T>;
	const next: Record<string, T> = { ...old };
	for (const [k, v] of Object.entries(news)) {
		if (v === null) delete next[k];
		else next[k] = v;
	}
	return next;
}

/**
 * applyChange gives the state after a change: a key that is there replaces the
 * state's whole, except that men, spots and members hold only the entries that
 * change, null removing one.
 */
export function applyChange(state: State, change: Change): State {
	const { men, spots, members, ...whole } = change;
	return {
		...state,
		...whole,
		men: merge(state.men, men),
		spots: merge(state.spots, spots),
		members: merge(state.members, members),
	};
}
