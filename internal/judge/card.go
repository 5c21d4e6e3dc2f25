package judge

import (
	"slices"
	"strings"

	"halfline/internal/call"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Card is a man's assignment in words, numbers resolved to tags. Align, Eyes, Fit
// and Pass are one short line each; Plays and Rules tell all.
type Card struct {
	Align, Eyes, Fit, Block, Pass string
	Plays                         []string // his part against each kind of play
	Rules                         []string // all pass rules
}

// Card writes the card of spot i.
func (r *Result) Card(i int) Card {
	s := &r.Spots[i]
	c := cardOf(s.Duty.Spot, r.words.numbers.Numbers(s.Duty.Half))
	if s.Duty.Placed {
		c.Align = named(alignWords(s.Duty.Stand, call.Depth{Best: s.Duty.Best.Y, Least: s.Duty.Box.Least, Most: s.Duty.Box.Most}), r.words.numbers.Numbers(s.Duty.Half))
	}
	return c
}

// CardOf is the card of a spot whatever the look: numbers stay numbers.
func CardOf(sp *call.Spot) Card { return cardOf(sp, nil) }

func cardOf(sp *call.Spot, n []look.Man) Card {
	var c Card
	if sp.Stand != nil {
		c.Align = named(alignWords(sp.Stand, sp.Stand.Depth), n)
	}
	c.Eyes = named(sp.Eyes, n)
	c.Fit = jobs(sp)
	c.Block = named(sp.Block, n)
	for _, g := range fits(sp) {
		c.Plays = append(c.Plays, named(strings.Join(g.kinds, ", ")+": "+g.say, n))
	}
	for i := range sp.Pass {
		p := &sp.Pass[i]
		line := named(p.When()+": "+p.Do, n)
		if i == 0 {
			c.Pass = line
		}
		c.Rules = append(c.Rules, line)
	}
	return c
}

// group is kinds of play that a spot answers alike.
type group struct {
	say   string
	kinds []string
}

func grouped(sp *call.Spot, word func(call.Fit) string) []group {
	var out []group
	for _, k := range play.Kinds {
		f, ok := sp.Fits[k]
		if !ok {
			continue
		}
		i := slices.IndexFunc(out, func(g group) bool { return g.say == word(f) })
		if i < 0 {
			out = append(out, group{say: word(f)})
			i = len(out) - 1
		}
		out[i].kinds = append(out[i].kinds, string(k))
	}
	return out
}

func fits(sp *call.Spot) []group { return grouped(sp, func(f call.Fit) string { return f.Say }) }

// jobs is a spot's part in one line: "cutback; bubble, now inside-out".
func jobs(sp *call.Spot) string {
	g := grouped(sp, func(f call.Fit) string { return string(f.Job) })
	var out []string
	for i, x := range g {
		if i == 0 {
			out = append(out, x.say)
		} else {
			out = append(out, strings.Join(x.kinds, ", ")+" "+x.say)
		}
	}
	return strings.Join(out, "; ")
}
