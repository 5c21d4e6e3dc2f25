// A rep on this screen: where it is by the hub's time, and who is to be told. A
// frame of the rolling rep moves the drawn men only; the page is drawn anew just
// when something happens in the rep that is said in words or strips.
import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Running } from "../board/scene.ts";
import { develop, type Film, isOver, lanesAt, ownersAt, repAt } from "../store/film.ts";
import type { Model } from "../store/model.ts";
import type { Rep, State, TrackLanes, TrackOwners } from "../wire/types.ts";

export interface ReelTools {
	readonly state: ReadonlySignal<State | null>;
	readonly model: ReadonlySignal<Model>;
	/** The hub's time, null before any was heard. */
	hubNow(): number | null;
	/** Runs before the next frame is drawn; the result takes it back. */
	frame(run: () => void): () => void;
	/** Whether the reader wants less motion. */
	calm(): boolean;
}

/** What of a rep is said in words and strips at a time. */
export interface Stage {
	/** So many of its events have happened. */
	readonly events: number;
	readonly lanes: TrackLanes | null;
	readonly owners: TrackOwners | null;
	readonly over: boolean;
}

type Watcher = (ms: number) => void;

export class Reel {
	/** The rep that is shown, null while there is none. */
	readonly rep: ReadonlySignal<Rep | null>;
	/** Its track, null until it has come. */
	readonly film: ReadonlySignal<Film | null>;
	readonly stage: Signal<Stage | null> = signal(null);
	/** Under this screen's own finger the rep is here already. */
	readonly scrubbed: Signal<number | null> = signal(null);
	private readonly watchers = new Set<Watcher>();
	private stopFrame: (() => void) | null = null;
	private handle: Running | null = null;

	constructor(private readonly tools: ReelTools) {
		this.rep = computed(() => {
			const rep = tools.state.value?.rep;
			return rep === undefined || rep.play === "" ? null : rep;
		});
		const track = computed(() => tools.model.value.track);
		const developed = computed(() => (track.value === null ? null : develop(track.value)));
		this.film = computed(() => (this.rep.value === null ? null : developed.value));
	}

	start(): () => void {
		const stop = effect(() => {
			void this.rep.value;
			void this.film.value;
			void this.scrubbed.value;
			this.ask();
		});
		return () => {
			stop();
			this.stopFrame?.();
			this.stopFrame = null;
		};
	}

	/** now is where the rep is, in ms after the snap. */
	now(): number {
		const rep = this.rep.peek();
		if (rep === null) return 0;
		const scrubbed = this.scrubbed.peek();
		if (scrubbed !== null) return scrubbed;
		const ms = repAt(rep, this.tools.hubNow());
		const track = this.film.peek()?.track;
		// Who wants less motion sees one key after the other.
		if (rep.since === 0 || isOver(rep, ms) || track === undefined || !this.tools.calm()) return ms;
		return Math.max(track.from + Math.floor((ms - track.from) / track.step) * track.step, rep.from);
	}

	/** on gives a board its film: the same to all boards, as long as it is the same. */
	on(film: Film): Running {
		if (this.handle?.film !== film) {
			this.handle = { film, now: () => this.now(), watch: (run) => this.watch(run) };
		}
		return this.handle;
	}

	/** rolls tells whether the rep is under way now. */
	rolls(): boolean {
		const rep = this.rep.peek();
		return rep !== null && rep.since !== 0 && !isOver(rep, repAt(rep, this.tools.hubNow()));
	}

	/** watch calls back before every frame in which the rep may have moved. */
	watch(run: Watcher): () => void {
		this.watchers.add(run);
		return () => this.watchers.delete(run);
	}

	private ask(): void {
		this.stopFrame ??= this.tools.frame(() => {
			this.stopFrame = null;
			this.draw();
		});
	}

	private draw(): void {
		const ms = this.now();
		this.look(ms);
		for (const run of this.watchers) run(ms);
		// By the time that was drawn, not by the time it is now: the end is drawn, too.
		const rep = this.rep.peek();
		if (rep !== null && rep.since !== 0 && !isOver(rep, ms) && this.scrubbed.peek() === null) {
			this.ask();
		}
	}

	/** look sees whether something happened that is said. */
	private look(ms: number): void {
		const film = this.film.peek();
		const rep = this.rep.peek();
		const was = this.stage.peek();
		if (film === null || rep === null) {
			if (was !== null) this.stage.value = null;
			return;
		}
		const now: Stage = {
			events: film.track.events.filter((e) => e.t <= ms).length,
			lanes: lanesAt(film, ms),
			owners: ownersAt(film, ms),
			over: isOver(rep, ms),
		};
		if (
			was === null ||
			was.events !== now.events ||
			was.lanes !== now.lanes ||
			was.owners !== now.owners ||
			was.over !== now.over
		) {
			this.stage.value = now;
		}
	}
}
