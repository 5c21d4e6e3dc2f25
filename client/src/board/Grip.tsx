// A pad beside me where there is room, so that the finger need not cover me.
import { useRef } from "preact/hooks";
import type { Size } from "../field/projection.ts";
import { SILENT } from "./aria.ts";

const GRIP_R = 15;
const WAYS: readonly (readonly [number, number])[] = [
	[0, 1],
	[1, 0],
	[-1, 0],
	[0, -1],
];

/** Grip is that pad. */
export function Grip({
	me,
	drawn,
	r,
	size,
	held,
}: {
	me: string;
	drawn: ReadonlyMap<string, { x: number; y: number }>;
	r: number;
	size: Size;
	held: boolean;
}) {
	const way = useRef<readonly [number, number]>([0, 1]);
	const at = drawn.get(me);
	if (at === undefined) return null;
	const long = r * 1.3 + 36;
	if (!held) way.current = WAYS.find((w) => hasRoom(w, at, long, me, drawn, r, size)) ?? [0, 1];
	const [wx, wy] = way.current;
	const x = at.x + wx * long;
	const y = at.y + wy * long;
	return (
		<g class="grip" {...SILENT}>
			<line
				x1={at.x + wx * r * 1.6}
				y1={at.y + wy * r * 1.6}
				x2={x - wx * GRIP_R}
				y2={y - wy * GRIP_R}
			/>
			<circle cx={x} cy={y} r={GRIP_R} />
			<path d={`M${x - 5} ${y - 4}h10M${x - 5} ${y}h10M${x - 5} ${y + 4}h10`} />
		</g>
	);
}

function hasRoom(
	[wx, wy]: readonly [number, number],
	at: { x: number; y: number },
	long: number,
	me: string,
	drawn: ReadonlyMap<string, { x: number; y: number }>,
	r: number,
	size: Size,
): boolean {
	const x = at.x + wx * long;
	const y = at.y + wy * long;
	if (x < GRIP_R || y < GRIP_R || x > size.width - GRIP_R || y > size.height - GRIP_R) return false;
	for (const [who, d] of drawn) {
		if (who !== me && Math.hypot(d.x - x, d.y - y) < r + GRIP_R + 3) return false;
	}
	return true;
}
