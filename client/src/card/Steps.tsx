// Four half-yard steps: every drag has a twin that needs no drag. The words
// are the trade's (in is to the ball, up is to the line); the arrows and the
// order of in and out follow the eyes.
import type { Side } from "../field/ground.ts";
import type { Eyes } from "../field/projection.ts";
import { type Step, stepArrow, stepMove } from "../field/words.ts";
import type { Place } from "../wire/types.ts";

const ARROWS = {
	left: "M14 4L6 10L14 16",
	right: "M6 4L14 10L6 16",
	up: "M4 14L10 6L16 14",
	down: "M4 6L10 14L16 6",
};
const WORDS: Record<Step, string> = { in: "In", out: "Out", up: "Up", back: "Back" };

/** stepOrder puts the step that goes left on the screen first and its opposite last. */
export function stepOrder(half: Side, eyes: Eyes): Step[] {
	const turnX = eyes === "offense" ? 1 : -1;
	return stepArrow("in", half, turnX, 1) === "left"
		? ["in", "up", "back", "out"]
		: ["out", "up", "back", "in"];
}

export function Steps({
	half,
	eyes,
	disabled,
	step,
}: {
	half: Side;
	eyes: Eyes;
	disabled: boolean;
	step: (by: Place) => void;
}) {
	const turnX = eyes === "offense" ? 1 : -1;
	const turnY = eyes === "offense" ? -1 : 1;
	return (
		<fieldset class="steps" aria-label="Half-yard steps">
			{stepOrder(half, eyes).map((s) => (
				<button
					key={s}
					type="button"
					disabled={disabled}
					aria-label={`Half a yard ${WORDS[s].toLowerCase()}`}
					onClick={() => step(stepMove(s, half))}
				>
					<svg width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
						<path d={ARROWS[stepArrow(s, half, turnX, turnY)]} />
					</svg>
					{WORDS[s]}
				</button>
			))}
		</fieldset>
	);
}
