// One place in one session: the link, the book, the hands, and what follows
// from them for every screen.
import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { POINT_MS } from "../store/model.ts";
import { placesOf, spotOf } from "../store/predict.ts";
import type { Clock } from "../sync/clock.ts";
import { Link, type Target, type Tools } from "../sync/link.ts";
import { readBook } from "../wire/decode.ts";
import type { BookOut, Person, Place, State } from "../wire/types.ts";
import { Acts } from "./acts.ts";
import { Hands } from "./hands.ts";
import { ask } from "./http.ts";
import { Reel } from "./reel.ts";

export class Seat {
	readonly link: Link;
	readonly acts: Acts;
	readonly hands: Hands;
	/** The rep on this screen. */
	readonly reel: Reel;
	readonly clock: Clock;
	readonly book: Signal<BookOut | null> = signal(null);
	/** What is shown as settled: confirmed, and our own waiting operations. */
	readonly state: ReadonlySignal<State | null>;
	/** Where everybody is drawn: drags over settled places. */
	readonly places: ReadonlySignal<Readonly<Record<string, Place>>>;
	/** The spot I hold. */
	readonly spot: ReadonlySignal<string | null>;
	/** The coach has not let me in yet. */
	readonly waiting: ReadonlySignal<boolean>;
	/** Nothing on the screen may look current. */
	readonly stale: ReadonlySignal<boolean>;
	readonly pointed: ReadonlySignal<readonly (string | Place)[]>;
	private fetching = "";
	private stops: (() => void)[] = [];

	constructor(
		readonly target: Target,
		tools: Tools,
	) {
		this.clock = tools.clock;
		const link = new Link(target, tools);
		this.link = link;
		this.acts = new Acts(link, () => this.book.value);
		this.state = link.state;
		this.hands = new Hands({
			state: () => link.state.value,
			place: (who) => this.places.value[who],
			drag: (who, at) => link.drag(who, at),
			act: (op) => this.acts.do(op),
			frame: (run) => requestAnimationFrame(run),
			after: tools.clock.after,
		});
		this.reel = new Reel({
			state: link.state,
			model: link.model,
			hubNow: () => link.hubNow(),
			frame: (run) => {
				const id = requestAnimationFrame(run);
				return () => cancelAnimationFrame(id);
			},
			calm: () => matchMedia("(prefers-reduced-motion: reduce)").matches,
		});
		this.places = computed(() => {
			const s = link.state.value;
			if (s === null) return {};
			const held = this.hands.held.value;
			const all = { ...placesOf(s), ...link.model.value.drags };
			return held === null ? all : { ...all, [held.who]: held.at };
		});
		this.spot = computed(() => {
			const s = link.state.value;
			return s === null ? null : spotOf(s, link.model.value.member);
		});
		this.waiting = computed(() => {
			const { member, roster, state } = link.model.value;
			const me = state?.members[member] ?? roster.people.find((p) => p.member === member);
			return me === undefined ? state === null && member !== "" : !me.in;
		});
		this.stale = computed(() => link.connection.value.kind !== "live");
		this.pointed = computed(() => {
			void link.ticks.value;
			const now = tools.clock.now();
			return link.model.value.points
				.filter((p) => now - p.at < POINT_MS)
				.flatMap(({ point }): (string | Place)[] =>
					point.who !== undefined && point.who !== ""
						? [point.who]
						: point.at === undefined
							? []
							: [point.at],
				);
		});
	}

	start(): void {
		this.link.start();
		this.stops.push(this.watchPicture(), this.reel.start());
		this.stops.push(
			effect(() => {
				const { session, state } = this.link.model.value;
				if (state !== null && !this.waiting.value) void this.fetch(session, state.book);
			}),
		);
	}

	/**
	 * watchPicture takes men out of the hand when look, side or moment change under
	 * it, and when a rep begins. One that ends may have been ended by the hand.
	 */
	private watchPicture(): () => void {
		let last = "";
		let ran = false;
		return effect(() => {
			const s = this.link.model.value.state;
			const now =
				s === null ? "" : `${s.look} ${s.side} ${s.ball.hash} ${s.ball.yard} ${s.moment.play}`;
			const runs = (s?.rep.play ?? "") !== "";
			if (last !== "" && (now !== last || (runs && !ran))) this.hands.letGo();
			last = now;
			ran = runs;
		});
	}

	stop(): void {
		for (const s of this.stops) s();
		this.link.stop();
	}

	/** me is my own line of the roster. */
	get me(): Person | undefined {
		const { member, roster } = this.link.model.value;
		return roster.people.find((p) => p.member === member);
	}

	/** may tells whether this device moves a man now; the hub has the last word. */
	may(who: string): boolean {
		const s = this.state.value;
		const { role } = this.link.model.value;
		if (s === null || role === "wall" || this.waiting.value) return false;
		if (role === "coach") return true;
		if (s.rep.play !== "") return false;
		const mine = this.spot.value;
		if (mine === null) return false;
		if (s.hidden && s.committed.includes(mine)) return false;
		return s.floor === "all" || (s.floor === "own" && who === mine);
	}

	private async fetch(session: string, book: string): Promise<void> {
		const want = `${session}/${book}`;
		if (this.fetching === want) return;
		this.fetching = want;
		const got = await ask(`/api/book?session=${encodeURIComponent(session)}`, readBook, {
			token: this.target.token,
		});
		if (this.fetching !== want) return;
		if (got.ok) this.book.value = got.value;
		else this.clock.after(3000, () => this.again(want, session, book));
	}

	private again(want: string, session: string, book: string): void {
		if (this.fetching !== want) return;
		this.fetching = "";
		void this.fetch(session, book);
	}
}
