// The few requests beside the live link. A refusal comes with a sentence; a
// network that is away gets one from here.
import { readError } from "../wire/decode.ts";

export type Got<T> =
	| { readonly ok: true; readonly value: T }
	| { readonly ok: false; readonly code: string; readonly say: string };

/** ask sends a request and reads the answer; body makes it a POST. */
export async function ask<T>(
	path: string,
	read: (v: unknown) => T,
	how: { token?: string; body?: object } = {},
): Promise<Got<T>> {
	const headers: Record<string, string> = {};
	if (how.token !== undefined) headers.Authorization = `Bearer ${how.token}`;
	if (how.body !== undefined) headers["Content-Type"] = "application/json";
	try {
		const r = await fetch(path, {
			method: how.body === undefined ? "GET" : "POST",
			headers,
			...(how.body === undefined ? {} : { body: JSON.stringify(how.body) }),
		});
		const got: unknown = await r.json();
		if (r.ok) return { ok: true, value: read(got) };
		return { ok: false, ...readError(got) };
	} catch {
		return {
			ok: false,
			code: "network",
			say: "The server does not answer. Check the Wi-Fi and try again.",
		};
	}
}
