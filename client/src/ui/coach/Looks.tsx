// Look and call: a list to search, and buttons that toggle.
import { useRef, useState } from "preact/hooks";
import { yardLine } from "../../field/ground.ts";
import type { BookLook } from "../../wire/types.ts";
import { Panel } from "../parts.tsx";
import type { Desk } from "./desk.ts";

/** Id of the search field, which a key jumps to. */
export const SEARCH = "looksearch";

const about = (l: BookLook): string =>
	`${l.side}, ${l.ball.hash === "middle" ? "middle" : `${l.ball.hash} hash`}, ${yardLine(l.ball.yard)}`;

export function Looks({ desk }: { desk: Desk }) {
	const [find, setFind] = useState("");
	const box = useRef<HTMLInputElement>(null);
	const now = desk.seat.state.value?.look;
	const words = find.toLowerCase().split(/\s+/);
	const shown = desk.looks.value.filter((l) =>
		words.every((w) => `${l.name} ${about(l)}`.toLowerCase().includes(w)),
	);
	const put = (id: string) => {
		desk.look(id);
		setFind("");
	};
	return (
		<Panel title="Look" class="looks">
			<input
				id={SEARCH}
				ref={box}
				class="search"
				type="search"
				placeholder="Find a look"
				aria-label="Find a look"
				value={find}
				onInput={(e) => setFind(e.currentTarget.value)}
				onKeyDown={(e) => {
					if (e.key === "Enter" && shown[0] !== undefined) {
						put(shown[0].id);
						box.current?.blur();
					}
					if (e.key === "Escape") {
						setFind("");
						box.current?.blur();
					}
				}}
			/>
			<ul class="rows">
				{shown.map((l) => (
					<li key={l.id}>
						<button type="button" aria-pressed={l.id === now} onClick={() => put(l.id)}>
							{l.name}
							<small>{about(l)}</small>
						</button>
					</li>
				))}
			</ul>
			{shown.length === 0 && <p class="hint">No look has these words.</p>}
		</Panel>
	);
}

export function Calls({ desk }: { desk: Desk }) {
	const now = desk.seat.state.value?.call;
	return (
		<Panel title="Call" class="calls">
			<div class="grid2">
				{desk.calls.value.map((c) => (
					<button
						key={c.id}
						type="button"
						aria-pressed={c.id === now}
						onClick={() => desk.call(c.id)}
					>
						{c.name}
					</button>
				))}
			</div>
		</Panel>
	);
}
