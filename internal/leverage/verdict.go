package leverage

import (
	"halfline/internal/assign"
	"halfline/internal/field"
)

// Keeps is the answer to "does he keep leverage?".
type Keeps string

const (
	Yes       Keeps = "yes"
	Contested Keeps = "contested"
	No        Keeps = "no"
)

// Answer is the verdict for one spot.
type Answer struct {
	Rule  assign.Result
	Keeps Keeps
	// Race is the least race over the menu; Kind is NoRace if his job has none.
	Race Race
	// Fix is the shortest move (field terms) that brings rule and margin back;
	// zero if he is right. Held is false if no place that his rule allows
	// keeps leverage: then Fix leads to the best of them.
	Fix  field.Offset
	Held bool
}

// Of puts rule and margin together: leverage is kept on the right side of the
// rule with a margin of at least the band.
func (m Model) Of(rule assign.Result, r Race) Keeps {
	switch {
	case rule.Verdict == assign.WrongSide:
		return No
	case r.Kind != NoRace && r.Margin <= -m.Band:
		return No
	case r.Kind != NoRace && r.Margin < m.Band, rule.Near:
		return Contested
	}
	return Yes
}

// Judge gives the verdict for spot i, its fix included.
func (b *Board) Judge(ps []Picture, i int) Answer {
	d := &b.Spots[i]
	as := b.all(ps, i)
	a := Answer{Rule: d.Duty.At(d.At), Race: leastRace(as, d.Duty.Half.Flip(d.At.Vec()), &d.Athlete), Held: true}
	a.Keeps = b.Model.Of(a.Rule, a.Race)
	if a.Rule.Verdict == assign.Right && a.Keeps == Yes {
		return a
	}
	a.Fix, a.Held = b.fix(as, i)
	return a
}
