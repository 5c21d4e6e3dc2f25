// A player's screen: the answer first, then his part of the board, then his card.
import { useEffect, useRef, useState } from "preact/hooks";
import { Board } from "../board/Board.tsx";
import type { Touch } from "../board/pointer.ts";
import { type AnswerLine, lineOf, momentLine } from "../say/answers.ts";
import { ageSays } from "../say/link.ts";
import { countSays } from "../say/news.ts";
import { sayPerson } from "../say/people.ts";
import { sayEnding } from "../say/refusals.ts";
import { boardScene } from "../ui/boardscene.ts";
import { buzz, eyesOf } from "../ui/device.ts";
import { EndView, HoldOn } from "../ui/Home.tsx";
import { LinkMark, Notices, Stage, useForAWhile } from "../ui/parts.tsx";
import type { Seat } from "../ui/seat.ts";
import { Words } from "../ui/Words.tsx";
import type { SpotAnswer, State, Verdicts } from "../wire/types.ts";
import { Answer } from "./Answer.tsx";
import { Card } from "./Card.tsx";
import { Caution } from "./Caution.tsx";
import { Menu } from "./Menu.tsx";
import { RepAnswer, RepCard } from "./RepCard.tsx";
import { Rests } from "./Rests.tsx";
import { SpotList } from "./SpotList.tsx";
import { Steps } from "./Steps.tsx";

export function Player({ seat, leave }: { seat: Seat; leave: () => void }) {
	const c = seat.link.connection.value;
	const state = seat.state.value;
	const [menu, setMenu] = useState(false);
	if (c.kind === "ended") return <EndView ending={sayEnding(c.code)} again={leave} />;
	const header = <Header seat={seat} menu={menu} toggle={() => setMenu(!menu)} />;
	const body = () => {
		if (seat.waiting.value) return <Waiting seat={seat} />;
		if (state === null) return <HoldOn say="Getting the board" />;
		if (seat.spot.value === null) return <SpotList seat={seat} state={state} />;
		return <MyBoard seat={seat} state={state} label={seat.spot.value} />;
	};
	return (
		<main class="player">
			{header}
			{menu && <Menu seat={seat} leave={leave} close={() => setMenu(false)} />}
			{seat.spot.value === null && <Notices seat={seat} />}
			{body()}
		</main>
	);
}

function Header({ seat, menu, toggle }: { seat: Seat; menu: boolean; toggle: () => void }) {
	const state = seat.state.value;
	const book = seat.book.value;
	const { spot, me } = { spot: seat.spot.value, me: seat.me };
	const call = book?.calls.find((c) => c.id === state?.call)?.name ?? "";
	const look = book?.looks.find((l) => l.id === state?.look)?.name ?? "";
	const who = [spot ?? "", me?.number || me?.name || ""].filter((t) => t !== "").join(" · ");
	return (
		<header class="bar">
			<h1>{who === "" ? "Halfline" : who}</h1>
			<span class="what">{[call, look].filter((t) => t !== "").join(" · ")}</span>
			<LinkMark seat={seat} />
			<button type="button" class="dots" aria-label="Menu" aria-expanded={menu} onClick={toggle}>
				<svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
					<path d="M3 5h14M3 10h14M3 15h14" />
				</svg>
			</button>
		</header>
	);
}

function Waiting({ seat }: { seat: Seat }) {
	const me = seat.me;
	return (
		<section class="plain" aria-live="polite">
			<h2>Waiting for the coach</h2>
			<p>
				He sees {me === undefined ? "you" : <b>{sayPerson(me)}</b>} at the door and has to let you
				in. Keep this page open.
			</p>
			<Caution book={seat.book.value} />
		</section>
	);
}

/** hiddenFrom tells whether my answer is kept back until I commit. */
const hiddenFrom = (s: State, label: string): boolean =>
	s.hidden && !s.committed.includes(label) && s.moment.play === "";

function MyBoard({ seat, state, label }: { seat: Seat; state: State; label: string }) {
	const { verdicts, judgedAt } = seat.link.model.value;
	const answer = verdicts?.spots[label] ?? null;
	const last = useRef<{ label: string; answer: SpotAnswer } | null>(null);
	if (answer !== null) last.current = { label, answer };
	const hidden = hiddenFrom(state, label);
	const known = answer ?? (last.current?.label === label && !hidden ? last.current.answer : null);
	const eyes = eyesOf.player.value;
	const scene = boardScene(seat, { eyes, selected: null, full: false });
	const half = known?.half ?? ((state.spots[label]?.at[0] ?? 0) >= 0 ? "right" : "left");
	const can = seat.may(label);
	const frozen = state.moment.play !== "";
	const runs = state.rep.play !== "";
	const stale = seat.stale.value;
	void seat.link.ticks.value;
	const turnX = eyes === "offense" ? 1 : -1;
	const move = known?.fix.move ?? [0, 0];
	const age = stale && verdicts !== null ? ageSays(seat.clock.now() - judgedAt) : "";
	return (
		<>
			{runs ? (
				<RepAnswer seat={seat} state={state} label={label} answer={known} age={age} />
			) : hidden ? (
				<Commit seat={seat} can={can} />
			) : (
				<Answer
					line={answerLine(seat, state, label, known, verdicts)}
					angle={Math.atan2(-move[1] * turnX, move[0] * turnX)}
					age={age}
				/>
			)}
			{scene !== null && (
				<Stage>
					<Notices seat={seat} />
					<Banner seat={seat} state={state} label={label} />
					<Board
						scene={scene}
						scale={1}
						label={`Board, seen from the ${eyes}`}
						touch={touchOf(seat, label)}
						grip={can && !frozen && !runs}
						reach={(who) => who === label && can}
						onStep={(who, x, y, far) => {
							const by = far ? 36 : 18;
							seat.hands.step(who, [x * by * turnX, y * by * -turnX]);
						}}
					/>
				</Stage>
			)}
			{can ? (
				<Steps half={half} eyes={eyes} disabled={false} step={(by) => seat.hands.step(label, by)} />
			) : runs ? null : (
				<p class="watch">{watchSays(state, label)}</p>
			)}
			{runs && <RepCard seat={seat} label={label} />}
			{known !== null && !hidden && <Card answer={known} />}
			{known !== null && !hidden && !frozen && <Rests seat={seat} spot={label} answer={known} />}
			{(frozen || runs) && <Caution book={seat.book.value} />}
			<Words seat={seat} />
		</>
	);
}

function answerLine(
	seat: Seat,
	state: State,
	label: string,
	answer: SpotAnswer | null,
	verdicts: Verdicts | null,
): AnswerLine {
	if (state.moment.play !== "" && verdicts !== null) return momentLine(label, verdicts);
	if (answer !== null) return lineOf(answer, seat.book.value);
	const sign = verdicts?.signs[label] ?? null;
	return {
		sign,
		head: sign === null ? "No answer yet" : "",
		sub: "The hub has not judged this board yet",
		fix: "",
	};
}

function watchSays(state: State, label: string): string {
	if (state.hidden && state.committed.includes(label))
		return "You have committed. Wait for the next look.";
	if (state.moment.play !== "") return "A moment is frozen. Watch the lanes.";
	return "The coach has the floor: watch, he moves the men.";
}

/** touchOf lets a finger anywhere on the board move me. */
function touchOf(seat: Seat, label: string): Touch {
	return {
		grab: (who) => {
			const target = who !== null && seat.may(who) ? who : seat.may(label) ? label : null;
			const at = target === null ? undefined : seat.places.value[target];
			return target === null || at === undefined ? null : { who: target, at };
		},
		take: (who, at) => seat.hands.take(who, at),
		move: (who, at) => seat.hands.move(who, at),
		drop: () => seat.hands.drop(),
		tap: () => undefined,
	};
}

function Commit({ seat, can }: { seat: Seat; can: boolean }) {
	return (
		<section class="answer unsaid commit" aria-label="Answer">
			<div class="says">
				<p class="head">Place yourself</p>
				<p class="sub">then commit: the answer shows after that</p>
			</div>
			<button
				type="button"
				class="strong"
				disabled={!can}
				onClick={() => {
					seat.hands.drop();
					seat.acts.do({ do: "commit" });
				}}
			>
				Commit
			</button>
		</section>
	);
}

const BANNER_MS = 6000;

/** Banner says that my count or my key changed, and that the coach points at me. */
function Banner({ seat, state, label }: { seat: Seat; state: State; label: string }) {
	const { verdicts } = seat.link.model.value;
	const before = useRef<{ v: Verdicts; look: string; label: string } | null>(null);
	const [news, setNews] = useState({ id: 0, say: "" });
	useEffect(() => {
		if (verdicts === null) return;
		const old = before.current;
		before.current = { v: verdicts, look: state.look, label };
		if (old === null || old.label !== label) return;
		const say = countSays(old.v, verdicts, label, old.look !== state.look);
		if (say !== "") {
			setNews((n) => ({ id: n.id + 1, say }));
			buzz();
		}
	}, [verdicts, state.look, label]);
	const shown = useForAWhile(news.id, BANNER_MS);
	const pointed = seat.pointed.value.includes(label);
	return (
		<div class="banner" role="status">
			{shown && <p>{news.say}</p>}
			{pointed && <p class="pointing">The coach points at you</p>}
		</div>
	);
}
