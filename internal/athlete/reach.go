package athlete

import (
	"math"

	"halfline/internal/field"
)

const (
	// hair is a length lost in rounding (yd). A man who drifts straight through
	// a place with no reach at all would otherwise miss it by the last digit.
	hair = 1e-9
	// farthest is beyond any field (yd, and yd/s): the answer there is never.
	farthest = 1e6
)

// TimeTo is the first time in seconds at which he can be within reach yards of
// q, from place p with velocity v. For the first delay seconds he only keeps v;
// a place he comes within reach of meanwhile counts. After that he does his
// best. Not finite input, or places and speeds beyond a million, give +Inf.
//
// The edge of his disk nears q by conservative advancement: seen over
// 1-e^-s the distance from q to the disk's centre is convex, so its tangent
// never lies above it and the time at which the edge would meet that tangent is
// never late. Tangent by tangent this climbs to the first root from below; near
// it, it is Newton's method.
func (a Athlete) TimeTo(p, v, q field.Vec, delay, reach float64) float64 {
	w := q.Sub(p)
	d := w.Norm()
	k := a.Top * a.Tau
	if !(d < farthest && delay < farthest && reach < farthest && k > 0 && k < farthest) {
		return math.Inf(1)
	}
	if d <= reach {
		return 0
	}
	reach, delay = max(reach, 0), max(delay, 0)
	if v == (field.Vec{}) {
		return delay + a.Tau*restTime((d-reach)/k)
	}
	if !(math.Abs(v.X) < farthest && math.Abs(v.Y) < farthest) {
		return math.Inf(1)
	}
	if delay > 0 {
		if t, ok := drift(w, v, reach+hair); ok && t <= delay {
			return t
		}
		w = w.Sub(v.Mul(delay))
	}
	inv := 1 / k
	return delay + a.Tau*meetDisk(w.X*inv, w.Y*inv, v.X*a.Tau*inv, v.Y*a.Tau*inv, reach*inv)
}

// meetDisk is the time in tau at which the disk's edge plus reach first meets a
// place (wx, wy) away, from velocity (ux, uy); lengths in Top*tau.
func meetDisk(wx, wy, ux, uy, reach float64) float64 {
	const early = 1e-10 // how early, in tau, the answer may be
	uu := ux*ux + uy*uy
	s, e := 0.0, 1.0
	for range 128 {
		d := math.Sqrt(wx*wx + wy*wy)
		gap := d - reach - s + (1 - e)
		// Along the tangent the centre nears the place by w.u/d per unit of
		// 1-e^-s; the gap closes at the rate 1-c at first.
		c := e * (1 - (wx*ux+wy*uy)/d)
		if gap <= 0 {
			if c < 0.9 {
				s = max(0, s+gap/(1-c)) // take back what meetTime left over
			}
			break
		}
		x := meetTime(gap, c)
		s += x
		if ex := e * x; x < 1e-7 || x < 0.01 && ex*ex*uu < 2*early*d*(1-c) {
			break // the distance bends off its tangent by at most ex^2*uu/2d
		}
		next := decay(s)
		wx -= ux * (e - next)
		wy -= uy * (e - next)
		e = next
	}
	return s
}

// drift is the first time at which a man who only keeps v is within reach of a
// place w away from him. w must be out of reach at first.
func drift(w, v field.Vec, reach float64) (t float64, ok bool) {
	near := w.Dot(v)
	if near <= 0 {
		return 0, false
	}
	miss := w.X*v.Y - w.Y*v.X // distance at the closest, times his speed
	disc := reach*reach*v.Dot(v) - miss*miss
	if disc < 0 {
		return 0, false
	}
	return max(0, (w.Dot(w)-reach*reach)/(near+math.Sqrt(disc))), true
}

// By reports whether he can be within reach yards of q at the moment t: q lies in
// his disk, delay served first. For a man who moves this may be true, then false
// while he overruns q, and true again. Without a root to find it costs a tenth of
// TimeTo: use it wherever the moment is given.
func (a Athlete) By(p, v, q field.Vec, delay, reach, t float64) bool {
	if t < 0 {
		return false
	}
	if delay < 0 {
		delay = 0
	}
	glide, far := t, reach
	if act := t - delay; act > 0 {
		m := a.Tau * (1 - decay(act/a.Tau))
		glide = delay + m
		far += a.Top * (act - m)
	}
	dx, dy := q.X-p.X-v.X*glide, q.Y-p.Y-v.Y*glide
	return dx*dx+dy*dy <= far*far
}
