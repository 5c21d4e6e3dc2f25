// The operations of this device: numbered, kept until the hub has them on
// stable storage, and for a while after, should the hub come back with less
// than it had acknowledged.
import type { Op, OpUp } from "../wire/types.ts";
import { type Keep, parsed } from "./keep.ts";

export interface Entry {
	readonly n: number;
	readonly base: number;
	readonly op: Op;
	/** The fact that it became, 0 if it changed nothing; below 0 it is not acknowledged. */
	readonly seq: number;
}

/** Not with the hub, as far as we know. */
export const WAITS = -1;
/** The hub counts it, but has not said that it is on stable storage. */
const COUNTED = -2;

/** More waiting operations than this are not taken. */
export const MOST_WAITING = 500;
/** So many acknowledged operations are remembered. */
const MOST_DONE = 256;

export class Outbox {
	client: string;
	/** The epoch in which the operations were acknowledged. */
	private epoch = "";
	private nextN = 1;
	private kept: Entry[] = [];

	constructor(
		private readonly keep: Keep,
		private readonly key: string,
		private readonly fresh: () => string,
	) {
		this.client = "";
		this.load();
	}

	/** All that is remembered, in order. */
	get entries(): readonly Entry[] {
		return this.kept;
	}

	/** What the hub has not acknowledged, in order. */
	get waiting(): readonly Entry[] {
		return this.kept.filter((e) => e.seq === WAITS);
	}

	/** add numbers an operation; null if too many are waiting already. */
	add(op: Op, base: number): Entry | null {
		if (this.waiting.length >= MOST_WAITING) return null;
		const entry: Entry = { n: this.nextN++, base, op, seq: WAITS };
		this.kept.push(entry);
		this.save();
		return entry;
	}

	/**
	 * welcomed takes the hub's count of our operations and returns those to be
	 * sent again, in order and without a gap in their numbers: what is above the
	 * count was never applied, so it may be numbered anew.
	 *
	 * Acknowledged operations go again only in another epoch, when the hub came
	 * back with less than it had acknowledged. In the same one they are done:
	 * the count may be below them only where they changed nothing, and doing
	 * nothing now could be doing something.
	 */
	welcomed(counter: number, epoch: string): readonly Entry[] {
		const lesser = this.epoch !== "" && this.epoch !== epoch;
		this.epoch = epoch;
		const old: Entry[] = [];
		const again: Entry[] = [];
		let n = counter;
		for (const e of this.kept) {
			if (e.n <= counter) old.push(e.seq === WAITS ? { ...e, seq: COUNTED } : e);
			else if (e.seq < 0 || (lesser && e.seq > 0)) again.push({ ...e, n: ++n, seq: WAITS });
		}
		this.nextN = n + 1;
		this.kept = [...old, ...again];
		this.save();
		return again;
	}

	acked(n: number, seq: number): void {
		this.kept = this.kept.map((e) => (e.n === n && e.seq < 0 ? { ...e, seq } : e));
		const done = this.kept.filter((e) => e.seq >= 0).length;
		if (done > MOST_DONE) this.kept.splice(0, done - MOST_DONE);
		this.save();
	}

	/** refused takes an operation out and returns it. */
	refused(n: number): Entry | undefined {
		const entry = this.kept.find((e) => e.n === n && e.seq < 0);
		this.kept = this.kept.filter((e) => e !== entry);
		this.save();
		return entry;
	}

	private save(): void {
		this.keep.set(
			this.key,
			JSON.stringify({
				client: this.client,
				epoch: this.epoch,
				next: this.nextN,
				entries: this.kept,
			}),
		);
	}

	private load(): void {
		const kept = parsed(this.keep.get(this.key));
		if (isKept(kept)) {
			this.client = kept.client;
			this.epoch = kept.epoch;
			this.nextN = kept.next;
			this.kept = kept.entries;
		} else {
			this.client = this.fresh();
		}
	}
}

/** opUp is the entry as it travels. */
export const opUp = (e: Entry): OpUp => ({
	n: e.n,
	...(e.base > 0 ? { base: e.base } : {}),
	op: e.op,
});

interface Kept {
	client: string;
	epoch: string;
	next: number;
	entries: Entry[];
}

/** isKept trusts only what has the shape of our own writing. */
function isKept(v: unknown): v is Kept {
	if (typeof v !== "object" || v === null) return false;
	const { client, epoch, next, entries } = v as Partial<Kept>;
	return (
		typeof client === "string" &&
		typeof epoch === "string" &&
		/^[0-9a-f]{16}$/.test(client) &&
		typeof next === "number" &&
		Array.isArray(entries) &&
		entries.every(
			(e: unknown) =>
				typeof e === "object" &&
				e !== null &&
				typeof (e as Entry).n === "number" &&
				typeof (e as Entry).seq === "number" &&
				typeof (e as Entry).op?.do === "string",
		)
	);
}
