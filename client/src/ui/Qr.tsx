// The code to scan. The server draws it; it is asked for again whenever the
// code changes.
import { useEffect, useState } from "preact/hooks";
import { type Qr as Picture, readQr } from "../wire/decode.ts";
import { ask } from "./http.ts";
import type { Seat } from "./seat.ts";

/** Modules left white around a code, as ISO/IEC 18004 asks. */
const QUIET = 4;

export function Qr({ seat, session, code }: { seat: Seat; session: string; code: string }) {
	const [picture, setPicture] = useState<Picture | null>(null);
	useEffect(() => {
		let gone = false;
		setPicture(null);
		void ask(`/api/qr?session=${encodeURIComponent(session)}`, readQr, {
			token: seat.target.token,
		}).then((got) => {
			if (!gone && got.ok) setPicture(got.value);
		});
		return () => {
			gone = true;
		};
	}, [seat, session, code]);
	if (picture === null) return null;
	const side = picture.size + 2 * QUIET;
	return (
		<svg
			class="qr"
			viewBox={`${-QUIET} ${-QUIET} ${side} ${side}`}
			role="img"
			aria-label="Code to scan for joining"
		>
			<rect x={-QUIET} y={-QUIET} width={side} height={side} fill="#fff" />
			<path d={picture.path} fill="#000" />
		</svg>
	);
}
