// What the board draws, already decided: the drawing itself knows nothing of
// sessions, roles or links.
import type { Side } from "../field/ground.ts";
import type { Eyes } from "../field/projection.ts";
import type { Film } from "../store/film.ts";
import type { Ball, Block, LaneAnswer, Place, PocketAnswer } from "../wire/types.ts";
import type { SignKind } from "./Sign.tsx";

export interface OffenseMan {
	readonly who: string;
	/** Receiver's number on his side, 0 if he is none. */
	readonly number: number;
	/** Written beside the number, as his split in yards. */
	readonly aside: string;
	readonly moving: boolean;
}

export interface DefenseMan {
	readonly who: string;
	/** What the disc says: the spot's label or, for me, my jersey. */
	readonly text: string;
	/** Small text under the disc. */
	readonly under: string;
	readonly sign: SignKind | null;
	readonly half: Side;
	/** Side of his man that his hat must be on; null if it is not known here. */
	readonly hat: "inside" | "outside" | null;
	/** Change that brings him right, in inches. */
	readonly fix: Place | null;
	/** 1 for the first cause. */
	readonly flag: number;
	/** Where he is running in a frozen moment, in inches a second. */
	readonly going: Place | null;
	/** A coach calls him too late to count. */
	readonly late: boolean;
}

/** A rep on the board: it draws itself on, frame by frame. */
export interface Running {
	readonly film: Film;
	now(): number;
	/** Calls back before every frame in which the rep may have moved. */
	watch(run: (ms: number) => void): () => void;
}

export interface BoardScene {
	readonly ball: Ball;
	readonly side: Side;
	readonly eyes: Eyes;
	readonly men: readonly OffenseMan[];
	readonly spots: readonly DefenseMan[];
	/** Where everybody is, drags included. */
	readonly places: Readonly<Record<string, Place>>;
	/** A rep that moves them; null while there is none. */
	readonly running: Running | null;
	/** Where everybody stood when nobody was dragged: what the drawn part is chosen by. */
	readonly settled: readonly Place[];
	readonly blocks: readonly Block[];
	readonly lanes: readonly LaneAnswer[];
	/** The lane the ball is on its way to, -1 if none. */
	readonly takes: number;
	/** Drawn larger, with grip, rule box, key and fix. */
	readonly me: string | null;
	readonly selected: string | null;
	/** Under my finger. */
	readonly held: string | null;
	/** Whom the man in focus reads first. */
	readonly key: string | null;
	readonly box: readonly [number, number, number, number] | null;
	/** Where I may stand and still keep everything. */
	readonly pocket: PocketAnswer | null;
	/** Where the man in motion started. */
	readonly motion: { readonly who: string; readonly from: Place } | null;
	/** Men and places that somebody points at. */
	readonly pointed: readonly (string | Place)[];
	readonly stale: boolean;
	/** Mark those at the edge who stand beyond it. */
	readonly edges: boolean;
	/** Describes a man for who cannot see the board. */
	readonly describe: (who: string) => string;
}

/** The man whose box, key and fix are drawn. */
export const focusOf = (s: BoardScene): string | null => s.selected ?? s.me;
