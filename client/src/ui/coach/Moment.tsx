// The frozen moment: choose a play, freeze it, see who is at fault and what it
// opens, go back to the alignment.
import { Caution } from "../../card/Caution.tsx";
import { costSays, faultSays } from "../../say/answers.ts";
import type { BookPlay } from "../../wire/types.ts";
import { Panel } from "../parts.tsx";
import type { Desk } from "./desk.ts";

export function Moment({ desk }: { desk: Desk }) {
	const { menu, others } = desk.plays.value;
	const { verdicts: v } = desk.seat.link.model.value;
	const frozen = desk.frozen.value;
	const play = frozen ? (desk.seat.state.value?.moment.play ?? "") : desk.play;
	void desk.chosen.value;
	const button = (p: BookPlay) => (
		<button key={p.id} type="button" aria-pressed={p.id === play} onClick={() => desk.choose(p.id)}>
			{p.name}
		</button>
	);
	const name = [...menu, ...others].find((p) => p.id === play)?.name ?? play;
	return (
		<Panel
			title="Moment"
			class="moment"
			aside={frozen ? `${name}, frozen as the carrier commits` : "menu of this look first"}
		>
			<div class="plays">
				{menu.map(button)}
				{others.length > 0 && menu.length > 0 && <i aria-hidden="true" />}
				{others.map(button)}
			</div>
			<div class="actions">
				{frozen ? (
					<button type="button" class="strong" onClick={() => desk.thaw()}>
						Back to the alignment
					</button>
				) : (
					<button type="button" class="strong" disabled={play === ""} onClick={() => desk.freeze()}>
						Freeze {name}
					</button>
				)}
			</div>
			{frozen && v !== null && (
				<ol class={`faults${desk.seat.stale.value ? " stale" : ""}`} aria-live="polite">
					{v.faults.length === 0 && (
						<li>
							{v.sound
								? "Sound: every lane is shut or fit, and nobody is at fault."
								: "Nobody is at fault, and yet a lane is open."}
						</li>
					)}
					{v.faults.map((f, i) => (
						<li key={f.who + f.kind}>
							<button type="button" class="fault" onClick={() => desk.pick(f.who)}>
								<b>
									<i>{i + 1}</i> {f.who} {faultSays(f.kind)}:
								</b>{" "}
								{f.because}
								{!f.because.includes("lane") && <small>{costSays(f)}</small>}
							</button>
						</li>
					))}
				</ol>
			)}
			{frozen && <Caution book={desk.seat.book.value} />}
		</Panel>
	);
}
