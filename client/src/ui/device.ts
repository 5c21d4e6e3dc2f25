// What this browser can do and what it remembers for itself: theme, point of
// view, who it is. Much is missing on plain http; every use asks first.
import { type Signal, signal } from "@preact/signals";
import type { Eyes } from "../field/projection.ts";
import { type Keep, keepIn, parsed } from "../sync/keep.ts";

export const keep: Keep = keepIn(() => localStorage);

export type Theme = "auto" | "room" | "sun";

/** remembered is a signal that outlives the page; only the listed values are taken back. */
function remembered<T extends string>(key: string, values: readonly T[], first: T): Signal<T> {
	const kept = keep.get(key);
	const s = signal(values.find((v) => v === kept) ?? first);
	s.subscribe((v) => keep.set(key, v));
	return s;
}

export const theme = remembered<Theme>("halfline.theme", ["auto", "room", "sun"], "auto");

/** showTheme lets the page follow the choice. */
export function showTheme(): void {
	theme.subscribe((t) => document.documentElement.setAttribute("data-theme", t));
}

/** Where each kind of screen sees the board from. */
export const eyesOf = {
	player: remembered<Eyes>("halfline.eyes.player", ["defense", "offense"], "defense"),
	coach: remembered<Eyes>("halfline.eyes.coach", ["offense", "defense"], "defense"),
	wall: remembered<Eyes>("halfline.eyes.wall", ["offense", "defense"], "defense"),
};

export const turn = (eyes: Signal<Eyes>): void => {
	eyes.value = eyes.value === "defense" ? "offense" : "defense";
};

/** A player's pass to a session, kept so that a reload needs no code. */
export interface Pass {
	readonly token: string;
	readonly session: string;
	readonly code: string;
	readonly name: string;
	readonly number: string;
}

const PASS = "halfline.pass";

export function loadPass(): Pass | null {
	const v = parsed(keep.get(PASS));
	if (typeof v !== "object" || v === null) return null;
	const { token, session, code, name, number } = v as Partial<Record<keyof Pass, unknown>>;
	return typeof token === "string" &&
		typeof session === "string" &&
		typeof code === "string" &&
		typeof name === "string" &&
		typeof number === "string"
		? { token, session, code, name, number }
		: null;
}

export const savePass = (p: Pass): void => keep.set(PASS, JSON.stringify(p));

/** endPass keeps the name and number for the next time, without the token. */
export function endPass(): void {
	const p = loadPass();
	if (p !== null) savePass({ ...p, token: "", session: "", code: "" });
}

const COACH = "halfline.coach";
export const coachToken = (): string | null => keep.get(COACH);
export const saveCoachToken = (token: string): void => keep.set(COACH, token);
export const endCoachToken = (): void => keep.drop(COACH);

/** canStayAwake is false on plain http. */
export const canStayAwake = (): boolean => "wakeLock" in navigator;

/** stayAwake keeps the screen on while the page is shown, where that is possible. */
export async function stayAwake(): Promise<void> {
	try {
		if (canStayAwake() && document.visibilityState === "visible") {
			await navigator.wakeLock.request("screen");
		}
	} catch {
		// Refused, as with a low battery: the screen goes off when it wants to.
	}
}

/** buzz is felt where phones allow it. */
export function buzz(): void {
	// Before the first touch browsers refuse it, and say so in the console.
	if ("vibrate" in navigator && navigator.userActivation?.hasBeenActive === true) {
		navigator.vibrate(60);
	}
}

/** onWake calls back whenever the page may have been away: shown again, back from the cache, online. */
export function onWake(run: () => void): void {
	document.addEventListener("visibilitychange", () => {
		if (document.visibilityState === "visible") run();
	});
	addEventListener("pageshow", run);
	addEventListener("online", run);
}
