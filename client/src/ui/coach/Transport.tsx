// The rep under way: freeze and roll, the time, the speed, the lane, and how it
// ended.
import { useEffect, useRef } from "preact/hooks";
import { costSays, faultSays } from "../../say/answers.ts";
import { clock, endSays, priceSays, repSays } from "../../say/rep.ts";
import type { Rep, Track } from "../../wire/types.ts";
import { Choose } from "../parts.tsx";
import type { Desk } from "./desk.ts";
import { type Speed, STEP_MS } from "./transport.ts";

/** Id of the slider, which a key jumps to. */
export const SLIDER = "reptime";

/** PlayBar stands under the board while a rep is on: what a coach needs at hand. */
export function PlayBar({ desk, rep }: { desk: Desk; rep: Rep }) {
	const { transport: t, seat } = desk;
	const over = seat.reel.stage.value?.over === true;
	return (
		<>
			<button type="button" class="strong" onClick={() => t.roll()}>
				{seat.reel.rolls() ? "Freeze" : over ? "Again" : "Roll"}
			</button>
			<Slider desk={desk} rep={rep} />
			<button type="button" onClick={() => t.set()}>
				Set
			</button>
		</>
	);
}

/** Controls are what can be changed of a rep, and how it ended. */
export function Controls({ desk, rep }: { desk: Desk; rep: Rep }) {
	const { transport: t, seat } = desk;
	const film = seat.reel.film.value;
	const over = seat.reel.stage.value?.over === true;
	const pass = seat.book.value?.plays.find((p) => p.id === rep.play)?.kind === "pass";
	return (
		<div class="transport">
			{film !== null && over && <End desk={desk} track={film.track} stale={seat.stale.value} />}
			<Choose
				label="Speed"
				choices={[
					{ value: "walk", say: "Walk" },
					{ value: "half", say: "Half" },
					{ value: "full", say: "Full" },
				]}
				value={t.speed}
				pick={(s: Speed) => t.setSpeed(s)}
			/>
			{film !== null && !pass && <LaneChoice desk={desk} rep={rep} track={film.track} />}
			<Given desk={desk} rep={rep} />
		</div>
	);
}

/** Slider is the time of the rep; it follows the rep without being drawn anew. */
function Slider({ desk, rep }: { desk: Desk; rep: Rep }) {
	const { reel } = desk.seat;
	const bar = useRef<HTMLInputElement>(null);
	const said = useRef<HTMLOutputElement>(null);
	useEffect(() => {
		const show = (ms: number) => {
			if (said.current !== null) said.current.textContent = clock(ms);
			const el = bar.current;
			if (el === null) return;
			el.value = String(Math.round(ms));
			el.setAttribute("aria-valuetext", clock(ms));
		};
		show(reel.now());
		return reel.watch(show);
	}, [reel, rep]);
	return (
		<label class="scrub">
			<input
				id={SLIDER}
				ref={bar}
				type="range"
				aria-label="Time of the rep"
				min={rep.from}
				max={rep.until}
				step={1}
				onInput={(e) => desk.transport.scrub(Number(e.currentTarget.value))}
				onKeyDown={(e) => {
					const way = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[e.key];
					if (way === undefined) return;
					e.preventDefault();
					desk.transport.step(way * STEP_MS);
				}}
			/>
			<output ref={said} />
		</label>
	);
}

function LaneChoice({ desk, rep, track }: { desk: Desk; rep: Rep; track: Track }) {
	const known = track.lanes[0]?.lanes ?? desk.seat.link.model.value.verdicts?.lanes ?? [];
	return (
		<select
			aria-label="Lane of the ball"
			value={String(rep.lane)}
			onChange={(e) => desk.transport.snap(rep.play, { lane: Number(e.currentTarget.value) })}
		>
			<option value="-1">his choice</option>
			{known.map((l) => (
				<option key={l.n} value={String(l.n)}>
					to lane {l.n}
				</option>
			))}
		</select>
	);
}

/** Given lists the rules that are broken on purpose; a tap has them kept again. */
function Given({ desk, rep }: { desk: Desk; rep: Rep }) {
	const errors = Object.entries(rep.errors);
	if (errors.length === 0) return null;
	return (
		<>
			{errors.map(([spot, rule]) => (
				<button
					key={spot}
					type="button"
					class="given"
					onClick={() => desk.transport.breaks(spot, "")}
				>
					<b>{spot}</b> {faultSays(rule)} <span aria-hidden="true">✕</span>
					<span class="unseen">, have him play it right</span>
				</button>
			))}
		</>
	);
}

function End({ desk, track, stale }: { desk: Desk; track: Track; stale: boolean }) {
	const went = track.end.broke || track.faults.length > 0 ? "loses" : "keeps";
	return (
		<div class={`repend ${went}${stale ? " stale" : ""}`}>
			<p class="endline">{endSays(track)}</p>
			{track.faults.length > 0 && (
				<ol class="faults">
					{track.faults.map((f, i) => (
						<li key={f.who + f.kind}>
							<button type="button" class="fault" onClick={() => desk.pick(f.who)}>
								<b>
									<i>{i + 1}</i> {f.who} {faultSays(f.kind)}:
								</b>{" "}
								{f.because === "" ? costSays(f) : f.because}
								{f.because !== "" && <small>{priceSays(f)}</small>}
							</button>
						</li>
					))}
				</ol>
			)}
		</div>
	);
}

/** RepNews says the end of a rep aloud, and what is being run. */
export function RepNews({ desk }: { desk: Desk }) {
	const { reel, book } = desk.seat;
	const rep = reel.rep.value;
	const over = reel.stage.value?.over === true;
	const track = reel.film.value?.track;
	return (
		<p class="unseen" role="status">
			{rep === null ? "" : over && track !== undefined ? endSays(track) : repSays(rep, book.value)}
		</p>
	);
}
