package judge

import (
	"slices"

	"halfline/internal/play"
)

// plays adds the times of the menu's plays and of the board's own, and when each
// spot's key shows.
func (a *assumed) plays(b *Board) {
	menu := slices.Clone(b.Menu)
	if b.Play != nil && !slices.Contains(menu, b.Play) {
		menu = append(menu, b.Play)
	}
	const (
		tracked = "in the range of public tracking 2017-2019; within it common practice"
		inBook  = "plays in a book"
	)
	for _, p := range menu {
		key := "play." + p.ID
		if p.Kind == play.Pass {
			a.add(key+".throw_from", p.ThrowFrom, "s", Chosen, "when the ball can leave the hand", inBook)
			a.add(key+".throw_to", p.ThrowTo, "s", Chosen, "and when it is too late", inBook)
			continue
		}
		a.add(key+".leaves", p.Leaves, "s", Derived, tracked, inBook)
		a.add(key+".caught", p.Caught, "s", Derived, tracked, inBook)
		a.add(key+".commits", p.Commits, "s", Derived, tracked, inBook)
		for i := range b.Spots {
			sp, ok := spotOf(b.Call, b.Spots[i].Label)
			if !ok {
				continue
			}
			if fit, ok := sp.Fits[p.Kind]; ok && !fit.OnThrow {
				a.add("key."+sp.Label+"."+p.ID, fit.Key, "s", Practice, "when his key shows; nobody measured it", "calls: fits: key in a book")
			}
		}
	}
}
