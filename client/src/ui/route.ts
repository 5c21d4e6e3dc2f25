// The address bar. Everything is one page; what comes after # says what to
// show. Keys and codes are secrets of a kind, so they leave the bar at once.
export type Route =
	| { readonly kind: "home"; readonly code: string }
	| { readonly kind: "coach"; readonly key: string }
	| { readonly kind: "session"; readonly session: string }
	| { readonly kind: "wall"; readonly session: string };

/** readRoute understands #coach=KEY, #join=CODE, #s=SESSION, #wall and #wall=SESSION. */
export function readRoute(hash: string): Route {
	const [word = "", ...rest] = hash.replace(/^#/, "").split("=");
	let value = rest.join("=");
	try {
		value = decodeURIComponent(value);
	} catch {
		// A stray % is part of the value.
	}
	switch (word) {
		case "coach":
			return { kind: "coach", key: value };
		case "join":
			return { kind: "home", code: cleanCode(value) };
		case "s":
			return { kind: "session", session: value };
		case "wall":
			return { kind: "wall", session: value };
		default:
			return { kind: "home", code: "" };
	}
}

/** cleanCode takes what people type for a code: any case, with spaces or dashes. */
export const cleanCode = (typed: string): string =>
	typed
		.replace(/[^0-9a-z]/gi, "")
		.toUpperCase()
		.slice(0, 12);

/** secret tells whether a route must not stay in the address bar. */
export const secret = (r: Route): boolean =>
	(r.kind === "coach" && r.key !== "") || (r.kind === "home" && r.code !== "");
