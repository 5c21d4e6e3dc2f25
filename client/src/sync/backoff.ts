// When to try again: a random part of a bound that doubles, so that a room full
// of phones does not come back in one wave.

export const BASE_MS = 500;
export const CAP_MS = 15_000;

/** backoff is the wait before attempt n (0 is the first after a loss). */
export function backoff(attempt: number, chance: number): number {
	return Math.floor(chance * Math.min(CAP_MS, BASE_MS * 2 ** Math.min(attempt, 16)));
}
