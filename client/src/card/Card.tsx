// My card: four lines from the call, and behind each the why.
import { useState } from "preact/hooks";
import { ASSUMES, capital } from "../say/answers.ts";
import type { SpotAnswer } from "../wire/types.ts";

interface Line {
	readonly name: string;
	readonly say: string;
	readonly why: readonly string[];
}

function linesOf(a: SpotAnswer): Line[] {
	const { assignment: card, rule, leverage } = a;
	const hat =
		card.hat === "either"
			? "Your call leaves the side of the hat to you."
			: `Your hat goes on the ${card.hat} of the man who blocks you.`;
	return [
		{ name: "Line up", say: card.align, why: [capital(rule.because)] },
		{
			name: "Eyes",
			say: card.eyes,
			why: [
				card.key === ""
					? "Nobody out there for you to read now."
					: `The man you read first is ${card.key} now.`,
			],
		},
		{
			name: "Hat, fit",
			say: [card.hat === "either" ? "either hat" : `${card.hat} hat`, card.fit]
				.filter((t) => t !== "")
				.join(" · "),
			why: [
				capital(card.block),
				...card.plays.map(capital),
				hat,
				card.on === "" ? "" : `${card.on} can block you first.`,
				capital(leverage.because),
			],
		},
		{
			name: "Pass",
			say: card.pass,
			why: [...card.rules.map(capital), "Run first here; this holds once the ball is thrown."],
		},
	];
}

export function Card({ answer }: { answer: SpotAnswer }) {
	const [open, setOpen] = useState(-1);
	return (
		<section class="card" aria-label="My card">
			{linesOf(answer).map((l, i) => {
				const shown = open === i;
				return (
					<div key={l.name} class="cardline">
						<button type="button" aria-expanded={shown} onClick={() => setOpen(shown ? -1 : i)}>
							<span class="name">{l.name}</span>
							<span class="say">{l.say === "" ? "–" : l.say}</span>
							<span class="more" aria-hidden="true" />
						</button>
						{shown && (
							<div class="why">
								{l.why
									.filter((w) => w !== "")
									.map((w) => (
										<p key={w}>{w}</p>
									))}
								<p class="assumes">{ASSUMES}</p>
							</div>
						)}
					</div>
				);
			})}
		</section>
	);
}
