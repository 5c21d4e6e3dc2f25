package leverage

import (
	"halfline/internal/athlete"
	"halfline/internal/field"
)

// step is how fine a coach talks: half a yard.
const step = field.Yard / 2

// fix looks for the nearest place in the rule's range where the least race is
// kept, among places half a yard apart as counted from where he stands now
// (so that the words are round), and the range's own nearest point and corners.
// Without one, held is false and the move leads to the best of them.
func (b *Board) fix(as []ask, i int) (move field.Offset, held bool) {
	d := &b.Spots[i]
	if !d.Duty.Placed {
		return field.Offset{}, false
	}
	s := search{as: as, man: &d.Athlete, rims: b.rims[:0], from: d.Duty.Half.FlipOffset(d.At)}
	box := d.Duty.Box
	// The nearest rung of the half-yard ladder in the range is nearly always
	// good, and no other is as near.
	first := field.Offset{X: rung(s.from.X, box.Inner, box.Outer), Y: rung(s.from.Y, box.Least, box.Most)}
	s.places = b.places[:0]
	if box.Nearest(first) == first {
		if m, which := s.at(first, noFloor); which < 0 || m >= b.Model.Band {
			return d.Duty.Half.FlipOffset(first.Sub(s.from)), true
		}
		s.places = append(s.places, first)
	}
	for x := ladder(s.from.X, box.Inner); x <= box.Outer; x += step {
		for y := ladder(s.from.Y, box.Least); y <= box.Most; y += step {
			s.places = append(s.places, field.Offset{X: x, Y: y})
		}
	}
	to, held := s.nearest(b.Model.Band)
	if !held { // the range may be narrower than half a yard
		near := box.Nearest(s.from)
		y := ladder(s.from.Y, box.Least)
		if y > box.Most {
			y = near.Y
		}
		s.places = append(s.places, near, d.Duty.Best)
		for ; y <= box.Most; y += step {
			s.places = append(s.places, field.Offset{X: near.X, Y: y}, field.Offset{X: box.Inner, Y: y}, field.Offset{X: box.Outer, Y: y})
		}
		if to, held = s.nearest(b.Model.Band); !held {
			to = s.best()
		}
	}
	b.places, b.rims = s.places, s.rims
	return d.Duty.Half.FlipOffset(to.Sub(s.from)), held
}

// search is a search among places for one that keeps what is asked.
type search struct {
	as     []ask
	man    *athlete.Athlete
	from   field.Offset
	places []field.Offset
	rims   []float64 // by ask: how far from its place he may stand, squared
}

// at is the least margin at a place.
func (s *search) at(o field.Offset, floor float64) (m float64, which int) {
	return least(s.as, o.Vec(), s.man, floor)
}

// rim sets how far from each asked place he may stand to have a margin m.
func (s *search) rim(m float64) {
	s.rims = s.rims[:0]
	for i := range s.as {
		k := &s.as[i]
		r := -1.0 // nowhere
		if t := k.his - k.react - m; !k.moves() && t >= 0 {
			r = k.reach + s.man.Run(t) + hair
			r *= r
		}
		s.rims = append(s.rims, r)
	}
}

// hair is a length lost in rounding (yd).
const hair = 1e-9

// within reports whether a place lies inside of every rim. That is cheap and, but
// for hats and a hair, says whether he has the margin there.
func (s *search) within(o field.Offset) bool {
	at := o.Vec()
	for i := range s.as {
		if s.as[i].moves() {
			continue
		}
		if d := at.Sub(s.as[i].at); d.Dot(d) > s.rims[i] {
			return false
		}
	}
	return true
}

// hats reports whether every hat and edge asked has a margin m at a place.
func (s *search) hats(o field.Offset, m float64) bool {
	for i := range s.as {
		if !s.as[i].moves() {
			continue
		}
		if x, ok := s.as[i].margin(o.Vec(), s.man); ok && x < m {
			return false
		}
	}
	return true
}

// nearest is the nearest place with a margin of the band; a tie goes to the
// earlier. What the rims let through is looked at exactly, nearest first.
func (s *search) nearest(band float64) (to field.Offset, ok bool) {
	s.rim(band)
	lastD, last := int64(-1), -1 // looked at already
	for {
		var far int64
		k := -1
		for i, o := range s.places {
			mv := o.Sub(s.from)
			dist := int64(mv.X)*int64(mv.X) + int64(mv.Y)*int64(mv.Y)
			if k >= 0 && dist >= far || dist < lastD || dist == lastD && i <= last {
				continue
			}
			if s.within(o) && s.hats(o, band) {
				far, k = dist, i
			}
		}
		if k < 0 {
			return field.Offset{}, false
		}
		if m, which := s.at(s.places[k], noFloor); which < 0 || m >= band {
			return s.places[k], true
		}
		lastD, last = far, k
	}
}

// best is the place with the largest margin; a tie goes to the earlier.
func (s *search) best() (to field.Offset) {
	to = s.places[0]
	top := noFloor
	for _, o := range s.places {
		if top > noFloor && !s.within(o) {
			continue
		}
		if m, which := s.at(o, top); which >= 0 && m > top {
			to, top = o, m
			s.rim(top)
		}
	}
	return to
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
