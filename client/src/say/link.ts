// How the link is doing, in words short enough for a header.
import type { Clock } from "../sync/clock.ts";
import { type Connection, type LinkSign, linkSign } from "../sync/connection.ts";

const clockTime = (d: Date): string => `${d.getHours()}:${String(d.getMinutes()).padStart(2, "0")}`;

export interface LinkWords {
	readonly sign: LinkSign;
	readonly say: string;
}

/** linkWords says live, reconnecting, or offline since when. */
export function linkWords(c: Connection, clock: Clock): LinkWords {
	const sign = linkSign(c, clock);
	switch (sign) {
		case "wait":
			return { sign, say: "connecting" };
		case "live":
			return { sign, say: "live" };
		case "back":
			return { sign, say: "reconnecting" };
		case "off":
			return { sign, say: c.kind === "resuming" ? `offline since ${clockTime(c.day)}` : "offline" };
		case "over":
			return { sign, say: "ended" };
	}
}

/** ageSays words an age: "12 s old", "3 min old". */
export function ageSays(ms: number): string {
	const s = Math.max(0, Math.round(ms / 1000));
	return s < 90 ? `${s} s old` : `${Math.round(s / 60)} min old`;
}

/** waitingSays words the operations that the hub does not have yet. */
export const waitingSays = (n: number): string => (n === 0 ? "" : `${n} not sent`);
