// Where the link to the hub stands, as one of a few kinds.
import type { Clock } from "./clock.ts";

export type Connection =
	| { readonly kind: "idle" }
	/** First attempt: nothing has been heard of this session yet. */
	| { readonly kind: "joining" }
	/** The hub has welcomed us; heard is when something last came. */
	| { readonly kind: "live" }
	/** Lost, coming back. lost is the clock's time, day the time of day. */
	| { readonly kind: "resuming"; readonly lost: number; readonly day: Date }
	/** Over: the person must be told why (a close code). */
	| { readonly kind: "ended"; readonly code: number };

/** assertNever makes the compiler check that every kind has been thought of. */
export function assertNever(x: never): never {
	throw new Error(`cannot be: ${JSON.stringify(x)}`);
}

/** Losses shorter than this are called reconnecting, longer ones offline. */
export const BRIEF_MS = 3000;

export type LinkSign = "wait" | "live" | "back" | "off" | "over";

/** linkSign is what a screen shows of the link. */
export function linkSign(c: Connection, clock: Clock): LinkSign {
	switch (c.kind) {
		case "idle":
		case "joining":
			return "wait";
		case "live":
			return "live";
		case "resuming":
			return clock.now() - c.lost < BRIEF_MS ? "back" : "off";
		case "ended":
			return "over";
		default:
			return assertNever(c);
	}
}
