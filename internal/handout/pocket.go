package handout

import (
	"halfline/internal/call"
	"halfline/internal/judge"
)

// pocketSheet is how many pocket cards are on a sheet, each 96 mm by 60 mm, which
// goes into a wristband (common practice, no source).
const pocketSheet = 8

// Pocket is the pocket cards of the calls: a card each, a line for every spot.
func Pocket(calls []*call.Call, caution string) []byte {
	p := begin("Pocket cards")
	for from := 0; from < len(calls); from += pocketSheet {
		p.add(`<section class="sheet"><div class="pockets">`)
		for _, c := range calls[from:min(from+pocketSheet, len(calls))] {
			p.add(`<div class="pocketcard"><h2>`, esc(c.Name), `</h2><ul class="men">`)
			for i := range c.Spots {
				if s := &c.Spots[i]; s.Half == call.This && s.Stand != nil {
					k := judge.CardOf(s)
					p.man(s.Label, k.Align, "Fit: "+k.Fit)
				}
			}
			p.add(`</ul></div>`)
		}
		p.add(`</div>`)
		p.foot(caution)
	}
	return p.end()
}
