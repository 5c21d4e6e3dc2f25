// The coach's desk: the board first, everything else at its edges, one level
// deep, and nothing that must be answered before he can go on.
import { useEffect, useMemo, useState } from "preact/hooks";
import { Board } from "../board/Board.tsx";
import { spaced } from "../say/people.ts";
import { sayEnding } from "../say/refusals.ts";
import { boardScene } from "./boardscene.ts";
import { Desk } from "./coach/desk.ts";
import { Floor } from "./coach/Floor.tsx";
import { KEYS, onKey } from "./coach/keys.ts";
import { Calls, Looks } from "./coach/Looks.tsx";
import { ManBar } from "./coach/ManBar.tsx";
import { Men } from "./coach/Men.tsx";
import { Moment } from "./coach/Moment.tsx";
import { eyesOf } from "./device.ts";
import { EndView, HoldOn } from "./Home.tsx";
import { LightRow, LinkMark, Notices, Stage } from "./parts.tsx";
import type { Seat } from "./seat.ts";
import { Words } from "./Words.tsx";

/** One panel at a time on a phone. */
const TABS = ["look", "call", "men", "moment", "floor"] as const;
type Tab = (typeof TABS)[number];

export function Coach({
	seat,
	session,
	leave,
}: {
	seat: Seat;
	session: string;
	leave: () => void;
}) {
	const desk = useMemo(() => new Desk(seat), [seat]);
	const [tab, setTab] = useState<Tab>("men");
	useEffect(() => {
		desk.start();
		const key = (e: KeyboardEvent) => onKey(e, desk);
		addEventListener("keydown", key);
		return () => {
			removeEventListener("keydown", key);
			desk.stop();
		};
	}, [desk]);
	const c = seat.link.connection.value;
	if (c.kind === "ended") return <EndView ending={sayEnding(c.code)} again={leave} />;
	if (seat.state.value === null) return <HoldOn say="Opening the board" />;
	const atDoor = seat.link.model.value.roster.people.filter(
		(p) => p.role === "player" && !p.in,
	).length;
	return (
		<main class={`coach tab-${tab}`}>
			<Top desk={desk} leave={leave} />
			<div class="side left">
				<Looks desk={desk} />
				<Calls desk={desk} />
			</div>
			<div class="mid">
				<Stage>
					<Notices seat={seat} />
					<Legal desk={desk} />
					<DeskBoard desk={desk} />
				</Stage>
				<ManBar desk={desk} />
			</div>
			<div class="under">
				<Moment desk={desk} />
			</div>
			<div class="side right">
				<Men desk={desk} />
				<Floor desk={desk} session={session} />
				<div class="panel foot">
					<Words seat={seat} />
					<LightRow />
				</div>
				<p class="printed">{seat.book.value?.caution}</p>
			</div>
			<nav class="tabs" aria-label="Panels">
				{TABS.map((t) => (
					<button key={t} type="button" aria-pressed={t === tab} onClick={() => setTab(t)}>
						{t === "moment" ? "Rep" : t.charAt(0).toUpperCase() + t.slice(1)}
						{t === "floor" && atDoor > 0 && <b class="atdoor">{atDoor}</b>}
					</button>
				))}
			</nav>
			{desk.keysShown.value && <KeySheet desk={desk} />}
		</main>
	);
}

function Top({ desk, leave }: { desk: Desk; leave: () => void }) {
	const { seat } = desk;
	const { roster } = seat.link.model.value;
	const here = roster.people.filter((p) => p.role === "player" && p.here).length;
	const walls = roster.people.some((p) => p.role === "wall" && p.here);
	const { canUndo, canRedo } = seat.acts;
	const title = seat.state.value?.title ?? "";
	return (
		<header class="top">
			<h1 class="unseen">Coach's board</h1>
			<button type="button" class="quiet" onClick={leave} aria-label="All sessions">
				‹
			</button>
			<input
				class="title"
				aria-label="Name of the session"
				value={title}
				onChange={(e) => {
					const text = e.currentTarget.value.trim();
					if (text !== "" && text !== title) desk.do({ do: "title", text });
				}}
			/>
			{roster.code !== undefined && roster.code !== "" && (
				<span class="joincode">
					code <b>{spaced(roster.code)}</b>
				</span>
			)}
			<span class="count">
				{here} here{walls ? ", wall on" : ""}
			</span>
			<LinkMark seat={seat} />
			<span class="tools">
				<button
					type="button"
					aria-label="Undo"
					disabled={!canUndo.value}
					onClick={() => seat.acts.undo()}
				>
					<svg width="22" height="22" viewBox="0 0 22 22" aria-hidden="true">
						<path d="M8 4L4 8l4 4M4 8h9a5 5 0 0 1 0 10H8" />
					</svg>
				</button>
				<button
					type="button"
					aria-label="Redo"
					disabled={!canRedo.value}
					onClick={() => seat.acts.redo()}
				>
					<svg width="22" height="22" viewBox="0 0 22 22" aria-hidden="true">
						<path d="M14 4l4 4-4 4M18 8H9a5 5 0 0 0 0 10h5" />
					</svg>
				</button>
				<button type="button" class="eyes" onClick={() => desk.turn()} title="Turn the view">
					<span>Seen </span>
					from {eyesOf.coach.value}
				</button>
				<button
					type="button"
					class="keyhelp"
					aria-label="Keys"
					onClick={() => (desk.keysShown.value = !desk.keysShown.value)}
				>
					?
				</button>
			</span>
		</header>
	);
}

function Legal({ desk }: { desk: Desk }) {
	const look = desk.seat.link.model.value.verdicts?.look;
	if (look === undefined || (look.legal && look.notes.length === 0)) return null;
	return (
		<p class={look.legal ? "notes" : "notes illegal"} role="status">
			{look.legal ? look.notes.join(" ") : `Not a legal look: ${look.violations.join("; ")}`}
		</p>
	);
}

function DeskBoard({ desk }: { desk: Desk }) {
	const { seat } = desk;
	const eyes = eyesOf.coach.value;
	const selected = desk.selected.value;
	const scene = boardScene(seat, { eyes, selected, full: true });
	if (scene === null) return null;
	return (
		<Board
			scene={scene}
			scale={1}
			label={`Board, seen from the ${eyes}`}
			touch={desk.touch}
			onBall={(ball) => desk.do({ do: "ball", ball })}
			reach={() => true}
			onPick={(who) => desk.select(who === selected ? null : who)}
			onStep={(who, x, y, far) => {
				if (desk.selected.value !== who) desk.select(who);
				desk.step(who, x, y, far);
			}}
		/>
	);
}

function KeySheet({ desk }: { desk: Desk }) {
	return (
		<aside class="keysheet" aria-label="Keys">
			<h2>
				Keys
				<button type="button" onClick={() => (desk.keysShown.value = false)}>
					Close
				</button>
			</h2>
			<dl>
				{KEYS.map((k) => (
					<div key={k.shown}>
						<dt>{k.shown}</dt>
						<dd>{k.say}</dd>
					</div>
				))}
				<div>
					<dt>arrows</dt>
					<dd>move the man in hand half a yard; with Shift a whole one</dd>
				</div>
				<div>
					<dt>Tab, Enter</dt>
					<dd>go through the men on the board, take one in hand</dd>
				</div>
			</dl>
		</aside>
	);
}
