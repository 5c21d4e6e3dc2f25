// The defense in rows, worst first. Real text: it is read aloud like any list.
import { useRef } from "preact/hooks";
import { Sign } from "../../board/Sign.tsx";
import { Rests } from "../../card/Rests.tsx";
import {
	capital,
	costSays,
	faultSays,
	HEAD,
	lineOf,
	ruleSays,
	seconds,
} from "../../say/answers.ts";
import { ageSays } from "../../say/link.ts";
import { holderOf, sayPerson } from "../../say/people.ts";
import { worstFirst } from "../../store/compare.ts";
import type { LaneAnswer, SpotAnswer, Verdicts } from "../../wire/types.ts";
import { eyesOf } from "../device.ts";
import { Panel } from "../parts.tsx";
import type { Desk } from "./desk.ts";

/** short is the answer of one row: "Loses by 0.2 s", "Keeps, 0.3 s". */
function short({ leverage: l }: SpotAnswer): string {
	const m = l.margin_s;
	if (m === null || l.keeps === "contested") return HEAD[l.keeps];
	// He may be ahead in every race and still stand where his rule does not want him.
	if (l.keeps === "no") return m < 0 ? `Loses by ${seconds(m)}` : HEAD.no;
	return `Keeps, ${seconds(m)}`;
}

/** mend is what is wrong with where he stands, and the change that mends it. */
function mend(a: SpotAnswer, fix: string): string {
	const rule = ruleSays(a.rule);
	return rule === "" ? fix : `${capital(rule)}: ${fix.charAt(0).toLowerCase()}${fix.slice(1)}`;
}

export function Men({ desk }: { desk: Desk }) {
	const { seat } = desk;
	const s = seat.state.value;
	const { verdicts: v, judgedAt, roster } = seat.link.model.value;
	// While a man is dragged the rows keep their order: nobody can hit a moving row.
	const order = useRef<string[]>([]);
	const labels = Object.keys(s?.spots ?? {});
	const moving = v?.live === true || seat.hands.held.value !== null;
	const same =
		labels.length === order.current.length && labels.every((l) => order.current.includes(l));
	if (!moving || !same) order.current = worstFirst(labels, v);
	const frozen = desk.frozen.value;
	const who = desk.selected.value;
	const off =
		desk.calls.value
			.find((c) => c.id === s?.call)
			?.spots.map((p) => p.spot)
			.filter((p) => !labels.includes(p)) ?? [];
	void seat.link.ticks.value;
	const age = seat.stale.value && v !== null ? ageSays(seat.clock.now() - judgedAt) : "";
	return (
		<Panel title="Men" class="men" aside={age === "" ? "worst first" : age}>
			<ul class={`rows${age === "" ? "" : " stale"}`}>
				{order.current.map((label) => (
					<Row key={label} desk={desk} label={label} v={v} who={nameOf(roster.people, label)} />
				))}
			</ul>
			{!frozen && who !== null && labels.includes(who) && (
				<Rests seat={seat} spot={who} answer={v?.spots[who] ?? null} />
			)}
			{!frozen && off.length > 0 && (
				<p class="offboard">
					{off.map((spot) => (
						<button
							key={spot}
							type="button"
							onClick={() => desk.do({ do: "spot", spot, on: true })}
						>
							Put {spot} on
						</button>
					))}
				</p>
			)}
		</Panel>
	);
}

const nameOf = (people: Parameters<typeof holderOf>[0], label: string): string => {
	const p = holderOf(people, label);
	return p === undefined ? "nobody" : sayPerson(p);
};

function Row({
	desk,
	label,
	v,
	who,
}: {
	desk: Desk;
	label: string;
	v: Verdicts | null;
	who: string;
}) {
	const a = v?.spots[label];
	const { film, stage } = desk.seat.reel;
	const track = stage.value?.over === true ? film.value?.track : undefined;
	// In a frozen moment and after a rep the rows say who was at fault.
	const frozen = desk.frozen.value || track !== undefined;
	const faults = track?.faults ?? v?.faults ?? [];
	const f = frozen ? faults.find((one) => one.who === label) : undefined;
	const sign = frozen
		? f === undefined
			? "yes"
			: "no"
		: (a?.leverage.keeps ?? v?.signs[label] ?? null);
	const turn = eyesOf.coach.value === "offense" ? 1 : -1;
	const move = a?.fix.move ?? [0, 0];
	const flip = !frozen && desk.flips.value.includes(label);
	const head = frozen
		? f === undefined
			? "Clean"
			: capital(faultSays(f.kind))
		: a === undefined
			? "No answer"
			: short(a);
	const lanes = track === undefined ? (v?.lanes ?? []) : (stage.value?.lanes?.lanes ?? []);
	const fix = frozen
		? f !== undefined && track !== undefined
			? costSays(f)
			: jobSays(lanes, label)
		: a === undefined
			? ""
			: mend(a, lineOf(a, desk.seat.book.value).fix);
	return (
		<li class={flip ? "flip" : ""}>
			<button
				type="button"
				class="man"
				aria-pressed={desk.selected.value === label}
				onClick={() => desk.pick(label)}
			>
				<b>{label}</b>
				<Sign sign={sign} size={28} angle={Math.atan2(-move[1] * turn, move[0] * turn)} />
				<span class="say">
					{head}
					<small>{flip ? `flipped: ${fix}` : fix}</small>
				</span>
				<span class="who">{who}</span>
			</button>
		</li>
	);
}

function jobSays(lanes: readonly LaneAnswer[], label: string): string {
	const fit = lanes.find((l) => l.fit_by === label);
	if (fit !== undefined) return `fits lane ${fit.n}`;
	const shut = lanes.filter((l) => l.shut_by === label).map((l) => l.n);
	return shut.length === 0 ? "" : `shuts lane ${shut.join(", ")}`;
}
