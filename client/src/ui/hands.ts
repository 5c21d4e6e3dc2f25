// Moving men: a finger, a step button or an arrow key. The man follows at once
// on this screen; the others hear of it once a frame, and the settled place
// when he is let go.
import { type Signal, signal } from "@preact/signals";
import { clampMan } from "../field/ground.ts";
import type { Op, Place, State } from "../wire/types.ts";

export interface Held {
	readonly who: string;
	readonly at: Place;
}

export interface HandTools {
	state(): State | null;
	/** Where a man is now. */
	place(who: string): Place | undefined;
	drag(who: string, at: Place): void;
	act(op: Op): void;
	/** Runs before the next frame is drawn. */
	frame(run: () => void): void;
	after(ms: number, run: () => void): () => void;
}

/** Steps in quick succession settle as one operation after this pause. */
const PAUSE_MS = 220;

export class Hands {
	readonly held: Signal<Held | null> = signal(null);
	private asked = false;
	private stop: (() => void) | null = null;

	constructor(private readonly tools: HandTools) {}

	/** take begins a drag. */
	take(who: string, at: Place): void {
		if (this.held.value !== null && this.held.value.who !== who) this.drop();
		this.stop?.();
		this.stop = null;
		this.put(who, at);
	}

	move(who: string, at: Place): void {
		if (this.held.value?.who === who) this.put(who, at);
	}

	/** drop settles the man where he is. */
	drop(): void {
		const held = this.held.value;
		this.stop?.();
		this.stop = null;
		if (held === null) return;
		this.tools.act({ do: "place", who: held.who, at: held.at });
		this.held.value = null;
	}

	/** letGo forgets the drag: the picture under it has gone. */
	letGo(): void {
		this.stop?.();
		this.stop = null;
		this.held.value = null;
	}

	/** step moves a man by so many inches and settles him after a pause. */
	step(who: string, by: Place): void {
		const from = this.held.value?.who === who ? this.held.value.at : this.tools.place(who);
		if (from === undefined) return;
		this.take(who, [from[0] + by[0], from[1] + by[1]]);
		this.stop = this.tools.after(PAUSE_MS, () => this.drop());
	}

	private put(who: string, at: Place): void {
		const state = this.tools.state();
		if (state === null) return;
		const offense = who in state.men && state.moment.play === "";
		this.held.value = { who, at: clampMan(state.ball, at, offense) };
		if (this.asked) return;
		this.asked = true;
		this.tools.frame(() => {
			this.asked = false;
			const held = this.held.value;
			if (held !== null) this.tools.drag(held.who, held.at);
		});
	}
}
