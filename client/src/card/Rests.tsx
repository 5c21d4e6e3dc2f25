// What an answer rests on, one tap below it: every number with how well it is
// founded and where it is changed. Fetched when asked for.
import { useEffect, useState } from "preact/hooks";
import { ask } from "../ui/http.ts";
import type { Seat } from "../ui/seat.ts";
import { readRests } from "../wire/decode.ts";
import type { RestsOut, SpotAnswer } from "../wire/types.ts";

export function Rests({
	seat,
	spot,
	answer,
}: {
	seat: Seat;
	spot: string;
	answer: SpotAnswer | null;
}) {
	const [open, setOpen] = useState(false);
	const [got, setGot] = useState<RestsOut | string>("");
	const session = seat.link.model.value.session;
	// Another deciding play or blocker rests on other numbers.
	const on = `${spot} ${answer?.leverage.against} ${answer?.leverage.by}`;
	useEffect(() => {
		if (!open) return;
		let gone = false;
		const where = `session=${encodeURIComponent(session)}&spot=${encodeURIComponent(spot)}`;
		void ask(`/api/rests?${where}`, readRests, { token: seat.target.token }).then((r) => {
			if (!gone) setGot(r.ok ? r.value : r.say);
		});
		return () => {
			gone = true;
		};
	}, [open, on, session]);
	return (
		<details class="rests" onToggle={(e) => setOpen(e.currentTarget.open)}>
			<summary>What {spot}'s numbers rest on</summary>
			{typeof got === "string" ? (
				<p role="status">{got}</p>
			) : (
				<ul>
					{got.rests.map((r) => (
						<li key={r.say}>
							{r.say} <b>{`${r.value} ${r.unit}`.trim()}</b>
							<small>
								{r.status}: {r.source}. Change: {r.change}.
							</small>
						</li>
					))}
				</ul>
			)}
		</details>
	);
}
