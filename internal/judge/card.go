package judge

import (
	"strings"

	"halfline/internal/call"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Card is a man's assignment in words, numbers resolved to tags. Receivers are
// those of his half.
type Card struct{ Align, Eyes, Fit, Block, Pass string }

// CardOf writes a spot's card. pl, if not nil, is the play whose fit is told;
// else all fits of the call are told, equal ones once.
func CardOf(s SpotResult, n []look.Man, pl *play.Play) Card {
	sp := s.Duty.Spot
	var c Card
	if s.Duty.Placed {
		c.Align = named(alignWords(s.Duty.Stand, call.Depth{Best: s.Duty.Best.Y, Least: s.Duty.Box.Least, Most: s.Duty.Box.Most}), n)
	} else if sp.Stand != nil {
		c.Align = named(alignWords(sp.Stand, sp.Stand.Depth), n)
	}
	c.Eyes = named(sp.Eyes, n)
	if pl != nil {
		c.Fit = named(sp.Fits[pl.Kind].Say, n)
	} else {
		c.Fit = named(allFits(sp), n)
	}
	c.Block = named(sp.Block, n)
	var ps []string
	for _, p := range sp.Pass {
		ps = append(ps, strings.TrimSpace(p.Number+" "+p.Release)+": "+p.Do)
	}
	c.Pass = named(strings.Join(ps, "; "), n)
	return c
}

func allFits(sp *call.Spot) string {
	var order []string
	kinds := map[string][]string{}
	for _, k := range play.Kinds {
		f, ok := sp.Fits[k]
		if !ok {
			continue
		}
		if kinds[f.Say] == nil {
			order = append(order, f.Say)
		}
		kinds[f.Say] = append(kinds[f.Say], string(k))
	}
	if len(order) == 1 {
		return order[0]
	}
	var out []string
	for _, say := range order {
		out = append(out, strings.Join(kinds[say], ", ")+": "+say)
	}
	return strings.Join(out, "; ")
}
