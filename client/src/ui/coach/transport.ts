// The coach's hands on a rep: snap, roll, freeze, scrub, speed, and what if.
import { type Signal, signal } from "@preact/signals";
import type { Op, Rep } from "../../wire/types.ts";
import type { Seat } from "../seat.ts";

export type Speed = "walk" | "half" | "full";
export const SPEEDS: readonly Speed[] = ["walk", "half", "full"];

/** While the slider is under a finger the others hear of it this often. */
const SCRUB_MS = 100;
/** A step of the keys and of the slider. */
export const STEP_MS = 100;

/** What of a rep is run. */
type What = Pick<Rep, "errors" | "lane" | "seed">;

export class Transport {
	/** The speed of the next rep. */
	private readonly next: Signal<Speed> = signal("full");
	private wait: (() => void) | null = null;

	constructor(private readonly seat: Seat) {}

	get speed(): Speed {
		const now = this.rep?.speed ?? "";
		return now === "" ? this.next.value : now;
	}

	private get rep(): Rep | null {
		return this.seat.reel.rep.value;
	}

	private do(op: Op): void {
		this.seat.acts.do(op);
	}

	/** snap runs a play from its beginning; the same play with what was asked of it. */
	snap(play: string, change: Partial<What> = {}): void {
		const { rep } = this;
		const same = rep !== null && rep.play === play ? rep : null;
		const errors = change.errors ?? same?.errors ?? {};
		const lane = change.lane ?? same?.lane ?? -1;
		const seed = change.seed ?? same?.seed ?? 0;
		const list = Object.entries(errors).map(([spot, rule]) => ({ spot, rule }));
		this.do({
			do: "snap",
			play,
			mode: this.speed,
			...(list.length > 0 ? { errors: list } : {}),
			...(lane >= 0 ? { lane } : {}),
			...(seed > 0 ? { seed } : {}),
		});
	}

	/** roll lets the rep roll from where it is, or freezes it there. */
	roll(): void {
		const { rep } = this;
		if (rep === null) return;
		const ms = Math.round(this.seat.reel.now());
		if (this.seat.reel.rolls()) this.do({ do: "stop", ms });
		else this.do({ do: "roll", ms: ms >= rep.until ? rep.from : ms });
	}

	setSpeed(speed: Speed): void {
		this.next.value = speed;
		if (this.seat.reel.rolls()) this.do({ do: "roll", mode: speed });
		else if (this.rep !== null) {
			this.do({ do: "stop", mode: speed, ms: Math.round(this.seat.reel.now()) });
		}
	}

	/** scrub puts the rep at a time, here at once. */
	scrub(to: number): void {
		const { rep } = this;
		if (rep === null) return;
		const ms = Math.min(Math.max(Math.round(to), rep.from), rep.until);
		this.seat.reel.scrubbed.value = ms;
		if (this.wait !== null) return;
		this.tell(ms);
	}

	private tell(ms: number): void {
		this.do({ do: "stop", ms });
		this.wait = this.seat.clock.after(SCRUB_MS, () => {
			this.wait = null;
			const now = this.seat.reel.scrubbed.value;
			if (now !== null && now !== ms) this.tell(now);
			else this.seat.reel.scrubbed.value = null;
		});
	}

	step(by: number): void {
		this.scrub(this.seat.reel.now() + by);
	}

	set(): void {
		this.do({ do: "set" });
	}

	/** breaks has a man break a rule on purpose, or play it right again: "". */
	breaks(spot: string, rule: string): void {
		const { rep } = this;
		if (rep === null) return;
		const { [spot]: _, ...others } = rep.errors;
		this.snap(rep.play, { errors: rule === "" ? others : { ...others, [spot]: rule } });
	}
}
