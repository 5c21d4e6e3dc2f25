// Before and after a session: joining by code, the coach's list, and the pages
// that say why it is over.
import { useEffect, useState } from "preact/hooks";
import { CAUTION } from "../say/caution.ts";
import type { Ending } from "../say/refusals.ts";
import { readJoin, readSession, readSessions, readToken } from "../wire/decode.ts";
import type { SessionOut } from "../wire/types.ts";
import {
	canStayAwake,
	coachToken,
	endCoachToken,
	loadPass,
	type Pass,
	saveCoachToken,
	savePass,
} from "./device.ts";
import { ask } from "./http.ts";
import { LightRow } from "./parts.tsx";
import { cleanCode } from "./route.ts";

/** HoldOn is a wait in words; it shows nothing for the first moments. */
export function HoldOn({ say }: { say: string }) {
	return (
		<p class="holdon" role="status">
			{say}…
		</p>
	);
}

export function EndView({ ending, again }: { ending: Ending; again: () => void }) {
	const act = { join: "Join with a code", reload: "Reload", here: "Use it here" }[ending.way];
	return (
		<main class="home">
			<h1>{ending.head}</h1>
			<p>{ending.say}</p>
			<button
				type="button"
				class="strong"
				onClick={() => (ending.way === "join" ? again() : location.reload())}
			>
				{act}
			</button>
		</main>
	);
}

const mark = (
	<svg class="brand" width="44" height="44" viewBox="0 0 44 44" aria-hidden="true">
		<path d="M4 22h36M22 4v14M22 26v14" />
		<path class="half" d="M22 12a10 10 0 0 1 0 20" />
	</svg>
);

/** Join asks for the code, a short name and a jersey number. */
export function Join({
	code,
	joined,
	coach,
}: {
	code: string;
	joined: (p: Pass) => void;
	coach: () => void;
}) {
	const last = loadPass();
	const [typed, setTyped] = useState({
		code,
		name: last?.name ?? "",
		number: last?.number ?? "",
	});
	const [busy, setBusy] = useState(false);
	const [say, setSay] = useState("");
	const set = (part: Partial<typeof typed>) => setTyped((t) => ({ ...t, ...part }));
	const ready = typed.code !== "" && typed.name.trim() !== "" && !busy;
	const submit = async (e: Event) => {
		e.preventDefault();
		if (!ready) return;
		setBusy(true);
		setSay("");
		const body = { code: typed.code, name: typed.name.trim(), number: typed.number };
		const got = await ask("/api/join", readJoin, { body });
		setBusy(false);
		if (!got.ok) return setSay(got.say);
		const pass: Pass = { token: got.value.token, session: got.value.session, ...body };
		savePass(pass);
		joined(pass);
	};
	return (
		<main class="home">
			{mark}
			<h1>Join the board</h1>
			<form onSubmit={submit}>
				<label>
					Code on the wall
					<input
						class="code"
						value={typed.code}
						onInput={(e) => set({ code: cleanCode(e.currentTarget.value) })}
						autocomplete="off"
						autocapitalize="characters"
						spellcheck={false}
						inputMode="text"
						required
					/>
				</label>
				<div class="two">
					<label>
						Short name
						<input
							value={typed.name}
							maxLength={12}
							onInput={(e) => set({ name: e.currentTarget.value })}
							autocomplete="off"
							required
						/>
					</label>
					<label>
						Jersey
						<input
							value={typed.number}
							maxLength={3}
							inputMode="numeric"
							pattern="[0-9]*"
							onInput={(e) => set({ number: e.currentTarget.value.replace(/\D/g, "") })}
							autocomplete="off"
						/>
					</label>
				</div>
				<p class="error" role="alert">
					{say}
				</p>
				<button type="submit" class="strong" disabled={!ready}>
					{busy ? "Joining…" : "Join"}
				</button>
			</form>
			<p class="hint">A number and a short name are enough. Nothing else is asked or kept.</p>
			<p class="caution">{CAUTION}</p>
			{!canStayAwake() && <p class="hint">Only over https can this page keep the screen on.</p>}
			{coachToken() !== null && (
				<button type="button" class="quiet" onClick={coach}>
					I am the coach
				</button>
			)}
			<LightRow />
		</main>
	);
}

/** CoachDoor turns a coach's key into a session: the only one, a chosen one, or a new one. */
export function CoachDoor({
	secretKey,
	choose = false,
	open,
}: {
	secretKey: string;
	/** Show the list even if there is only one: who comes back may want another. */
	choose?: boolean;
	open: (session: string) => void;
}) {
	const [sessions, setSessions] = useState<readonly SessionOut[] | null>(null);
	const [say, setSay] = useState("");
	const [tries, setTries] = useState(0);
	useEffect(() => {
		let gone = false;
		void enter(secretKey).then((got) => {
			if (gone) return;
			if (typeof got === "string") setSay(got);
			else if (!choose && got.length === 1 && got[0] !== undefined) open(got[0].id);
			else setSessions(got);
		});
		return () => {
			gone = true;
		};
	}, [secretKey, choose, tries]);
	if (say !== "") {
		return (
			<main class="home">
				<h1>Coach</h1>
				<p role="alert">{say}</p>
				<button
					type="button"
					class="strong"
					onClick={() => {
						setSay("");
						setTries(tries + 1);
					}}
				>
					Try again
				</button>
			</main>
		);
	}
	if (sessions === null) return <HoldOn say="Opening the coach's board" />;
	return <SessionList sessions={sessions} open={open} />;
}

/** enter gets the sessions, starting one if there is none; text says why not. */
async function enter(key: string): Promise<readonly SessionOut[] | string> {
	if (key !== "") {
		const got = await ask("/api/coach", readToken, { body: { key } });
		if (!got.ok) return got.say;
		saveCoachToken(got.value.token);
	}
	const token = coachToken();
	if (token === null) return "Open the coach's link that the server printed when it started.";
	const got = await ask("/api/sessions", readSessions, { token });
	if (!got.ok) {
		if (got.code !== "network") endCoachToken();
		return got.say;
	}
	if (got.value.sessions.length > 0) return got.value.sessions;
	const fresh = await begin();
	return typeof fresh === "string" ? fresh : [fresh];
}

async function begin(): Promise<SessionOut | string> {
	const day = new Date().toLocaleDateString(undefined, { weekday: "long" });
	const got = await ask("/api/sessions", readSession, {
		token: coachToken() ?? "",
		body: { title: `${day} walkthrough` },
	});
	return got.ok ? got.value : got.say;
}

function SessionList({
	sessions,
	open,
}: {
	sessions: readonly SessionOut[];
	open: (id: string) => void;
}) {
	const [say, setSay] = useState("");
	return (
		<main class="home">
			{mark}
			<h1>Sessions</h1>
			<ul class="pick">
				{[...sessions].reverse().map((s) => (
					<li key={s.id}>
						<button type="button" onClick={() => open(s.id)}>
							<b>{s.title}</b>
							<span>{s.here === 0 ? "nobody here" : `${s.here} here`}</span>
						</button>
					</li>
				))}
			</ul>
			<p class="error" role="alert">
				{say}
			</p>
			<button
				type="button"
				class="strong"
				onClick={() => void begin().then((s) => (typeof s === "string" ? setSay(s) : open(s.id)))}
			>
				Start another
			</button>
			<LightRow />
		</main>
	);
}
