// Paths that more than one part of the drawing needs. Angles are in radians,
// clockwise from the right on the screen.

const n = (v: number): string => (Math.round(v * 10) / 10).toString();

/** halfRing is the arc on one side of a disc: -1 left, +1 right. */
export function halfRing(x: number, y: number, r: number, side: -1 | 1): string {
	const a = 1.25; // radians above and below the middle
	const dx = Math.cos(a) * r * side;
	const dy = Math.sin(a) * r;
	return `M${n(x + dx)} ${n(y - dy)}A${n(r)} ${n(r)} 0 0 ${side === 1 ? 1 : 0} ${n(x + dx)} ${n(y + dy)}`;
}

/** arrow is a shaft with an open head, from one point to another. */
export function arrow(x1: number, y1: number, x2: number, y2: number, head: number): string {
	const a = Math.atan2(y2 - y1, x2 - x1);
	const wing = (turn: number) =>
		`${n(x2 - head * Math.cos(a + turn))} ${n(y2 - head * Math.sin(a + turn))}`;
	return `M${n(x1)} ${n(y1)}L${n(x2)} ${n(y2)}M${wing(0.5)}L${n(x2)} ${n(y2)}L${wing(-0.5)}`;
}

/** ringDashes is the stroke pattern of a ring of radius r for each sign. */
export function ringDashes(sign: "yes" | "contested" | "no" | null, r: number): string | undefined {
	const round = 2 * Math.PI * r;
	if (sign === "contested") return `${n(round / 20)} ${n(round / 20)}`;
	// Four arcs with wide gaps: broken, also for who cannot tell the colours.
	if (sign === "no") return `${n(round / 6.4)} ${n(round / 4 - round / 6.4)}`;
	return undefined;
}
