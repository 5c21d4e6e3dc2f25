// How a message is read, field by field: each reader gives the value it was
// made for, or throws Unreadable.
//
// Go writes an empty list or map that was never made as null; it is read as
// empty. Keys that a later hub adds are left out.
import type { Place } from "./types.ts";

/** Unreadable says where in a message the reading stopped and why. */
export class Unreadable extends Error {}

export type Read<T> = (v: unknown, at: string) => T;

export function wrong(at: string, want: string): never {
	throw new Unreadable(`${at || "message"}: want ${want}`);
}

export const text: Read<string> = (v, at) => (typeof v === "string" ? v : wrong(at, "text"));
export const flag: Read<boolean> = (v, at) =>
	typeof v === "boolean" ? v : wrong(at, "true or false");
export const num: Read<number> = (v, at) =>
	typeof v === "number" && Number.isFinite(v) ? v : wrong(at, "a number");

export const word =
	<T extends string>(...words: T[]): Read<T> =>
	(v, at) =>
		words.find((w) => w === v) ?? wrong(at, words.join(" or "));

export const list =
	<T>(of: Read<T>): Read<T[]> =>
	(v, at) => {
		if (v === null) return [];
		return Array.isArray(v) ? v.map((e, i) => of(e, `${at}[${i}]`)) : wrong(at, "a list");
	};

function plain(v: unknown, at: string): Record<string, unknown> {
	return typeof v === "object" && v !== null && !Array.isArray(v)
		? (v as Record<string, unknown>)
		: wrong(at, "an object");
}

export const map =
	<T>(of: Read<T>): Read<Record<string, T>> =>
	(v, at) => {
		const out: Record<string, T> = {};
		if (v === null) return out;
		for (const [k, e] of Object.entries(plain(v, at))) {
			if (k !== "__proto__") out[k] = of(e, `${at}.${k}`);
		}
		return out;
	};

export const orNull =
	<T>(of: Read<T>): Read<T | null> =>
	(v, at) =>
		v === null ? null : of(v, at);

export const may =
	<T>(of: Read<T>): Read<T | undefined> =>
	(v, at) =>
		v === undefined || v === null ? undefined : of(v, at);

type Fields<T> = {
	[K in keyof T]-?: Record<never, never> extends Pick<T, K> ? Read<T[K] | undefined> : Read<T[K]>;
};

export function thing<T>(fields: Fields<T>): Read<T> {
	const keys = Object.keys(fields) as (keyof T & string)[];
	return (v, at) => {
		const from = plain(v, at);
		const out: Partial<T> = {};
		for (const k of keys) {
			const got = (fields[k] as Read<T[typeof k] | undefined>)(from[k], `${at}.${k}`);
			if (got !== undefined) out[k] = got;
		}
		return out as T;
	};
}

function tuple(n: number): Read<number[]> {
	return (v, at) => {
		const all = list(num)(v, at);
		return all.length === n ? all : wrong(at, `${n} numbers`);
	};
}
export const pair = tuple(2) as Read<Place>;
export const four = tuple(4) as Read<[number, number, number, number]>;
