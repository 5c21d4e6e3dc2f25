// One's own operations, with a way back and forth.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { inverse, stillNeeded } from "../store/undo.ts";
import type { Link } from "../sync/link.ts";
import type { BookOut, Op } from "../wire/types.ts";

interface Done {
	readonly op: Op;
	readonly back: readonly Op[];
}

/** More steps back than this are forgotten. */
const MOST = 100;

export class Acts {
	private readonly done: Signal<readonly Done[]> = signal([]);
	private readonly undone: Signal<readonly Done[]> = signal([]);
	readonly canUndo: ReadonlySignal<boolean> = computed(() => this.done.value.length > 0);
	readonly canRedo: ReadonlySignal<boolean> = computed(() => this.undone.value.length > 0);

	constructor(
		private readonly link: Link,
		private readonly book: () => BookOut | null,
	) {
		link.notice.subscribe((n) => {
			// What was refused never happened.
			const { op } = n ?? { op: null };
			if (op !== null) this.done.value = this.done.value.filter((d) => d.op !== op);
		});
	}

	do(op: Op): void {
		const before = this.link.state.value;
		if (!this.link.do(op) || before === null) return;
		const back = inverse(op, before, this.book());
		if (back.length === 0) return;
		this.done.value = [...this.done.value, { op, back }].slice(-MOST);
		this.undone.value = [];
	}

	undo(): void {
		const last = this.done.value.at(-1);
		if (last === undefined) return;
		this.done.value = this.done.value.slice(0, -1);
		this.undone.value = [...this.undone.value, last];
		const now = this.link.state.value;
		for (const op of now === null ? last.back : stillNeeded(last.back, now)) this.link.do(op);
	}

	redo(): void {
		const last = this.undone.value.at(-1);
		if (last === undefined) return;
		this.undone.value = this.undone.value.slice(0, -1);
		this.done.value = [...this.done.value, last];
		this.link.do(last.op);
	}
}
