// Time, chance and the socket as the rest of sync sees them, so that tests
// bring their own.

export interface Clock {
	/** Milliseconds that only go forward. */
	now(): number;
	/** Runs once after a while; the result takes it back. */
	after(ms: number, run: () => void): () => void;
	/** A random part, 0 <= r < 1. */
	chance(): number;
	/** Time of day, for people's eyes only. */
	day(): Date;
}

export interface Socket {
	send(text: string): void;
	close(code?: number): void;
	onopen: (() => void) | null;
	onmessage: ((text: string) => void) | null;
	/** Called once, also after a failure to connect; code 1006 if none was given. */
	onclose: ((code: number) => void) | null;
}

export type Dial = () => Socket;

export const browserClock: Clock = {
	now: () => performance.now(),
	after: (ms, run) => {
		const id = setTimeout(run, ms);
		return () => clearTimeout(id);
	},
	chance: Math.random,
	day: () => new Date(),
};

/** dialer opens the websocket of the page's own origin. */
export function dialer(place: Location, protocol: string): Dial {
	const url = `${place.protocol === "https:" ? "wss" : "ws"}://${place.host}/live`;
	return () => {
		const ws = new WebSocket(url, protocol);
		const socket: Socket = {
			send: (text) => ws.send(text),
			close: (code) => ws.close(code),
			onopen: null,
			onmessage: null,
			onclose: null,
		};
		ws.onopen = () => socket.onopen?.();
		ws.onmessage = (e: MessageEvent<unknown>) => {
			if (typeof e.data === "string") socket.onmessage?.(e.data);
		};
		ws.onclose = (e) => socket.onclose?.(e.code);
		return socket;
	};
}
