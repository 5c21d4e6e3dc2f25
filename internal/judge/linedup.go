package judge

import (
	"halfline/internal/assign"
	"halfline/internal/book"
	"halfline/internal/call"
)

// LinedUp is a look of the book with a call against it, every man of the side
// under study where his rule likes him best: what is drawn on an install page
// before anybody has stood anywhere. Speeds and depths are those of the squad's
// usual men. Whose rule finds nothing to line up off is left out.
func LinedUp(bk *book.Book, l *book.Look, c *call.Call) Board {
	out := Board{Ball: l.Shown.Ball, Side: l.Side, Call: c, Menu: bk.MenuPlays(l.Menu), Model: bk.Model, Carry: bk.Athletes.Carry(), Box: l.Shown.Box}
	for _, m := range l.Shown.Men {
		out.Men = append(out.Men, Man{Man: m, Athlete: bk.Offense(l.Shown, m)})
	}
	for i := range c.Spots {
		s := &c.Spots[i]
		if s.Half != call.This || s.Stand == nil {
			continue
		}
		sp := Spot{Label: s.Label, Athlete: bk.Defense(s)}
		for k := range bk.Squad {
			if p := &bk.Squad[k]; p.Spot == s.Label {
				if p.Athlete != nil {
					sp.Athlete = *p.Athlete
				}
				sp.Depth = p.Depth
				break
			}
		}
		d := assign.For(s, l.Shown, l.Side, sp.Depth)
		if !d.Placed {
			continue
		}
		sp.At = out.Ball.Clamp(d.Half.FlipOffset(d.Best))
		out.Spots = append(out.Spots, sp)
	}
	return out
}
