// Undoing one's own operations: for each, the operations that bring back what
// was there before. They are ordinary operations, so that the hub needs no
// notion of undo and everybody sees them happen.
import type { BookOut, Op, State } from "../wire/types.ts";

/** inverse lists what undoes op, given the state before it; none if it cannot be undone. */
export function inverse(op: Op, before: State, book: BookOut | null): Op[] {
	switch (op.do) {
		case "title":
			return [{ do: "title", text: before.title }];
		case "look":
			return backToLook(before, book);
		case "call":
			return [{ do: "call", call: before.call }, ...holdersBack(before), ...spotsBack(before)];
		case "side":
			return [{ do: "side", side: before.side }, ...momentBack(before)];
		case "ball":
			return [
				{ do: "ball", ball: before.ball },
				...menBack(before),
				...spotsBack(before),
				...momentBack(before),
			];
		case "place":
			return op.who === undefined ? [] : placeBack(before, op.who);
		case "motion":
			return before.motion.who === "" ? [{ do: "motion" }] : motionBack(before);
		case "line": {
			const man = op.who === undefined ? undefined : before.men[op.who];
			return op.who === undefined || man === undefined
				? []
				: [{ do: "line", who: op.who, on: man.line }];
		}
		case "spot": {
			const was = op.spot === undefined ? undefined : before.spots[op.spot];
			if (op.spot === undefined) return [];
			if (was === undefined) return [{ do: "spot", spot: op.spot, on: false }];
			const back: Op[] = [
				{ do: "spot", spot: op.spot, on: true },
				{ do: "place", who: op.spot, at: was.at },
			];
			return was.by === "" ? back : [...back, { do: "give", spot: op.spot, member: was.by }];
		}
		case "lineup":
			return op.who === undefined || op.who === "" ? spotsBack(before) : placeBack(before, op.who);
		case "freeze":
			return before.moment.play === "" ? [{ do: "thaw" }] : momentBack(before);
		case "thaw":
		case "set":
			return momentBack(before);
		case "late":
			return op.who === undefined
				? []
				: [{ do: "late", who: op.who, on: before.moment.late.includes(op.who) }];
		case "blocks":
			return [{ do: "blocks", blocks: before.moment.blocks }];
		case "floor":
			return [{ do: "floor", mode: before.floor }];
		case "hide":
			return [{ do: "hide", on: before.hidden }];
		case "door":
			return [{ do: "door", mode: before.door }];
		case "give":
			return op.spot === undefined
				? []
				: [{ do: "give", spot: op.spot, member: before.spots[op.spot]?.by ?? "" }];
		case "hold":
			return [{ do: "letgo" }];
		default:
			return [];
	}
}

function placeBack(before: State, who: string): Op[] {
	const at =
		before.moment.play !== ""
			? before.moment.places[who]
			: (before.men[who]?.at ?? before.spots[who]?.at);
	if (before.motion.who === who && before.moment.play === "") return motionBack(before);
	return at === undefined ? [] : [{ do: "place", who, at }];
}

const menBack = (before: State): Op[] =>
	Object.entries(before.men).map(([who, man]) => ({ do: "place", who, at: man.at }));
const spotsBack = (before: State): Op[] =>
	Object.entries(before.spots).map(([who, spot]) => ({ do: "place", who, at: spot.at }));

const holdersBack = (before: State): Op[] =>
	Object.entries(before.spots)
		.filter(([, s]) => s.by !== "")
		.map(([spot, s]) => ({ do: "give", spot, member: s.by }));

/** motionBack sends the man who was in motion from where he started. */
function motionBack({ motion: { who, from, to, line, kind, via } }: State): Op[] {
	return who === ""
		? []
		: [
				{ do: "place", who, at: from },
				{ do: "line", who, on: line },
				{
					do: "motion",
					who,
					at: to,
					...(kind === undefined ? {} : { kind }),
					...(via === undefined ? {} : { via }),
				},
			];
}

/** backToLook puts the old look up again and the men where they had moved to. */
function backToLook(before: State, book: BookOut | null): Op[] {
	const look = book?.looks.find((l) => l.id === before.look);
	if (look === undefined) return [];
	const moved = Object.entries(before.men).filter(([who, man]) => {
		if (who === before.motion.who) return false;
		const at = look.men[who]?.at;
		return at === undefined || at[0] !== man.at[0] || at[1] !== man.at[1];
	});
	return [
		{ do: "look", look: before.look },
		{ do: "ball", ball: before.ball },
		...moved.map(([who, man]): Op => ({ do: "place", who, at: man.at })),
		...motionBack(before),
		...holdersBack(before),
		...spotsBack(before),
		...momentBack(before),
	];
}

/** momentBack freezes the moment again that was frozen, and what was changed in it. */
function momentBack({ moment: { play, places, blocks, makes } }: State): Op[] {
	if (play === "") return [];
	// Whoever is on his way stays so only as long as nobody puts him anywhere,
	// and all of them only as long as nobody changes the blocks.
	const still = Object.entries(places).filter(([who]) => !(who in makes));
	return [
		{ do: "freeze", play },
		...still.map(([who, at]): Op => ({ do: "place", who, at })),
		...(Object.keys(makes).length > 0 ? [] : [{ do: "blocks", blocks } as const]),
	];
}

/** stillNeeded leaves out the operations that would change nothing now. */
export function stillNeeded(ops: readonly Op[], now: State): Op[] {
	if (now.moment.play !== "" || ops.some((op) => op.do === "freeze" || op.do === "motion")) {
		return [...ops];
	}
	return ops.filter((op) => {
		if (op.do === "give" && op.spot !== undefined) return now.spots[op.spot]?.by !== op.member;
		if (op.do !== "place" || op.who === undefined || op.at === undefined) return true;
		// Whoever is not there now comes back with the look or the call before him.
		const at = now.men[op.who]?.at ?? now.spots[op.who]?.at;
		return at === undefined || at[0] !== op.at[0] || at[1] !== op.at[1];
	});
}
