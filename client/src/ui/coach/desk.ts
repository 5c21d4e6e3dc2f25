// What the coach has in hand: the selected man, what the next tap means, the
// chosen play, and everything he can do, once for buttons and keys alike.
import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Touch } from "../../board/pointer.ts";
import { flipped } from "../../store/compare.ts";
import type { BookCall, BookLook, BookPlay, Op, Place, Verdicts } from "../../wire/types.ts";
import { eyesOf, turn } from "../device.ts";
import type { Seat } from "../seat.ts";
import { Transport } from "./transport.ts";

/** What the next tap on the board means. */
export type Mode = "move" | "motion" | "block";

/** A row is marked as flipped for this long. */
const FLIP_MS = 5000;

export class Desk {
	readonly selected: Signal<string | null> = signal(null);
	readonly mode: Signal<Mode> = signal("move");
	readonly chosen: Signal<string> = signal("");
	readonly keysShown: Signal<boolean> = signal(false);
	/** Spots whose answer has just turned over with the call. */
	readonly flips: Signal<readonly string[]> = signal([]);
	readonly looks: ReadonlySignal<readonly BookLook[]>;
	readonly calls: ReadonlySignal<readonly BookCall[]>;
	/** Plays of the look's menu first, then the others. */
	readonly plays: ReadonlySignal<{ menu: readonly BookPlay[]; others: readonly BookPlay[] }>;
	readonly frozen: ReadonlySignal<boolean>;
	readonly transport: Transport;
	private lastCall = "";
	private stops: (() => void)[] = [];

	constructor(readonly seat: Seat) {
		this.looks = computed(() => seat.book.value?.looks ?? []);
		this.calls = computed(() => seat.book.value?.calls ?? []);
		this.frozen = computed(() => (seat.state.value?.moment.play ?? "") !== "");
		this.transport = new Transport(seat);
		this.plays = computed(() => {
			const all = seat.book.value?.plays ?? [];
			const look = this.looks.value.find((l) => l.id === seat.state.value?.look);
			const menu = look?.menu ?? [];
			return {
				menu: menu.flatMap((id) => all.find((p) => p.id === id) ?? []),
				others: all.filter((p) => !menu.includes(p.id)),
			};
		});
	}

	start(): void {
		this.stops.push(this.watchFlips());
	}

	stop(): void {
		for (const s of this.stops.splice(0)) s();
	}

	do(op: Op): void {
		this.seat.acts.do(op);
	}

	select(who: string | null): void {
		this.selected.value = who;
		this.mode.value = "move";
	}

	look(id: string): void {
		this.select(null);
		this.do({ do: "look", look: id });
	}

	/** nextLook goes through the looks of the book, either way. */
	nextLook(step: 1 | -1): void {
		const all = this.looks.value;
		const at = all.findIndex((l) => l.id === this.seat.state.value?.look);
		const next = all[(at + step + all.length) % all.length];
		if (next !== undefined) this.look(next.id);
	}

	call(id: string): void {
		const now = this.seat.state.value?.call;
		if (now === undefined || now === id) return;
		this.lastCall = now;
		this.do({ do: "call", call: id });
	}

	/** backCall toggles to the call before this one. */
	backCall(): void {
		const known = this.calls.value.some((c) => c.id === this.lastCall);
		const other = known
			? this.lastCall
			: this.calls.value.find((c) => c.id !== this.seat.state.value?.call)?.id;
		if (other !== undefined) this.call(other);
	}

	/** play is the one a freeze would take. */
	get play(): string {
		const { menu, others } = this.plays.value;
		const all = [...menu, ...others];
		return (all.find((p) => p.id === this.chosen.value) ?? all[0])?.id ?? "";
	}

	choose(play: string): void {
		this.chosen.value = play;
		if (this.frozen.value) this.freeze();
		else if (this.seat.reel.rep.value !== null) this.snap();
	}

	/** snap runs the chosen play, as it was run before if it is the same. */
	snap(): void {
		if (this.play !== "") this.transport.snap(this.play);
	}

	freeze(): void {
		this.select(null);
		if (this.play !== "") this.do({ do: "freeze", play: this.play });
	}

	thaw(): void {
		this.select(null);
		this.do({ do: "thaw" });
	}

	otherSide(): void {
		const side = this.seat.state.value?.side;
		if (side !== undefined) this.do({ do: "side", side: side === "right" ? "left" : "right" });
	}

	point(): void {
		const who = this.selected.value;
		if (who !== null) this.seat.link.point({ who });
	}

	/** pick is a tap on a man's row: he is selected here and pointed at everywhere. */
	pick(who: string): void {
		this.select(who);
		this.seat.link.point({ who });
	}

	motion(): void {
		const who = this.selected.value;
		if (who !== null && who in (this.seat.state.value?.men ?? {}) && !this.frozen.value) {
			this.mode.value = this.mode.value === "motion" ? "move" : "motion";
		}
	}

	/** block says who the selected man of the offense blocks; empty: nobody. */
	block(on: string): void {
		const by = this.selected.value;
		const moment = this.seat.state.value?.moment;
		this.mode.value = "move";
		if (by === null || moment === undefined) return;
		const others = moment.blocks.filter((b) => b.by !== by);
		this.do({ do: "blocks", blocks: on === "" ? others : [...others, { by, on }] });
	}

	late(): void {
		const who = this.selected.value;
		const s = this.seat.state.value;
		if (who === null || s === null || !this.frozen.value || !(who in s.spots)) return;
		this.do({ do: "late", who, on: !s.moment.late.includes(who) });
	}

	step(who: string, x: number, y: number, far: boolean): void {
		if (this.seat.reel.rep.value !== null) return;
		const by = far ? 36 : 18;
		const t = eyesOf.coach.value === "offense" ? 1 : -1;
		this.seat.hands.step(who, [x * by * t, y * by * -t]);
	}

	turn(): void {
		turn(eyesOf.coach);
	}

	/** touch is what a finger on the board does. */
	readonly touch: Touch = {
		grab: (who) => {
			if (this.mode.value !== "move" || who === null) return null;
			const at = this.seat.places.value[who];
			return at === undefined ? null : { who, at };
		},
		take: (who, at) => {
			this.select(who);
			// A hand on a man ends the rep: he is moved where he lines up.
			if (this.seat.reel.rep.value !== null) this.transport.set();
			this.seat.hands.take(who, at);
		},
		move: (who, at) => this.seat.hands.move(who, at),
		drop: () => this.seat.hands.drop(),
		tap: (who, at) => this.tap(who, at),
	};

	private tap(who: string | null, at: Place): void {
		const sel = this.selected.value;
		const s = this.seat.state.value;
		if (s === null) return;
		const whole: Place = [Math.round(at[0]) + 0, Math.round(at[1]) + 0];
		if (this.mode.value === "motion" && sel !== null) {
			this.mode.value = "move";
			this.do({ do: "motion", who: sel, at: whole });
			return;
		}
		if (this.mode.value === "block") {
			if (who !== null && who in s.spots) this.block(who);
			return;
		}
		if (who !== null) this.select(who === sel ? null : who);
		else if (this.seat.reel.rep.value !== null) this.select(null);
		else if (sel !== null) this.do({ do: "place", who: sel, at: whole });
	}

	/** watchFlips compares the answers before and after a call, on the same look. */
	private watchFlips(): () => void {
		let last: { call: string; look: string; v: Verdicts } | null = null;
		let forget: (() => void) | null = null;
		return effect(() => {
			const { verdicts: v, state } = this.seat.link.model.value;
			if (v === null || state === null || v.on < this.factOfCall(state.call)) return;
			const now = { call: state.call, look: state.look, v };
			const old = last;
			last = now;
			if (old === null || old.call === now.call || old.look !== now.look) return;
			this.flips.value = flipped(old.v, v);
			forget?.();
			forget = this.seat.clock.after(FLIP_MS, () => {
				this.flips.value = [];
			});
		});
	}

	private callSince: { call: string; seq: number } = { call: "", seq: 0 };

	/** factOfCall is the fact since which a call stands: older verdicts are not about it. */
	private factOfCall(call: string): number {
		if (this.callSince.call !== call)
			this.callSince = { call, seq: this.seat.link.model.peek().seq };
		return this.callSince.seq;
	}
}
