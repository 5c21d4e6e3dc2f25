// People and spots in words.
import type { BookOut, Person } from "../wire/types.ts";

export const sayHolder = (name: string): string => (name === "" ? "nobody holds it" : name);

/** sayPerson is a jersey number and a short name, or whichever there is. */
export const sayPerson = (p: { number: string; name: string }): string =>
	[p.number, p.name].filter((t) => t !== "").join(" ");

/** spotName is the staff's name of a spot in a call, or its label. */
export function spotName(book: BookOut | null, call: string, label: string): string {
	const c = book?.calls.find((b) => b.id === call);
	return c?.spots.find((s) => s.spot === label)?.name ?? label;
}

export const holderOf = (people: readonly Person[], label: string): Person | undefined =>
	people.find((p) => p.spot === label && p.role === "player");

/** spaced writes a join code in two groups, as it is read out. */
export const spaced = (code: string): string => {
	const half = Math.ceil(code.length / 2);
	return `${code.slice(0, half)} ${code.slice(half)}`.trim();
};
