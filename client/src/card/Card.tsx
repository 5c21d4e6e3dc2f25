// My card: four lines from the call, and behind each the why.
import { useState } from "preact/hooks";
import { ASSUMES, capital } from "../say/answers.ts";
import type { SpotAnswer } from "../wire/types.ts";

interface Line {
	readonly name: string;
	readonly say: string;
	readonly why: readonly string[];
}

/** clauses splits a rule of the call, so that each part can be read by itself. */
const clauses = (rule: string): string[] =>
	rule.includes("; ") ? rule.split("; ").map(capital) : [];

/** first is what of a rule fits a line of the card; the rest is behind a tap. */
const first = (rule: string): string => {
	const [head = ""] = rule.split("; ");
	return head === rule ? head : `${head} …`;
};

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
			say: [first(card.block), first(card.fit)].filter((t) => t !== "").join(" · "),
			why: [
				...clauses(card.block),
				...clauses(card.fit),
				hat,
				card.on === "" ? "" : `${card.on} can block you first.`,
				capital(leverage.because),
			],
		},
		{
			name: "Pass",
			say: first(card.pass),
			why: [...clauses(card.pass), "Run first here; this holds once the ball is thrown."],
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
