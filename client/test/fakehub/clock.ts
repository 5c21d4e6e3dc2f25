// A clock that goes only when a test says so, and sockets whose other end the
// test holds.
import type { Clock, Dial, Socket } from "../../src/sync/clock.ts";
import type { Keep } from "../../src/sync/keep.ts";
import type { Down, Up } from "../../src/wire/types.ts";

export class FakeClock implements Clock {
	#now = 1000;
	#timers: { at: number; run: () => void }[] = [];
	random = 0.5;
	/** Waits asked for, newest last. */
	readonly asked: number[] = [];

	now = (): number => this.#now;
	chance = (): number => this.random;
	day = (): Date => new Date(2026, 10, 24, 12, 4);
	after = (ms: number, run: () => void): (() => void) => {
		const timer = { at: this.#now + ms, run };
		this.#timers.push(timer);
		this.asked.push(ms);
		return () => {
			this.#timers = this.#timers.filter((t) => t !== timer);
		};
	};

	/** pass lets time go by and runs what falls due, in order. */
	pass(ms: number): void {
		const end = this.#now + ms;
		for (;;) {
			const due = this.#timers.filter((t) => t.at <= end).sort((a, b) => a.at - b.at)[0];
			if (due === undefined) break;
			this.#timers = this.#timers.filter((t) => t !== due);
			this.#now = Math.max(this.#now, due.at);
			due.run();
		}
		this.#now = end;
	}

	/** sleep lets time go by without running anything, as a sleeping device does. */
	sleep(ms: number): void {
		this.#now += ms;
	}
}

export class FakeSocket implements Socket {
	onopen: (() => void) | null = null;
	onmessage: ((text: string) => void) | null = null;
	onclose: ((code: number) => void) | null = null;
	readonly sent: Up[] = [];
	closed = false;

	send(text: string): void {
		this.sent.push(JSON.parse(text) as Up);
	}
	close(): void {
		this.closed = true;
	}
	open(): void {
		this.onopen?.();
	}
	down(frame: Down): void {
		this.onmessage?.(JSON.stringify(frame));
	}
	/** cut ends the connection from the hub's side. */
	cut(code = 1006): void {
		this.closed = true;
		this.onclose?.(code);
	}
}

export class Exchange {
	readonly sockets: FakeSocket[] = [];
	dial: Dial = () => {
		const s = new FakeSocket();
		this.sockets.push(s);
		return s;
	};
	/** The newest socket. */
	get last(): FakeSocket {
		const s = this.sockets.at(-1);
		if (s === undefined) throw new Error("nothing has dialled yet");
		return s;
	}
}

/** memoryKeep is a storage of a test's own; two links may share it. */
export function memoryKeep(): Keep {
	const kept = new Map<string, string>();
	return {
		get: (k) => kept.get(k) ?? null,
		set: (k, v) => void kept.set(k, v),
		drop: (k) => void kept.delete(k),
	};
}
