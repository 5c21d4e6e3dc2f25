// Small pieces that more than one screen uses.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { linkWords, waitingSays } from "../say/link.ts";
import { sayRefusal } from "../say/refusals.ts";
import { type Theme, theme } from "./device.ts";
import type { Seat } from "./seat.ts";

/** LinkMark says how the link is, and what has not been sent. */
export function LinkMark({ seat }: { seat: Seat }) {
	void seat.link.ticks.value;
	const { sign, say } = linkWords(seat.link.connection.value, seat.clock);
	const n = seat.link.pending.value.length;
	// A move on its way is no news; one that waits for a link is.
	const left = sign === "live" ? "" : waitingSays(n);
	return (
		<span class={`linkmark ${sign}`} role="status">
			<i aria-hidden="true" />
			{say}
			{left !== "" && <b>{left}</b>}
		</span>
	);
}

const NOTICE_MS = 6000;

/** Notices shows why an operation was not done, for a while. */
export function Notices({ seat }: { seat: Seat }) {
	const n = seat.link.notice.value;
	const shown = useForAWhile(n?.id ?? 0, NOTICE_MS);
	return (
		<div class="notices" role="alert">
			{n !== null && shown && <p>{sayRefusal(n.code, n.detail)}</p>}
		</div>
	);
}

/** useForAWhile is true for so long after its key has changed to something. */
export function useForAWhile(key: number | string, ms: number): boolean {
	const [over, setOver] = useState<number | string>(key);
	useEffect(() => {
		if (key === 0 || key === "") return;
		const id = setTimeout(() => setOver(key), ms);
		return () => clearTimeout(id);
	}, [key, ms]);
	return key !== 0 && key !== "" && over !== key;
}

/** Stage holds a board and what is said over it: news must not move the board. */
export const Stage = ({ children }: { children: ComponentChildren }) => (
	<div class="stage">{children}</div>
);

export interface Choice<T extends string> {
	readonly value: T;
	readonly say: string;
}

/** Choose is a row of buttons of which one is down. */
export function Choose<T extends string>({
	label,
	choices,
	value,
	pick,
}: {
	label: string;
	choices: readonly Choice<T>[];
	value: T;
	pick: (v: T) => void;
}) {
	return (
		<fieldset class="choose" aria-label={label}>
			{choices.map((c) => (
				<button
					key={c.value}
					type="button"
					aria-pressed={c.value === value}
					onClick={() => pick(c.value)}
				>
					{c.say}
				</button>
			))}
		</fieldset>
	);
}

const THEMES: readonly Choice<Theme>[] = [
	{ value: "auto", say: "Auto" },
	{ value: "room", say: "Room" },
	{ value: "sun", say: "Sun" },
];

export const ThemeChoice = () => (
	<Choose label="Light" choices={THEMES} value={theme.value} pick={(t) => (theme.value = t)} />
);

export const LightRow = () => (
	<div class="light">
		<span>Light</span>
		<ThemeChoice />
	</div>
);

/** Panel is a titled part of a screen. */
export function Panel({
	title,
	class: name = "",
	children,
	aside,
}: {
	title: string;
	class?: string;
	children: ComponentChildren;
	aside?: ComponentChildren;
}) {
	return (
		<section class={`panel ${name}`} aria-label={title}>
			<h2>
				{title}
				{aside !== undefined && <small>{aside}</small>}
			</h2>
			{children}
		</section>
	);
}
