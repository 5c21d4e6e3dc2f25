package assign

import (
	"halfline/internal/call"
	"halfline/internal/field"
)

// Verdict is how a place compares with the rule.
type Verdict string

const (
	Right      Verdict = "right"
	WrongSide  Verdict = "wrong-side"
	TooTight   Verdict = "too-tight" // nearer the ball than the rule lets him
	TooWide    Verdict = "too-wide"
	TooDeep    Verdict = "too-deep"
	TooShallow Verdict = "too-shallow"
)

const (
	// halfMan: within half a man he is head up, on neither side (trade).
	halfMan = field.Yard / 2
	// slack: this near to a boundary nobody can tell; the answer is contested.
	slack field.Inches = 3
)

// Result is the rule's answer for one place.
type Result struct {
	Verdict Verdict
	// Move leads to the nearest place that is right, in field terms.
	Move field.Offset
	// Near: within 3 inches of being the other answer, so nobody can tell.
	Near bool
}

// At judges a place given in field terms. Sides are judged against the man whose
// side he must keep: on the wrong side by half a man or more is wrong-side,
// whatever the range says; otherwise the worse of width and depth speaks.
func (d Duty) At(p field.Offset) Result {
	if !d.Placed {
		return Result{Verdict: Right}
	}
	o := d.Half.FlipOffset(p)
	to := d.Box.Nearest(o)
	r := Result{Verdict: Right, Move: d.Half.FlipOffset(to.Sub(o))}
	if d.wrongSide(o.X) {
		r.Verdict = WrongSide
		return r
	}
	dx, dy := o.X-to.X, o.Y-to.Y
	if dx.Abs() <= slack && dy.Abs() <= slack {
		r.Near = dx != 0 || dy != 0
		r.Move = field.Offset{}
		return r
	}
	switch {
	case dx.Abs() >= dy.Abs() && dx > 0:
		r.Verdict = TooWide
	case dx.Abs() >= dy.Abs():
		r.Verdict = TooTight
	case dy > 0:
		r.Verdict = TooDeep
	default:
		r.Verdict = TooShallow
	}
	return r
}

func (d Duty) wrongSide(x field.Inches) bool {
	switch d.Stand.Keep.Side {
	case call.Inside:
		return x-d.KeepX >= halfMan
	case call.Outside:
		return d.KeepX-x >= halfMan
	}
	return false
}
