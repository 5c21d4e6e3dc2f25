// Under the board: what can be done with the man in hand, or with the ball when
// nobody is. It keeps its height, so that the board does not jump.
import { yardLine } from "../../field/ground.ts";
import { placeWords } from "../../field/words.ts";
import { faultSays } from "../../say/answers.ts";
import type { Ball, Rep } from "../../wire/types.ts";
import { Choose } from "../parts.tsx";
import type { Desk } from "./desk.ts";
import { PlayBar } from "./Transport.tsx";

export function ManBar({ desk }: { desk: Desk }) {
	const who = desk.selected.value;
	const s = desk.seat.state.value;
	if (s === null) return null;
	const rep = desk.seat.reel.rep.value;
	if (rep !== null) {
		const taken = who !== null && (who in s.men || who in s.spots);
		return (
			<div class="manbar playbar">
				{taken && <InRep desk={desk} who={who} rep={rep} />}
				<PlayBar desk={desk} rep={rep} />
			</div>
		);
	}
	return (
		<div class="manbar">
			{who !== null && (who in s.men || who in s.spots) ? (
				<InHand desk={desk} who={who} />
			) : (
				<BallBar desk={desk} />
			)}
		</div>
	);
}

function InHand({ desk, who }: { desk: Desk; who: string }) {
	const s = desk.seat.state.value;
	const at = desk.seat.places.value[who];
	if (s === null) return null;
	const mode = desk.mode.value;
	if (mode !== "move") {
		return (
			<>
				<span class="inhand" role="status">
					{mode === "motion"
						? `Tap where ${who} goes before the snap`
						: `Tap the man whom ${who} blocks`}
				</span>
				{mode === "block" && (
					<button type="button" onClick={() => desk.block("")}>
						Nobody
					</button>
				)}
				<button type="button" onClick={() => (desk.mode.value = "move")}>
					Cancel
				</button>
			</>
		);
	}
	const man = s.men[who];
	const frozen = desk.frozen.value;
	return (
		<>
			<span class="inhand">
				<b>{who}</b> {at === undefined ? "" : placeWords(at, s.side)}
				<small>tap the field to move him</small>
			</span>
			{man !== undefined && !frozen && (
				<>
					<button
						type="button"
						aria-pressed={man.line}
						onClick={() => desk.do({ do: "line", who, on: !man.line })}
					>
						On the line
					</button>
					<button type="button" onClick={() => desk.motion()}>
						Motion
					</button>
					{s.motion.who === who && (
						<button type="button" onClick={() => desk.do({ do: "motion" })}>
							Bring back
						</button>
					)}
				</>
			)}
			{man !== undefined && frozen && (
				<button type="button" onClick={() => (desk.mode.value = "block")}>
					Blocks…
				</button>
			)}
			{man === undefined && !frozen && (
				<button type="button" onClick={() => desk.do({ do: "lineup", who })}>
					Line him up
				</button>
			)}
			{man === undefined && !frozen && (
				<button
					type="button"
					onClick={() => {
						desk.select(null);
						desk.do({ do: "spot", spot: who, on: false });
					}}
				>
					Take him off
				</button>
			)}
			{man === undefined && frozen && (
				<button
					type="button"
					aria-pressed={s.moment.late.includes(who)}
					onClick={() => desk.late()}
				>
					Too late
				</button>
			)}
			<button type="button" onClick={() => desk.point()}>
				Point
			</button>
			<button type="button" aria-label="Put down" onClick={() => desk.select(null)}>
				✕
			</button>
		</>
	);
}

/** In a rep a man can be pointed at, and a defender be had break a rule. */
function InRep({ desk, who, rep }: { desk: Desk; who: string; rep: Rep }) {
	const rules = desk.seat.reel.film.value?.track.breaks[who] ?? [];
	const now = rep.errors[who] ?? "";
	return (
		<span class="inrep">
			<b>{who}</b>
			{rules.length > 0 && (
				<select
					aria-label={`What if ${who} breaks a rule`}
					value={now}
					onChange={(e) => desk.transport.breaks(who, e.currentTarget.value)}
				>
					<option value="">plays it right</option>
					{rules.map((r) => (
						<option key={r} value={r}>
							{faultSays(r)}
						</option>
					))}
				</select>
			)}
			<button type="button" onClick={() => desk.point()}>
				Point
			</button>
			<button type="button" aria-label="Put down" onClick={() => desk.select(null)}>
				✕
			</button>
		</span>
	);
}

function BallBar({ desk }: { desk: Desk }) {
	const s = desk.seat.state.value;
	if (s === null) return null;
	const put = (part: Partial<Ball>) => desk.do({ do: "ball", ball: { ...s.ball, ...part } });
	return (
		<>
			<small class="of">Hash</small>
			<Choose
				label="Hash"
				choices={[
					{ value: "left", say: "Left" },
					{ value: "middle", say: "Middle" },
					{ value: "right", say: "Right" },
				]}
				value={s.ball.hash}
				pick={(hash) => put({ hash })}
			/>
			<span class="yardset">
				<button
					type="button"
					aria-label="Yard line back"
					disabled={s.ball.yard <= 1}
					onClick={() => put({ yard: s.ball.yard - 1 })}
				>
					−
				</button>
				<span>{yardLine(s.ball.yard)}</span>
				<button
					type="button"
					aria-label="Yard line ahead"
					disabled={s.ball.yard >= 99}
					onClick={() => put({ yard: s.ball.yard + 1 })}
				>
					+
				</button>
			</span>
			<Choose
				label="Side under study"
				choices={[
					{ value: "left", say: "Left half" },
					{ value: "right", say: "Right half" },
				]}
				value={s.side}
				pick={(side) => side !== s.side && desk.otherSide()}
			/>
		</>
	);
}
