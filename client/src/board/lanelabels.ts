// Labels of the lanes. A label that is wider than its lane is shortened; one
// that is still too wide goes a row higher, with a line down to its lane.

export interface Strip {
	readonly key: string;
	/** Left and right edge on the screen. */
	readonly left: number;
	readonly right: number;
	/** From the fullest wording to the shortest. */
	readonly says: readonly string[];
}

export interface Label {
	readonly key: string;
	readonly text: string;
	/** Middle of the text. */
	readonly x: number;
	/** Rows away from the strip's end. */
	readonly row: number;
	/** Middle of the strip, where the leader ends. */
	readonly foot: number;
}

/** Width of a text in a system font, good enough to lay labels out. */
export const textWidth = (text: string, size: number): number => text.length * size * 0.58;

const PAD = 4;

/** layLabels finds a place for every label between the board's edges. */
export function layLabels(strips: readonly Strip[], size: number, width: number): Label[] {
	const rows: [number, number][][] = [[]];
	const labels: Label[] = [];
	const free = (row: number, l: number, r: number) =>
		(rows[row] ?? []).every(([a, b]) => r <= a || l >= b);
	for (const strip of [...strips].sort((a, b) => a.left - b.left)) {
		const room = strip.right - strip.left - 2 * PAD;
		const foot = (strip.left + strip.right) / 2;
		const fits = strip.says.find((t) => textWidth(t, size) <= room);
		const text = fits ?? strip.says[0] ?? "";
		const half = textWidth(text, size) / 2 + PAD;
		const x = Math.min(Math.max(foot, half), Math.max(width - half, half));
		let row = fits === undefined ? 1 : 0;
		while (!free(row, x - half, x + half)) row++;
		const list = rows[row] ?? [];
		list.push([x - half, x + half]);
		rows[row] = list;
		labels.push({ key: strip.key, text, x, row, foot });
	}
	return labels;
}
