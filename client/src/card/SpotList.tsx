// No spot held: who holds what, and what is free.
import { holderOf, sayPerson, spotName } from "../say/people.ts";
import type { Seat } from "../ui/seat.ts";
import type { State } from "../wire/types.ts";
import { Caution } from "./Caution.tsx";

export function SpotList({ seat, state }: { seat: Seat; state: State }) {
	const { people } = seat.link.model.value.roster;
	const book = seat.book.value;
	const me = seat.me;
	const usual = book?.squad.find(
		(m) => me !== undefined && m.number !== "" && m.number === me.number,
	)?.spot;
	const order = book?.calls.find((c) => c.id === state.call)?.spots.map((s) => s.spot) ?? [];
	const labels = [...new Set([...order, ...Object.keys(state.spots)])].filter(
		(l) => l in state.spots,
	);
	if (usual !== undefined) labels.sort((a, b) => Number(b === usual) - Number(a === usual));
	return (
		<section class="plain spots" aria-label="Spots">
			<h2>Which spot is yours?</h2>
			<ul>
				{labels.map((label) => {
					const taken = state.spots[label]?.by !== "";
					const holder = holderOf(people, label);
					const name = spotName(book, state.call, label);
					return (
						<li key={label}>
							{taken ? (
								<div class="taken">
									<b>{label}</b>
									<span>
										{holder === undefined ? "Taken" : `${sayPerson(holder)} has it`}
										<small>ask him or the coach</small>
									</span>
								</div>
							) : (
								<button type="button" onClick={() => seat.acts.do({ do: "hold", spot: label })}>
									<b>{label}</b>
									<span>
										{name === label ? "Free" : name}
										<small>{label === usual ? "free, yours on the squad list" : "free"}</small>
									</span>
								</button>
							)}
						</li>
					);
				})}
			</ul>
			{labels.length === 0 && <p>This call has no spots yet. The coach is setting it up.</p>}
			<Caution book={book} />
		</section>
	);
}
