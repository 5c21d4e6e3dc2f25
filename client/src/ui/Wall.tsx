// The projector: the whole board, who keeps leverage, and how to join. Nothing
// to touch; it follows the coach and is read from the back of a room.
import { useEffect, useState } from "preact/hooks";
import { Board } from "../board/Board.tsx";
import type { Side } from "../field/ground.ts";
import type { Eyes } from "../field/projection.ts";
import { costSays, faultSays } from "../say/answers.ts";
import { ageSays } from "../say/link.ts";
import { spaced } from "../say/people.ts";
import { sayEnding } from "../say/refusals.ts";
import { endSays, repSays } from "../say/rep.ts";
import { keepCount } from "../store/compare.ts";
import type { Rep, State, Verdicts } from "../wire/types.ts";
import { boardScene } from "./boardscene.ts";
import { eyesOf } from "./device.ts";
import { EndView, HoldOn } from "./Home.tsx";
import { Qr } from "./Qr.tsx";
import type { Seat } from "./seat.ts";

export function Wall({ seat, session }: { seat: Seat; session: string }) {
	const c = seat.link.connection.value;
	const state = seat.state.value;
	const scale = useWallScale();
	if (c.kind === "ended")
		return <EndView ending={sayEnding(c.code)} again={() => location.reload()} />;
	const scene = boardScene(seat, { eyes: eyesOf.wall.value, selected: null, full: true });
	if (state === null || scene === null) return <HoldOn say="Opening the wall" />;
	const { verdicts, judgedAt, roster } = seat.link.model.value;
	const book = seat.book.value;
	const call = book?.calls.find((b) => b.id === state.call)?.name ?? state.call;
	const look = book?.looks.find((b) => b.id === state.look)?.name ?? state.look;
	void seat.link.ticks.value;
	const age = seat.stale.value ? ageSays(seat.clock.now() - judgedAt) : "";
	const open = state.door !== "closed" && roster.code !== undefined && roster.code !== "";
	return (
		<main class="wall">
			<header>
				<h1>{call}</h1>
				<span>{look}</span>
				{state.rep.play === "" || age !== "" ? (
					<Tally state={state} verdicts={verdicts} age={age} />
				) : (
					<RepTally seat={seat} rep={state.rep} />
				)}
			</header>
			<Board scene={scene} scale={scale} label="Board" />
			{open && (
				<aside class={`joinbox ${ballSide(state.side, eyesOf.wall.value)}`}>
					<Qr seat={seat} session={session} code={roster.code ?? ""} />
					<p>
						<small>Join with</small>
						<b>{spaced(roster.code ?? "")}</b>
					</p>
				</aside>
			)}
		</main>
	);
}

/** ballSide is the side of the screen where the ball lies: nobody is studied there. */
const ballSide = (side: Side, eyes: Eyes): "left" | "right" =>
	(side === "right") === (eyes === "offense") ? "left" : "right";

/** RepTally is what is run, and at its end how it ended. */
function RepTally({ seat, rep }: { seat: Seat; rep: Rep }) {
	const track = seat.reel.film.value?.track;
	const over = seat.reel.stage.value?.over === true;
	const kind =
		!over || track === undefined
			? "unsaid"
			: track.end.broke || track.faults.length > 0
				? "loses"
				: "keeps";
	return (
		<span class={`tally ${kind}`} aria-live="polite">
			{over && track !== undefined ? endSays(track) : repSays(rep, seat.book.value)}
		</span>
	);
}

function Tally({ state, verdicts, age }: { state: State; verdicts: Verdicts | null; age: string }) {
	if (age !== "") return <span class="tally unsaid">not live, {age}</span>;
	if (verdicts === null) return <span class="tally unsaid" />;
	if (state.moment.play !== "") {
		const first = verdicts.faults[0];
		if (first === undefined) return <span class="tally keeps">every lane is shut or fit</span>;
		return (
			<span class="tally loses">
				{first.who} {faultSays(first.kind)}, {costSays(first)}
			</span>
		);
	}
	if (state.hidden) {
		const all = Object.values(state.spots).filter((s) => s.by !== "").length;
		return (
			<span class="tally unsaid">
				{state.committed.length} of {all} committed
			</span>
		);
	}
	const { keep, all } = keepCount(verdicts);
	return (
		<span class={`tally ${keep === all ? "keeps" : "loses"}`}>
			{keep} of {all} keep
		</span>
	);
}

/** Text is at least 1/40 of the height: the smallest on the board is 11.5 px at scale 1. */
function useWallScale(): number {
	const of = () => Math.max(innerHeight / 40 / 11.5, 1);
	const [scale, set] = useState(of);
	useEffect(() => {
		const change = () => set(of());
		addEventListener("resize", change);
		return () => removeEventListener("resize", change);
	}, []);
	return scale;
}
