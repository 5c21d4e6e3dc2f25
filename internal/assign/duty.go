package assign

import (
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

// Range is where a rule lets a man stand, in out-terms of his half: X away from
// the ball, Y beyond the line, in inches.
type Range struct{ Inner, Outer, Least, Most field.Inches }

// Nearest is the place of the range nearest to o (out-terms).
func (r Range) Nearest(o field.Offset) field.Offset {
	return field.Offset{X: min(max(o.X, r.Inner), r.Outer), Y: min(max(o.Y, r.Least), r.Most)}
}

// Duty is one spot's assignment against one look.
type Duty struct {
	Spot *call.Spot
	Half field.Side
	// Placed is false when the look shows nothing to line up off on his half;
	// then the fields below are empty and no place is wrong.
	Placed bool
	Stand  *call.Stand
	Box    Range
	Best   field.Offset // out-terms
	// KeepX is how far out the man stands whose side he must keep; KeepTag is
	// that man.
	KeepX   field.Inches
	KeepTag string
	// KeyTag is the man he reads first, "" if nobody is out there.
	KeyTag string
}

// For lays one spot's rule over a look, for a play side. own, if not nil, is the
// player's own depth in place of the call's.
func For(s *call.Spot, l look.Look, side field.Side, own *call.Depth) Duty {
	var c look.Count
	c.Of(&l)
	return Lay(s, l.Ball, &c, side, own)
}

// Lay is For over a look that has been counted.
func Lay(s *call.Spot, b field.Ball, c *look.Count, side field.Side, own *call.Depth) Duty {
	d := Duty{Spot: s, Half: side}
	if s.Half == call.Back {
		d.Half = side.Other()
	}
	n := c.Numbers(d.Half)
	d.KeyTag = keyTag(s.Key, n, c, d.Half)
	st := pick(s, b, c, d.Half)
	if st == nil {
		return d
	}
	in, ok1 := place(st.Inner, b, c, d.Half)
	out, ok2 := place(st.Outer, b, c, d.Half)
	best, ok3 := place(st.Best, b, c, d.Half)
	if !ok1 || !ok2 || !ok3 {
		return d
	}
	dep := st.Depth
	if own != nil {
		dep = *own
	}
	d.Placed, d.Stand = true, st
	d.Box = Range{min(in, out), max(in, out), dep.Least, dep.Most}
	if kx, ok := place(call.Landmark{Off: st.Keep.Off}, b, c, d.Half); ok {
		d.KeepX = kx
		if i, isNum := index(st.Keep.Off); isNum {
			d.KeepTag = n[i].Tag
		}
		d.Box = d.Box.keeping(st.Keep.Side, kx)
	}
	d.Best = d.Box.Nearest(field.Offset{X: best, Y: dep.Best})
	return d
}

// keeping cuts a range to the side he must not lose of a man at x: in a tight
// look the two may cross, and the side is what the call is about.
func (r Range) keeping(s call.ShadeSide, x field.Inches) Range {
	switch s {
	case call.Inside:
		x += halfMan - 1
		r.Inner, r.Outer = min(r.Inner, x), min(r.Outer, x)
	case call.Outside:
		x -= halfMan - 1
		r.Inner, r.Outer = max(r.Inner, x), max(r.Outer, x)
	}
	return r
}

// pick chooses the stand that fits the look: with one receiver, with #1 wide,
// with an attached #2, or the usual one.
func pick(s *call.Spot, b field.Ball, c *look.Count, half field.Side) *call.Stand {
	n := c.Numbers(half)
	switch {
	case s.Alone != nil && len(n) == 1:
		return s.Alone
	case s.Wide != nil && len(n) > 0 && half.OutInches(n[0].At.X) >= b.Numbers(half):
		return s.Wide
	case s.Attached != nil && len(n) > 1 && c.Attached(half, n[1]):
		return s.Attached
	}
	return s.Stand
}

func index(o call.Off) (int, bool) {
	switch o {
	case call.Off1:
		return 0, true
	case call.Off2:
		return 1, true
	case call.Off3:
		return 2, true
	}
	return 0, false
}

func place(m call.Landmark, b field.Ball, c *look.Count, half field.Side) (field.Inches, bool) {
	if i, ok := index(m.Off); ok {
		n := c.Numbers(half)
		if i >= len(n) {
			return 0, false
		}
		return half.OutInches(n[i].At.X) + m.Out, true
	}
	switch m.Off {
	case call.OffApex:
		x, ok := c.Apex(half)
		return x + m.Out, ok
	case call.OffEnd:
		return c.LastOnLine(half) + m.Out, true
	case call.OffBall:
		return m.Out, true
	case call.OffMiddle:
		return b.Sideline(half) - field.Width/2 + m.Out, true
	case call.OffHash:
		return b.Sideline(half) - b.Rules.HashFromSideline() + m.Out, true
	}
	return 0, false
}

func keyTag(key string, n []look.Man, c *look.Count, half field.Side) string {
	if i, ok := index(call.Off(key)); ok && i < len(n) {
		return n[i].Tag
	}
	if key == "back" {
		if b := c.Backfield(half); len(b) > 0 {
			return b[0].Tag
		}
	}
	return ""
}
