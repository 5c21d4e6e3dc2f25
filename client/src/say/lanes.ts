// Lanes in words.
import type { LaneAnswer } from "../wire/types.ts";

export type LaneKind = "shut" | "fit" | "open";

export const laneKind = (l: LaneAnswer): LaneKind =>
	l.shut_by !== "" ? "shut" : l.fit_by !== "" ? "fit" : "open";

const gain = (l: LaneAnswer): string =>
	l.gain_yd === null ? "" : ` ${Math.round(l.gain_yd * 10) / 10 + 0} yd`;

export const LANE_WORDS: Record<LaneKind, (l: LaneAnswer) => string> = {
	shut: (l) => `shut by ${l.shut_by}`,
	fit: (l) => `${l.fit_by} fits${gain(l)}`,
	open: (l) => `open${gain(l)}`,
};

/** laneLabels words a lane from long to short, for a label that must fit. */
export function laneLabels(l: LaneAnswer): string[] {
	switch (laneKind(l)) {
		case "shut":
			return [LANE_WORDS.shut(l), `by ${l.shut_by}`, l.shut_by];
		case "fit":
			return [LANE_WORDS.fit(l), `${l.fit_by}${gain(l)}`, l.fit_by];
		case "open":
			return [LANE_WORDS.open(l), "open"];
	}
}
