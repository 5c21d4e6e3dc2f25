// Who may do what, who is here, and how to get in.
import { useState } from "preact/hooks";
import { sayPerson, spaced } from "../../say/people.ts";
import { readCode } from "../../wire/decode.ts";
import type { Person } from "../../wire/types.ts";
import { ask } from "../http.ts";
import { Choose, Panel } from "../parts.tsx";
import { Qr } from "../Qr.tsx";
import type { Desk } from "./desk.ts";

export function Floor({ desk, session }: { desk: Desk; session: string }) {
	const s = desk.seat.state.value;
	if (s === null) return null;
	const { people } = desk.seat.link.model.value.roster;
	const waiting = people.filter((p) => p.role === "player" && !p.in);
	return (
		<Panel title="Floor" class="floor">
			{waiting.length > 0 && (
				<ul class="waiting" aria-label="At the door">
					{waiting.map((p) => (
						<li key={p.member}>
							<span>{sayPerson(p)} is at the door</span>
							<button
								type="button"
								class="strong"
								onClick={() => desk.do({ do: "admit", member: p.member })}
							>
								Let in
							</button>
						</li>
					))}
				</ul>
			)}
			<h3>Who may move men</h3>
			<Choose
				label="Who may move men"
				choices={[
					{ value: "coach", say: "Only me" },
					{ value: "own", say: "Own man" },
					{ value: "all", say: "Everybody" },
				]}
				value={s.floor}
				pick={(mode) => desk.do({ do: "floor", mode })}
			/>
			<div class="grid2">
				<button
					type="button"
					aria-pressed={s.hidden}
					onClick={() => desk.do({ do: "hide", on: !s.hidden })}
				>
					Hide answers
				</button>
				<button type="button" onClick={() => desk.do({ do: "lineup" })}>
					Line up free men
				</button>
			</div>
			{s.hidden && (
				<p class="hint" role="status">
					{s.committed.length === 0
						? "Nobody has committed yet."
						: `Committed: ${s.committed.join(", ")}.`}
				</p>
			)}
			<h3>Door</h3>
			<Choose
				label="Door"
				choices={[
					{ value: "open", say: "Open" },
					{ value: "knock", say: "Knock" },
					{ value: "closed", say: "Closed" },
				]}
				value={s.door}
				pick={(mode) => desk.do({ do: "door", mode })}
			/>
			<Code desk={desk} session={session} />
			<People desk={desk} people={people} spots={Object.keys(s.spots)} />
			<a
				class="button"
				href={`#wall=${encodeURIComponent(session)}`}
				target="_blank"
				rel="noreferrer"
			>
				Open the wall
			</a>
		</Panel>
	);
}

function Code({ desk, session }: { desk: Desk; session: string }) {
	const { code = "", link = "" } = desk.seat.link.model.value.roster;
	const [say, setSay] = useState("");
	if (code === "") return null;
	const fresh = async () => {
		const got = await ask(`/api/code?session=${encodeURIComponent(session)}`, readCode, {
			token: desk.seat.target.token,
			body: {},
		});
		setSay(got.ok ? "The old code no longer opens the door." : got.say);
	};
	return (
		<details class="code">
			<summary>
				Code <b>{spaced(code)}</b>
			</summary>
			<Qr seat={desk.seat} session={session} code={code} />
			<label>
				Link
				<input readOnly value={link} onFocus={(e) => e.currentTarget.select()} />
			</label>
			<button type="button" onClick={() => void fresh()}>
				New code
			</button>
			<p class="hint" role="status">
				{say}
			</p>
		</details>
	);
}

function People({
	desk,
	people,
	spots,
}: {
	desk: Desk;
	people: readonly Person[];
	spots: readonly string[];
}) {
	const players = people.filter((p) => p.role === "player" && p.in);
	const here = players.filter((p) => p.here).length;
	return (
		<details class="people">
			<summary>
				People{" "}
				<b>
					{here} of {players.length} here
				</b>
			</summary>
			<ul>
				{players.map((p) => (
					<li key={p.member} class={p.here ? "" : "away"}>
						<span>
							{sayPerson(p)}
							<small>{p.here ? "" : "away"}</small>
						</span>
						<select
							aria-label={`Spot of ${sayPerson(p)}`}
							value={p.spot}
							onChange={(e) => {
								const spot = e.currentTarget.value;
								if (spot === "") desk.do({ do: "give", spot: p.spot });
								else desk.do({ do: "give", spot, member: p.member });
							}}
						>
							<option value="">no spot</option>
							{spots.map((label) => (
								<option key={label} value={label}>
									{label}
								</option>
							))}
						</select>
						<button
							type="button"
							aria-label={`Take ${sayPerson(p)} out`}
							onClick={() => desk.do({ do: "remove", member: p.member })}
						>
							Out
						</button>
					</li>
				))}
			</ul>
			{players.length === 0 && <p class="hint">Nobody has joined yet.</p>}
		</details>
	);
}
