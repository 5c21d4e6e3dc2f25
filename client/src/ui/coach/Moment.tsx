// The play: choose one, snap it and run the rep, or freeze the moment when the
// carrier commits; see who is at fault and what it opens.
import { Caution } from "../../card/Caution.tsx";
import { costSays, faultSays } from "../../say/answers.ts";
import { repSays } from "../../say/rep.ts";
import type { BookPlay } from "../../wire/types.ts";
import { Panel } from "../parts.tsx";
import type { Desk } from "./desk.ts";
import { Controls, RepNews } from "./Transport.tsx";

export function Moment({ desk }: { desk: Desk }) {
	const { menu, others } = desk.plays.value;
	const { verdicts: v } = desk.seat.link.model.value;
	const frozen = desk.frozen.value;
	const rep = desk.seat.reel.rep.value;
	const play = frozen ? (desk.seat.state.value?.moment.play ?? "") : (rep?.play ?? desk.play);
	void desk.chosen.value;
	const button = (p: BookPlay) => (
		<button key={p.id} type="button" aria-pressed={p.id === play} onClick={() => desk.choose(p.id)}>
			{p.name}
		</button>
	);
	const { name, kind } = [...menu, ...others].find((p) => p.id === play) ?? {
		name: play,
		kind: "",
	};
	return (
		<Panel
			title="Rep"
			class="moment"
			aside={
				frozen
					? `${name}, frozen as the carrier commits`
					: rep !== null
						? repSays(rep, desk.seat.book.value)
						: "menu of this look first"
			}
		>
			<RepNews desk={desk} />
			{rep !== null && <Controls desk={desk} rep={rep} />}
			<div class="plays">
				{(menu.length > 0 ? menu : others).map(button)}
				{menu.length > 0 && others.length > 0 && (
					<select
						aria-label="Other plays"
						value={others.some((p) => p.id === play) ? play : ""}
						onChange={(e) => e.currentTarget.value !== "" && desk.choose(e.currentTarget.value)}
					>
						<option value="">other plays</option>
						{others.map((p) => (
							<option key={p.id} value={p.id}>
								{p.name}
							</option>
						))}
					</select>
				)}
			</div>
			{rep === null && (
				<div class="actions">
					<button type="button" class="strong" disabled={play === ""} onClick={() => desk.snap()}>
						Snap {name}
					</button>
					{frozen ? (
						<button type="button" onClick={() => desk.thaw()}>
							Back to the alignment
						</button>
					) : (
						kind !== "pass" && (
							<button type="button" disabled={play === ""} onClick={() => desk.freeze()}>
								Freeze as he commits
							</button>
						)
					)}
				</div>
			)}
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
			{(frozen || rep !== null) && <Caution book={desk.seat.book.value} />}
		</Panel>
	);
}
