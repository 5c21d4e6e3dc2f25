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

// Least runs spot i's races against every picture and gives the least; a tie
// goes to the earlier play of the menu.
func (b *Board) Least(ps []Picture, i int) Race {
	d := &b.Spots[i]
	return b.leastFrom(ps, i, d.Duty.Half.Flip(d.At.Vec()), noFloor)
}

func (b *Board) leastFrom(ps []Picture, i int, at field.Vec, floor float64) Race {
	var least Race
	for k := range ps {
		if least.Kind != NoRace && least.Margin <= floor {
			break
		}
		if r := b.raceFrom(&ps[k], i, at, floor); r.Kind != NoRace && (least.Kind == NoRace || r.Margin < least.Margin) {
			least = r
		}
	}
	return least
}

// Judge gives the verdict for spot i, its fix included.
func (b *Board) Judge(ps []Picture, i int) Answer {
	d := &b.Spots[i]
	a := Answer{Rule: d.Duty.At(d.At), Race: b.Least(ps, i), Held: true}
	a.Keeps = b.Model.Of(a.Rule, a.Race)
	if a.Rule.Verdict == assign.Right && a.Keeps == Yes {
		return a
	}
	a.Fix, a.Held = b.fix(ps, i)
	return a
}

// step is how fine a coach talks: half a yard.
const step = field.Yard / 2

// fix looks for the nearest place in the rule's range where the least race is
// kept, among places half a yard apart as counted from where he stands now
// (so that the words are round), and the range's own nearest point and corners.
func (b *Board) fix(ps []Picture, i int) (move field.Offset, held bool) {
	d := &b.Spots[i]
	if !d.Duty.Placed {
		return field.Offset{}, false
	}
	o := d.Duty.Half.FlipOffset(d.At)
	box := d.Duty.Box
	var best, fall field.Offset
	bestD, fallM := int64(-1), noFloor
	hard := 0 // the picture that the last place failed against: tried first
	try := func(p field.Offset) {
		if p.X < box.Inner || p.X > box.Outer || p.Y < box.Least || p.Y > box.Most {
			return
		}
		mv := p.Sub(o)
		dist := int64(mv.X)*int64(mv.X) + int64(mv.Y)*int64(mv.Y)
		if bestD >= 0 && dist >= bestD {
			return
		}
		// A place no better than the best so far needs no exact answer.
		at := p.Vec()
		if hard < len(ps) {
			if r := b.raceFrom(&ps[hard], i, at, fallM); r.Kind != NoRace && r.Margin <= fallM {
				return
			}
		}
		r := b.leastFrom(ps, i, at, fallM)
		switch {
		case r.Kind == NoRace || r.Margin >= b.Model.Band:
			best, bestD = mv, dist
		case r.Margin > fallM:
			fall, fallM = mv, r.Margin
			fallthrough
		default:
			for hard = range ps {
				if ps[hard].Play == r.Play {
					break
				}
			}
		}
	}
	x0, y0 := o.X, o.Y
	// The nearest rung of the half-yard ladder in the range, which is nearly
	// always good; no other is as near.
	try(field.Offset{X: rung(x0, box.Inner, box.Outer), Y: rung(y0, box.Least, box.Most)})
	if bestD < 0 {
		for x := ladder(x0, box.Inner); x <= box.Outer; x += step {
			for y := ladder(y0, box.Least); y <= box.Most; y += step {
				try(field.Offset{X: x, Y: y})
			}
		}
	}
	near := box.Nearest(o)
	ladderY := ladder(y0, box.Least)
	if ladderY > box.Most {
		ladderY = near.Y
	}
	if bestD < 0 { // the range may be narrower than half a yard
		try(near)
		try(d.Duty.Best)
		for y := ladderY; y <= box.Most; y += step {
			try(field.Offset{X: near.X, Y: y})
			try(field.Offset{X: box.Inner, Y: y})
			try(field.Offset{X: box.Outer, Y: y})
		}
	}
	if bestD >= 0 {
		return d.Duty.Half.FlipOffset(best), true
	}
	return d.Duty.Half.FlipOffset(fall), false
}

// ladder is the least rung from + k*step that is not below low.
func ladder(from, low field.Inches) field.Inches {
	d := low - from
	k := d / step
	if k*step < d {
		k++
	}
	return from + k*step
}

// rung is the rung from + k*step nearest to from in a range; it is out of the
// range when the range holds none.
func rung(from, low, high field.Inches) field.Inches {
	switch {
	case from < low:
		return ladder(from, low)
	case from > high:
		return -ladder(-from, -high)
	}
	return from
}
