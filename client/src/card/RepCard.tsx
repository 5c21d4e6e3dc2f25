// A rep on a player's phone: what he does now, and at its end his fault and what
// it cost. Below it, all that happened to him.
import { clock, eventSays, mine, repLine, repSays } from "../say/rep.ts";
import type { Seat } from "../ui/seat.ts";
import type { SpotAnswer, State } from "../wire/types.ts";
import { Answer } from "./Answer.tsx";

export function RepAnswer({
	seat,
	state,
	label,
	answer,
	age,
}: {
	seat: Seat;
	state: State;
	label: string;
	answer: SpotAnswer | null;
	age: string;
}) {
	const { film, stage } = seat.reel;
	const line = repLine(
		film.value?.track ?? null,
		label,
		stage.value?.events ?? 0,
		stage.value?.over === true,
		repSays(state.rep, seat.book.value),
		answer?.assignment.key ?? "",
	);
	// Who has not committed is told of no fault: not that he is clean either.
	const kept = state.hidden && !state.committed.includes(label);
	const shown =
		kept && stage.value?.over === true ? { ...line, sign: null, head: "Over", sub: "" } : line;
	return <Answer line={shown} angle={0} age={age} kind={shown.sign === null ? "brief" : "ended"} />;
}

export function RepCard({ seat, label }: { seat: Seat; label: string }) {
	const track = seat.reel.film.value?.track;
	const list = track === undefined ? [] : mine(track, label, seat.reel.stage.value?.events ?? 0);
	if (list.length === 0) return null;
	return (
		<ol class="repcard" aria-label="What happened to me">
			{list.map((e, i) => (
				<li key={`${e.t}${e.what}`} class={i === list.length - 1 ? "now" : ""}>
					<span>{clock(e.t)}</span>
					{eventSays(e, label)}
				</li>
			))}
		</ol>
	);
}
