// Attributes for who listens instead of looking.

/** For what only the eye needs: the board in words says the same. */
export const SILENT = { "aria-hidden": true } as const;

/** An SVG that holds things to reach; no HTML element can take its place. */
export const GROUP = { role: "group" } as const;
