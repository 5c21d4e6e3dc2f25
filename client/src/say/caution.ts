/** Shown before there is a book, whose own words then take its place. */
export const CAUTION =
	"Head up, never lead with the helmet. For practice and meetings; local rules govern.";
