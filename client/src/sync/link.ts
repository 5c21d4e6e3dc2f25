// The link of one page to one session: it says hello, resumes, sends what is
// waiting, answers beats, notices silence and comes back. It owns the model and
// the outbox; screens read its signals and call do, drag and point.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { applyChange } from "../store/change.ts";
import { type Model, nothing, reduce } from "../store/model.ts";
import { predict } from "../store/predict.ts";
import { readDown } from "../wire/decode.ts";
import {
	Close,
	Code,
	type Down,
	type Op,
	type Place,
	type Point,
	type Refused,
	type State,
	type Up,
	VERSION,
} from "../wire/types.ts";
import { backoff } from "./backoff.ts";
import type { Clock, Dial, Socket } from "./clock.ts";
import type { Connection } from "./connection.ts";
import { HubTime } from "./hubtime.ts";
import type { Keep } from "./keep.ts";
import { type Entry, MOST_WAITING, Outbox, opUp, WAITS } from "./outbox.ts";

/** Without a word for this long the other end counts as gone. The hub beats every 2 s. */
export const SILENCE_MS = 6000;
/** An attempt that has not been welcomed after this long is given up. */
export const ATTEMPT_MS = 5000;
/** A page that wakes up waits this long for a word before it dials anew. */
export const WAKE_MS = 2500;
/** A second's timer that is this late means that the device slept. */
const SLEPT_MS = 5000;
const TICK_MS = 1000;
/** A message that cannot be read so often in a row means another release. */
const MOST_UNREADABLE = 3;

export interface Target {
	readonly token: string;
	/** Needed with a coach's token. */
	readonly session?: string;
	readonly wall?: boolean;
	/** Under which the outbox is kept: session and role. */
	readonly key: string;
}

export interface Tools {
	readonly clock: Clock;
	readonly dial: Dial;
	readonly keep: Keep;
	readonly newId: () => string;
	/** Whether the page is hidden; a hidden page does not try again. */
	readonly hidden: () => boolean;
}

/** A refusal and the operation it is about, for the screen to say. */
export interface Notice {
	readonly id: number;
	readonly op: Op | null;
	readonly code: string;
	readonly detail: string;
}

export class Link {
	readonly model: Signal<Model> = signal(nothing);
	readonly connection: Signal<Connection> = signal({ kind: "idle" });
	/** Operations that the hub has not settled yet. */
	readonly pending: Signal<readonly Entry[]> = signal([]);
	readonly notice: Signal<Notice | null> = signal(null);
	/** Counts up about once a second, for ages on screens. */
	readonly ticks: Signal<number> = signal(0);
	/** The settled state with our own waiting operations on top. */
	readonly state: ReadonlySignal<State | null>;

	private readonly hubTime = new HubTime();
	private outbox: Outbox;
	private socket: Socket | null = null;
	private welcomed = false;
	private heard = 0;
	private attempt = 0;
	private waitMs = 0;
	private unreadable = 0;
	private whole = false;
	private suspect = 0;
	private notices = 0;
	private stopRetry: (() => void) | null = null;
	private stopAttempt: (() => void) | null = null;
	private stopResend: (() => void) | null = null;
	private stopTick: (() => void) | null = null;
	private ticked = 0;

	constructor(
		readonly target: Target,
		private readonly tools: Tools,
	) {
		this.outbox = new Outbox(tools.keep, `halfline.ops.${target.key}`, tools.newId);
		this.pending.value = this.unsettled();
		this.state = computed(() => {
			const { state, member } = this.model.value;
			if (state === null) return null;
			let s = state;
			for (const e of this.pending.value) {
				const change = predict(s, e.op, member);
				if (change !== null) s = applyChange(s, change);
			}
			return s;
		});
	}

	get client(): string {
		return this.outbox.client;
	}

	/** hubNow is the hub's time now, null before any was heard. */
	hubNow(): number | null {
		return this.hubTime.at(this.tools.clock.now());
	}

	start(): void {
		if (this.connection.value.kind !== "idle") return;
		this.connection.value = { kind: "joining" };
		this.ticked = this.tools.clock.now();
		this.tick();
		this.open();
	}

	/** stop leaves for good, as when the page shows another session. */
	stop(): void {
		this.stopTick?.();
		this.drop();
		this.stopRetry?.();
		this.stopResend?.();
		this.connection.value = { kind: "idle" };
	}

	/**
	 * do sends an operation, or keeps it until there is a link. It returns
	 * false if too many are waiting already.
	 */
	do(op: Op): boolean {
		const entry = this.outbox.add(op, this.model.value.seq);
		if (entry === null) {
			this.say(op, "too-many-waiting", String(MOST_WAITING));
			return false;
		}
		this.pending.value = this.unsettled();
		if (this.welcomed && this.stopResend === null) this.send({ op: opUp(entry) });
		return true;
	}

	/** drag tells where a man is while he is dragged; it may be lost. */
	drag(who: string, at: Place): void {
		if (this.welcomed) this.send({ drag: { who, at } });
	}

	/** point shows everybody a man or a place; it may be lost. */
	point(point: Point): void {
		if (this.welcomed) this.send({ point });
	}

	/**
	 * wake is called when the page is shown again or the network is back: a
	 * link that looks alive must prove it, a lost one is tried at once.
	 */
	wake(): void {
		const c = this.connection.value;
		if (c.kind === "ended" || c.kind === "idle") return;
		this.attempt = 0;
		if (this.welcomed) {
			this.suspect = this.tools.clock.now();
			this.tools.clock.after(WAKE_MS, () => this.checkSuspect());
		} else if (this.socket === null) {
			this.stopRetry?.();
			this.open();
		}
	}

	private checkSuspect(): void {
		if (this.suspect === 0 || !this.welcomed) return;
		if (this.tools.clock.now() - this.suspect < WAKE_MS) return;
		this.suspect = 0;
		this.lost();
	}

	private open(): void {
		this.stopRetry = null;
		this.drop();
		const socket = this.tools.dial();
		this.socket = socket;
		socket.onopen = () => this.hello(socket);
		socket.onmessage = (text) => this.receive(socket, text);
		socket.onclose = (code) => {
			if (this.socket !== socket) return;
			this.socket = null;
			if (code >= 4500 && code < 5000) this.end(code);
			else this.lost();
		};
		this.stopAttempt = this.tools.clock.after(ATTEMPT_MS, () => {
			if (this.socket === socket && !this.welcomed) this.lost();
		});
	}

	private hello(socket: Socket): void {
		const { token, session, wall } = this.target;
		const { epoch, seq, chain, state, torn } = this.model.value;
		const can = state !== null && !torn && !this.whole;
		const up: Up = {
			hello: {
				v: VERSION,
				token,
				...(session === undefined ? {} : { session }),
				client: this.outbox.client,
				...(wall === true ? { wall } : {}),
				...(can ? { resume: { epoch, have: seq, chain } } : {}),
			},
		};
		socket.send(JSON.stringify(up));
	}

	private receive(socket: Socket, text: string): void {
		if (this.socket !== socket) return;
		this.heard = this.tools.clock.now();
		this.suspect = 0;
		let frame: Down;
		try {
			frame = readDown(text);
		} catch {
			this.unreadable++;
			this.whole = true;
			if (this.unreadable >= MOST_UNREADABLE) this.end(Close.Version);
			else this.lost();
			return;
		}
		if (frame.welcome !== undefined) {
			this.hubTime.forget();
			this.hubTime.hear(frame.welcome.t, 0, this.heard);
		}
		if (frame.beat !== undefined) {
			this.hubTime.hear(frame.beat.t, frame.beat.rtt ?? 0, this.heard);
		}
		const model = reduce(this.model.value, frame, this.heard);
		for (const f of frame.facts ?? []) {
			if (f.client === this.outbox.client && f.n !== undefined) this.outbox.acked(f.n, f.seq);
		}
		for (const a of frame.acks ?? []) this.outbox.acked(a.n, a.seq);
		this.model.value = model;
		if (frame.welcome !== undefined) this.welcome(frame.welcome.counter, frame.welcome.epoch);
		for (const r of frame.refused ?? []) this.refused(r);
		this.pending.value = this.unsettled();
		if (frame.beat !== undefined) this.send({ beat: { t: frame.beat.t } });
		if (frame.bye !== undefined) this.waitMs = frame.bye.wait_ms ?? 0;
		if (model.torn) {
			this.whole = true;
			this.lost();
		}
	}

	private welcome(counter: number, epoch: string): void {
		this.stopAttempt?.();
		this.stopAttempt = null;
		this.welcomed = true;
		this.attempt = 0;
		this.unreadable = 0;
		this.whole = false;
		this.connection.value = { kind: "live" };
		for (const e of this.outbox.welcomed(counter, epoch)) this.send({ op: opUp(e) });
	}

	private refused(r: Refused): void {
		if (r.code === Code.Storage || r.code === Code.SlowDown) {
			this.resendAfter(r.retry_ms ?? 1000);
			return;
		}
		if (r.code === Code.Gap) {
			// What follows an operation that is to be sent again is a gap too; any
			// other gap means that our counts differ: the next welcome mends that.
			if (this.stopResend === null && r.n > 0) this.lost();
			return;
		}
		const entry = r.n > 0 ? this.outbox.refused(r.n) : undefined;
		this.say(entry?.op ?? null, r.code, r.detail ?? "");
	}

	private resendAfter(ms: number): void {
		if (this.stopResend !== null) return;
		this.stopResend = this.tools.clock.after(ms, () => {
			this.stopResend = null;
			if (!this.welcomed) return;
			for (const e of this.outbox.waiting) this.send({ op: opUp(e) });
		});
	}

	private send(up: Up): void {
		this.socket?.send(JSON.stringify(up));
	}

	private say(op: Op | null, code: string, detail: string): void {
		this.notice.value = { id: ++this.notices, op, code, detail };
	}

	private unsettled(): readonly Entry[] {
		const { seq } = this.model.value;
		return this.outbox.entries.filter((e) => e.seq === WAITS || e.seq > seq);
	}

	/** drop lets go of the socket without hearing of it again. */
	private drop(): void {
		const socket = this.socket;
		this.socket = null;
		this.welcomed = false;
		this.suspect = 0;
		this.stopAttempt?.();
		this.stopAttempt = null;
		this.stopResend?.();
		this.stopResend = null;
		socket?.close();
	}

	private lost(): void {
		const c = this.connection.value;
		this.drop();
		if (c.kind === "ended" || c.kind === "idle") return;
		if (c.kind === "live") {
			const { clock } = this.tools;
			this.connection.value = { kind: "resuming", lost: clock.now(), day: clock.day() };
		}
		if (this.tools.hidden()) return; // wake tries again
		const { chance } = this.tools.clock;
		const wait =
			this.waitMs > 0 ? Math.floor(chance() * this.waitMs) : backoff(this.attempt, chance());
		this.waitMs = 0;
		this.attempt++;
		this.stopRetry?.();
		this.stopRetry = this.tools.clock.after(wait, () => this.open());
	}

	private end(code: number): void {
		this.drop();
		this.stopRetry?.();
		this.connection.value = { kind: "ended", code };
	}

	private tick(): void {
		const now = this.tools.clock.now();
		const slept = now - this.ticked > SLEPT_MS;
		this.ticked = now;
		this.ticks.value++;
		if (slept) this.wake();
		else if (this.welcomed && now - this.heard >= SILENCE_MS) {
			this.attempt = 0;
			this.lost();
		}
		this.stopTick = this.tools.clock.after(TICK_MS, () => this.tick());
	}
}
