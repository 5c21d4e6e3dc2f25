// The board: one drawing for the phone, the coach and the wall.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { YARD } from "../field/ground.ts";
import { type Extent, field, needed, project, type Size, steady } from "../field/projection.ts";
import type { Ball } from "../wire/types.ts";
import { GROUP, SILENT } from "./aria.ts";
import { BallMark, FlyingBall, type Ghost, GhostBall, useBall, withBall } from "./Ball.tsx";
import { Grip } from "./Grip.tsx";
import { Ground } from "./Ground.tsx";
import { Lanes } from "./Lanes.tsx";
import { Above, Below } from "./Marks.tsx";
import { Disc, Square } from "./Pieces.tsx";
import { nearest, press, type Touch } from "./pointer.ts";
import { type Drawn, useRunning } from "./running.ts";
import { type BoardScene, focusOf } from "./scene.ts";
import { type Piece, spread } from "./spread.ts";

export interface BoardProps {
	scene: BoardScene;
	/** Size of the men and the text: 1 on a phone, larger on a wall. */
	scale: number;
	/** Absent on a board that only shows. */
	touch?: Touch;
	/** Moves the ball; absent where that is not allowed. */
	onBall?: (ball: Ball) => void;
	/** A step with an arrow key, in screen directions. */
	onStep?: (who: string, x: number, y: number, far: boolean) => void;
	onPick?: (who: string) => void;
	/** Who can be reached with the keyboard. */
	reach?: (who: string) => boolean;
	/** Draw the offset grip under me. */
	grip?: boolean;
	label: string;
}

/** Root font size against the usual 16 px, so that text grows with the reader's setting. */
const textScale = (): number =>
	Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1;

export function Board(props: BoardProps) {
	const { scene: s, touch } = props;
	const box = useRef<HTMLDivElement>(null);
	const svg = useRef<SVGSVGElement>(null);
	const size = useSize(box);
	const extent = useRef<{ is: Extent; of: string } | null>(null);
	const [ghost, setGhost] = useState<Ghost | null>(null);

	const wanted = needed(s.ball, s.side, s.settled);
	const of = `${s.ball.rules} ${s.ball.hash} ${s.side}`;
	const other = extent.current?.of !== of;
	if (other || (s.held === null && ghost === null)) {
		const old = other ? null : (extent.current?.is ?? null);
		extent.current = { is: steady(old, wanted), of };
	}
	const seen = extent.current?.is ?? wanted;
	const width = useMemo(() => field(s.ball), [s.ball]);
	const p = useMemo(
		() => project(seen, size, s.eyes, s.side, width),
		[seen, size, s.eyes, s.side, width],
	);

	// Men glide when they move, not when the drawing is laid out anew.
	const laid = useRef(p);
	const still = laid.current !== p;
	laid.current = p;

	const text = textScale();
	const font = 11.5 * props.scale * Math.min(text, 1.6);
	const r =
		Math.min(Math.max(p.scale * YARD * 0.64, 11.5 * Math.min(text, 1.35)), 19) * props.scale;
	const all = pieces(s, r);
	const drawn = spread(all, s.blocks, p);

	const now = useRef<Drawn & { touch: Touch | undefined }>({ p, drawn, touch, r, pieces: all });
	now.current = { p, drawn, touch, r, pieces: all };
	useRunning(svg, now, s.running);
	const ball = useBall(s.ball, props.onBall, setGhost, ghost);
	const hand = useMemo(
		() =>
			press(
				() => svg.current,
				() => now.current.p,
				(x, y) =>
					nearest(
						withBall(now.current.drawn, now.current.p, ball.current, now.current.r),
						x,
						y,
						26,
					),
				() => ball.current.over(now.current.touch),
			),
		[ball],
	);
	useBelt(svg);

	const ground = useMemo(
		() => <Ground ball={s.ball} side={s.side} p={p} font={font} />,
		[s.ball, s.side, p, font],
	);
	const focus = focusOf(s);
	const place = (who: string) => {
		const at = drawn.get(who);
		return `translate(${(at?.x ?? 0).toFixed(1)}px,${(at?.y ?? 0).toFixed(1)}px)`;
	};
	const beyond = (who: string) => {
		const x = s.places[who]?.[0] ?? 0;
		return x < p.seen.minX || x > p.seen.maxX;
	};
	const shownMen = s.edges ? s.men : s.men.filter((m) => !beyond(m.who));
	const classOf = (who: string) =>
		`piece${who === s.held ? " held" : ""}${who === s.selected ? " selected" : ""}${beyond(who) ? " beyond" : ""}${props.reach?.(who) === true ? " takes" : ""}`;
	const freeSide = (who: string): -1 | 1 => {
		const by = s.blocks.find((b) => b.on === who)?.by;
		const blocker = by === undefined ? undefined : drawn.get(by);
		return blocker !== undefined && (drawn.get(who)?.x ?? 0) > blocker.x ? 1 : -1;
	};
	const keys = (who: string) =>
		props.reach?.(who) !== true
			? {}
			: {
					tabIndex: 0,
					role: "button" as const,
					"aria-label": s.describe(who),
					onKeyDown: (e: KeyboardEvent) => stepKey(e, who, props),
				};
	return (
		<div
			class={`board${s.stale ? " stale" : ""}${still || s.running !== null ? " still" : ""}`}
			ref={box}
		>
			<svg
				ref={svg}
				width={size.width}
				height={size.height}
				viewBox={`0 0 ${size.width} ${size.height}`}
				{...GROUP}
				aria-label={props.label}
				onPointerDown={touch && ((e) => hand.down(e))}
				onPointerMove={touch && ((e) => hand.move(e))}
				onPointerUp={touch && ((e) => hand.up(e))}
				onPointerCancel={touch && ((e) => hand.lost(e))}
				onLostPointerCapture={touch && ((e) => hand.lost(e))}
			>
				<defs>
					<pattern
						id="hatching"
						width="7"
						height="7"
						patternUnits="userSpaceOnUse"
						patternTransform="rotate(45)"
					>
						<line class="hatchline" x1="0" y1="0" x2="0" y2="7" />
					</pattern>
				</defs>
				{ground}
				{s.lanes.length > 0 && <Lanes lanes={s.lanes} takes={s.takes} p={p} font={font * 1.1} />}
				<Below s={s} p={p} drawn={drawn} r={r} />
				{props.onBall !== undefined && s.running === null && (
					<BallMark p={p} at={ghost?.at ?? [0, 0]} r={r} />
				)}
				{shownMen.map((man) => (
					<g
						key={man.who}
						class={classOf(man.who)}
						data-who={man.who}
						style={{ transform: place(man.who) }}
					>
						<circle class="reach" r={Math.max(22, r)} {...keys(man.who)} />
						<g {...SILENT}>
							<Square
								man={man}
								r={r}
								up={-p.turnY}
								font={font}
								edge={beyond(man.who) ? Math.sign(s.places[man.who]?.[0] ?? 0) * p.turnX : 0}
							/>
						</g>
					</g>
				))}
				{s.spots.map((man) => (
					<g
						key={man.who}
						class={classOf(man.who)}
						data-who={man.who}
						style={{ transform: place(man.who) }}
					>
						<circle class="reach" r={Math.max(22, r)} {...keys(man.who)} />
						<g {...SILENT}>
							<Disc
								man={man}
								r={man.who === s.me ? r * 1.3 : r}
								mine={man.who === s.me}
								inside={(man.half === "right" ? -p.turnX : p.turnX) as -1 | 1}
								fixShown={man.who === focus}
								flagSide={freeSide(man.who)}
								angle={
									man.fix === null ? 0 : Math.atan2(man.fix[1] * p.turnY, man.fix[0] * p.turnX)
								}
								font={font}
							/>
						</g>
					</g>
				))}
				{s.running !== null && <FlyingBall r={r} />}
				<Above s={s} p={p} drawn={drawn} r={r} font={font} />
				{props.grip === true && s.me !== null && (
					<Grip me={s.me} drawn={drawn} r={r} size={size} held={s.held !== null} />
				)}
				{ghost !== null && <GhostBall p={p} ghost={ghost} font={font} r={r} />}
			</svg>
		</div>
	);
}

function pieces(s: BoardScene, r: number): Piece[] {
	return [...s.men, ...s.spots].flatMap(({ who }) => {
		const at = s.places[who];
		return at === undefined
			? []
			: [{ who, at, r: who === s.me ? r * 1.3 : r, fixed: who === s.held }];
	});
}

function stepKey(e: KeyboardEvent, who: string, props: BoardProps): void {
	const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[
		e.key
	];
	if (way !== undefined) {
		e.preventDefault();
		props.onStep?.(who, way[0] ?? 0, way[1] ?? 0, e.shiftKey);
	} else if (e.key === "Enter" || e.key === " ") {
		e.preventDefault();
		props.onPick?.(who);
	}
}

function useSize(box: { current: HTMLDivElement | null }): Size {
	const [size, setSize] = useState<Size>({ width: 360, height: 300 });
	useEffect(() => {
		const el = box.current;
		if (el === null) return;
		const measure = () => {
			const width = Math.max(el.clientWidth, 120);
			const height = Math.max(el.clientHeight, 120);
			setSize((old) => (old.width === width && old.height === height ? old : { width, height }));
		};
		measure();
		const watch = new ResizeObserver(measure);
		watch.observe(el);
		return () => watch.disconnect();
	}, [box]);
	return size;
}

/** useBelt keeps old iPhones from scrolling the page under a drag on the board. */
function useBelt(svg: { current: SVGSVGElement | null }): void {
	useEffect(() => {
		const el = svg.current;
		const stop = (e: TouchEvent) => e.preventDefault();
		el?.addEventListener("touchmove", stop, { passive: false });
		return () => el?.removeEventListener("touchmove", stop);
	}, [svg]);
}
