// The operations of this device: numbered, kept until the hub has them on
// stable storage, and for a while after, should the hub come back with less
// than it had acknowledged.
import type { Op, OpUp } from "../wire/types.ts";
import { type Keep, parsed } from "./keep.ts";

export interface Entry {
	readonly n: number;
	readonly base: number;
	readonly op: Op;
	/** The fact that it became; -1 while it is not acknowledged. */
	readonly seq: number;
}

/** More waiting operations than this are not taken. */
export const MOST_WAITING = 500;
/** So many acknowledged operations are remembered. */
const MOST_DONE = 256;

export class Outbox {
	client: string;
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
		return this.kept.filter((e) => e.seq < 0);
	}

	/** add numbers an operation; null if too many are waiting already. */
	add(op: Op, base: number): Entry | null {
		if (this.waiting.length >= MOST_WAITING) return null;
		const entry: Entry = { n: this.nextN++, base, op, seq: -1 };
		this.kept.push(entry);
		this.save();
		return entry;
	}

	/**
	 * welcomed takes the hub's count of our operations and returns those it
	 * does not have, in order and without a gap in their numbers. What is above
	 * the count was never applied, so it may be numbered anew.
	 */
	welcomed(counter: number): readonly Entry[] {
		// Waiting operations that the hub counts were applied; the facts that
		// tell are in the state or come with the welcome.
		const had = this.kept.filter((e) => e.n <= counter && e.seq >= 0);
		const missing = this.kept.filter((e) => e.n > counter);
		let n = counter;
		const again = missing.map((e): Entry => ({ ...e, n: ++n, seq: -1 }));
		this.nextN = n + 1;
		this.kept = [...had, ...again];
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

	/** restart begins a new life under a new name, keeping what waits. */
	restart(): void {
		this.client = this.fresh();
		let n = 0;
		this.kept = this.waiting.map((e) => ({ ...e, n: ++n }));
		this.nextN = n + 1;
		this.save();
	}

	private save(): void {
		this.keep.set(
			this.key,
			JSON.stringify({ client: this.client, next: this.nextN, entries: this.kept }),
		);
	}

	private load(): void {
		const kept = parsed(this.keep.get(this.key));
		if (isKept(kept)) {
			this.client = kept.client;
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
	next: number;
	entries: Entry[];
}

/** isKept trusts only what has the shape of our own writing. */
function isKept(v: unknown): v is Kept {
	if (typeof v !== "object" || v === null) return false;
	const { client, next, entries } = v as Partial<Kept>;
	return (
		typeof client === "string" &&
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
