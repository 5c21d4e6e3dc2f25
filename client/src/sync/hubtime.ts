// The hub's time on this device. Reps roll by it, so that all screens are in
// step; a person's clock, which may be wrong, has no part in it.

/** So many of the last differences are kept. */
const KEPT = 8;

export class HubTime {
	private ahead: number[] = [];
	private half = 0;

	/**
	 * hear takes the hub's time t as it came at a time of this device, and how long
	 * the quickest beat was under way there and back, 0 if that is not known.
	 */
	hear(t: number, rtt: number, at: number): void {
		this.ahead = [...this.ahead, t - at].slice(-KEPT);
		if (rtt > 0) this.half = rtt / 2;
	}

	/** forget begins anew: another connection may have another hub. */
	forget(): void {
		this.ahead = [];
		this.half = 0;
	}

	/**
	 * at is the hub's time at a time of this device, null before any was heard. Of
	 * the last differences the greatest is the one that was under way the shortest,
	 * and about half of the quickest way there and back is missing from it.
	 */
	at(here: number): number | null {
		return this.ahead.length === 0 ? null : here + Math.max(...this.ahead) + this.half;
	}
}
