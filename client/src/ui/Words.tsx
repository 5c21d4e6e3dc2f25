// The board in words: who stands where, and what is wrong. It says all that
// the drawing shows.

import { faultSays } from "../say/answers.ts";
import { LANE_WORDS, laneKind } from "../say/lanes.ts";
import { holderOf } from "../say/people.ts";
import { clock, endSays, eventSays, faultLine } from "../say/rep.ts";
import { describe } from "./boardscene.ts";
import type { Seat } from "./seat.ts";

export function Words({ seat }: { seat: Seat }) {
	return (
		<details class="words">
			<summary>The board in words</summary>
			<WordList seat={seat} />
		</details>
	);
}

function WordList({ seat }: { seat: Seat }) {
	const s = seat.state.value;
	if (s === null) return null;
	const { verdicts, roster } = seat.link.model.value;
	const places = seat.places.value;
	const say = (who: string) =>
		describe(who, s, places, verdicts, holderOf(roster.people, who)?.name ?? "");
	const frozen = s.moment.play !== "";
	return (
		<>
			{verdicts !== null && !verdicts.look.legal && (
				<p>Not a legal look: {verdicts.look.violations.join("; ")}.</p>
			)}
			<h3>Offense</h3>
			<ul>
				{Object.keys(s.men).map((who) => (
					<li key={who}>{say(who)}</li>
				))}
			</ul>
			<h3>Defense</h3>
			<ul>
				{Object.keys(s.spots).map((who) => (
					<li key={who}>{say(who)}</li>
				))}
			</ul>
			{s.rep.play !== "" && <RepWords seat={seat} />}
			{frozen && verdicts !== null && (
				<>
					<h3>Lanes</h3>
					<ul>
						{verdicts.lanes.map((l) => (
							<li key={l.n}>
								Lane {l.n}, {l.inside} to {l.outside}: {LANE_WORDS[laneKind(l)](l)}
							</li>
						))}
					</ul>
					<h3>Faults</h3>
					{verdicts.faults.length === 0 ? (
						<p>None.</p>
					) : (
						<ol>
							{verdicts.faults.map((f) => (
								<li key={f.who + f.kind}>
									{f.who}, {faultSays(f.kind)}: {f.because}
								</li>
							))}
						</ol>
					)}
				</>
			)}
		</>
	);
}

/** RepWords tells a rep from the snap to where it is. */
function RepWords({ seat }: { seat: Seat }) {
	const track = seat.reel.film.value?.track;
	const stage = seat.reel.stage.value;
	if (track === undefined || stage === null) return null;
	return (
		<>
			<h3>Rep</h3>
			<ol>
				{track.events.slice(0, stage.events).map((e) => (
					<li key={`${e.t}${e.what}${e.who}`}>
						{clock(e.t)}: {eventSays(e, "")}
					</li>
				))}
			</ol>
			{stage.over && (
				<>
					<p>{endSays(track)}</p>
					<ol>
						{track.faults.map((f) => (
							<li key={f.who + f.kind}>{faultLine(f)}</li>
						))}
					</ol>
				</>
			)}
		</>
	);
}
