// What a player needs rarely: the other eyes, the light, letting his spot go.
import { canStayAwake, eyesOf, turn } from "../ui/device.ts";
import { Choose, ThemeChoice } from "../ui/parts.tsx";
import type { Seat } from "../ui/seat.ts";

export function Menu({ seat, leave, close }: { seat: Seat; leave: () => void; close: () => void }) {
	const eyes = eyesOf.player;
	return (
		<nav class="menu" aria-label="Menu">
			<div class="row">
				<span>Seen from</span>
				<Choose
					label="Seen from"
					choices={[
						{ value: "defense", say: "Defense" },
						{ value: "offense", say: "Offense" },
					]}
					value={eyes.value}
					pick={(v) => v !== eyes.value && turn(eyes)}
				/>
			</div>
			<div class="row">
				<span>Light</span>
				<ThemeChoice />
			</div>
			{seat.spot.value !== null && (
				<button
					type="button"
					onClick={() => {
						seat.acts.do({ do: "letgo" });
						close();
					}}
				>
					Let go of my spot
				</button>
			)}
			<button type="button" onClick={leave}>
				Leave this session
			</button>
			{!canStayAwake() && (
				<p class="hint">
					Over plain http this page cannot keep the screen on: set the phone's auto-lock to never.
				</p>
			)}
		</nav>
	);
}
