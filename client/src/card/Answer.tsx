// The answer line: the biggest text on the phone. It is said aloud when it
// changes, and loses its colour with the link.
import { Sign } from "../board/Sign.tsx";
import type { AnswerLine } from "../say/answers.ts";

export function Answer({
	line,
	angle,
	age,
	kind: looks = "",
}: {
	line: AnswerLine;
	/** Way of the fix on the screen. */
	angle: number;
	/** "" while the answer is current. */
	age: string;
	/** brief: a line that changes by the second, smaller and without a sign; ended: with a longer end. */
	kind?: "" | "brief" | "ended";
}) {
	const kind =
		line.sign === null
			? "unsaid"
			: { yes: "keeps", contested: "contested", no: "loses" }[line.sign];
	return (
		<section
			class={`answer ${kind}${age === "" ? "" : " stale"}${looks === "" ? "" : ` ${looks}`}`}
			aria-label="Answer"
		>
			{looks !== "brief" && <Sign sign={line.sign} size={52} angle={angle} />}
			<div class="says" aria-live="polite" aria-atomic="true">
				<p class="head">
					{line.head}
					{age !== "" && <small>{age}</small>}
				</p>
				<p class="sub">{line.sub}</p>
				<p class="fixline">{line.fix}</p>
			</div>
		</section>
	);
}
