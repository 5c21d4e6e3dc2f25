package handout

import (
	"fmt"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/judge"
	"halfline/internal/leverage"
	"halfline/internal/strip"
)

const (
	// MostLooks go on an install page: more in one meeting is not learned (common
	// practice, no source: 6 to 8).
	MostLooks = 8
	perSheet  = 6
)

// Install is the install page of a call: it against several looks, with what each
// man is told under each board.
func Install(bk *book.Book, c *call.Call, looks []*book.Look) []byte {
	looks = looks[:min(len(looks), MostLooks)]
	p := begin("Install: " + c.Name)
	sheets := (len(looks) + perSheet - 1) / perSheet
	for i := range sheets { // as many on each, or one more on the first
		from, to := share(len(looks), sheets, i)
		about := fmt.Sprintf("against %d looks, as the defense sees them", len(looks))
		if sheets > 1 {
			about += fmt.Sprintf(", sheet %d of %d", i+1, sheets)
		}
		p.sheet(c.Name, about)
		if i == 0 {
			p.alike(c)
		}
		p.add(`<div class="boards">`)
		for _, l := range looks[from:to] {
			p.board(bk, c, l)
		}
		p.add(`</div>`)
		p.foot(bk.Caution)
	}
	return p.end()
}

// share gives part i of n things in so many even parts.
func share(n, parts, i int) (from, to int) {
	each, more := n/parts, n%parts
	from = i*each + min(i, more)
	to = from + each
	if i < more {
		to++
	}
	return from, to
}

// alike is what each man is told whatever the look.
func (p *page) alike(c *call.Call) {
	p.add(`<ul class="men alike">`)
	for i := range c.Spots {
		if s := &c.Spots[i]; s.Half == call.This && s.Stand != nil {
			k := judge.CardOf(s)
			p.man(s.Label, "Eyes: "+k.Eyes, "Block: "+k.Block, "Pass: "+k.Pass)
		}
	}
	p.add(`</ul>`)
}

func (p *page) board(bk *book.Book, c *call.Call, l *book.Look) {
	b := judge.LinedUp(bk, l, c)
	r := judge.Run(&b)
	p.add(`<div><h2>`, esc(l.Name), `</h2>`)
	p.add(strip.Figure(&b, &r, c.Name+" against "+l.Name, strip.Signs{Boxes: true, Keeps: true, Eyes: strip.Defense}))
	p.add(`<ul class="men">`)
	for i := range r.Spots {
		k := r.Card(i)
		p.man(r.Spots[i].Label, k.Align, "Fit: "+k.Fit, warn(r.Spots[i].Keeps))
	}
	p.add(`</ul></div>`)
}

// warn tells what an install has to talk about: a man who, where his rule likes him
// best, still does not keep leverage.
func warn(k leverage.Keeps) string {
	switch k {
	case leverage.No:
		return "Loses leverage here: talk about it"
	case leverage.Contested:
		return "Contested here"
	}
	return ""
}
