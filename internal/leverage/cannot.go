package leverage

import (
	"fmt"

	"halfline/internal/play"
)

// Cannot says why the look cannot run a play, or nothing if it can.
func (b *Board) Cannot(pl *play.Play) string {
	if m := pl.Motion; m != nil {
		i := b.find(m.By)
		switch {
		case i < 0:
			return fmt.Sprintf("nobody is %s to go in motion", m.By)
		case b.Men[i].Man.Line:
			return fmt.Sprintf("%s stands on the line and may not be in motion", b.Men[i].Man.Tag)
		case m.Off != "" && b.find(m.Off) < 0:
			return fmt.Sprintf("nobody is %s to go in motion off", m.Off)
		}
	}
	if pl.Kind == play.Pass {
		return b.cannotPass(pl)
	}
	c := b.find(pl.Carrier)
	switch {
	case c < 0:
		return fmt.Sprintf("nobody is %s to carry it", pl.Carrier)
	case pl.Kind.Thrown() && b.Count.Attached(b.Side, b.Men[c].Man):
		return fmt.Sprintf("%s is on the end of the line: no screen for him", b.Men[c].Man.Tag)
	case pl.Kind.Thrown() && b.covered(c):
		return fmt.Sprintf("%s is covered on the line: not eligible for a pass", b.Men[c].Man.Tag)
	}
	for _, bl := range pl.Blocks {
		if bl.How.Hard() && b.find(bl.By) < 0 {
			return fmt.Sprintf("no %s to block for it", bl.By)
		}
	}
	return ""
}

func (b *Board) cannotPass(pl *play.Play) string {
	why := "it has no routes"
	for i := range pl.Routes {
		by := b.find(pl.Routes[i].By)
		switch {
		case by < 0:
			why = fmt.Sprintf("nobody is %s to run a route", pl.Routes[i].By)
		case b.covered(by):
			why = fmt.Sprintf("%s is covered on the line: not eligible for a pass", b.Men[by].Man.Tag)
		default:
			return ""
		}
	}
	return why
}
