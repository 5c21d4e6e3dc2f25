package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/field"
)

// carry moves the carrier: before he commits along the play's own path, then
// into the lane with the most gain, beyond the line by headings.
func (s *sim) carry() {
	c := &s.ball
	if s.t < c.commit {
		next := s.scripted(s.t + dt)
		c.v = next.Sub(c.p).Mul(1 / dt)
		c.p = next
		if s.t < c.caught && s.t+dt >= c.caught {
			s.note(Catch, -1, c.by)
		}
		if s.t+dt >= c.commit {
			c.v = s.pic.Play.Going
		}
		return
	}
	if s.n%decideSteps == 0 || c.lane < 0 {
		s.decide()
	}
	var u field.Vec
	if c.past {
		u = field.Vec{X: math.Sin(c.head), Y: math.Cos(c.head)}
	} else {
		u = quickest(c.a, c.p, c.v, field.Vec{X: c.gate, Y: 1})
		if c.p.Y >= 0.5 {
			c.past, c.head = true, nearest(math.Atan2(c.v.X, max(c.v.Y, 0.1)))
		}
	}
	c.p, c.v = c.a.Step(c.p, c.v, u, dt)
	if c.p.X < s.pic.Edge { // the box is full of men who are not on this board
		c.p.X, c.v.X = s.pic.Edge, 0
	}
}

// steer is the control that runs through a place with the velocity one has:
// aim at where the place lies once the present momentum has run out.
func steer(p, v, q field.Vec, top, tau float64) field.Vec {
	t := q.Dist(p)/top + 0.3
	k := tau * (1 - math.Exp(-t/tau))
	return q.Sub(p).Sub(v.Mul(k)).Unit()
}

// quickest is the control that takes a man to a place in the least time: it does
// not change on the way.
func quickest(a athlete.Athlete, p, v, q field.Vec) field.Vec {
	mid, _ := a.Disk(p, v, a.TimeTo(p, v, q, 0, 0))
	return q.Sub(mid).Unit()
}

// scripted is the carrier's place on the play's path: from a stand over the
// catch to where he commits with the velocity the play gives him, as two cubic
// pieces (Hermite) whose speed at the catch is their mean.
func (s *sim) scripted(t float64) field.Vec {
	pl, c := s.pic.Play, &s.ball
	t0, v0 := s.b.Men[c.by].Athlete.React, field.Vec{}
	start := c.start
	if c.by == s.pic.Moved && s.pic.MovedV != (field.Vec{}) {
		t0, v0 = 0, s.pic.MovedV // he is on his way already
	}
	caught := start.Add(pl.CaughtAt).Add(c.shift)
	commit := s.pic.CommitAt
	mid := commit.Sub(start).Mul(1 / max(c.commit-t0, 0.1))
	switch {
	case t <= t0:
		return start
	case t < c.caught:
		return hermite(start, v0, caught, mid, t0, c.caught, t)
	}
	return hermite(caught, mid, commit, pl.Going, c.caught, c.commit, t)
}

func hermite(a, va, b, vb field.Vec, ta, tb, t float64) field.Vec {
	h := tb - ta
	if h <= 0 {
		return b
	}
	x := min(max((t-ta)/h, 0), 1)
	x2, x3 := x*x, x*x*x
	return a.Mul(2*x3 - 3*x2 + 1).Add(va.Mul((x3 - 2*x2 + x) * h)).Add(b.Mul(3*x2 - 2*x3)).Add(vb.Mul((x3 - x2) * h))
}

// headings a carrier tries beyond the line, radians from straight upfield,
// positive outwards.
var headings = [...]float64{-1.2, -0.9, -0.6, -0.3, 0, 0.3, 0.6, 0.9, 1.2}

// nearest is the heading tried that is nearest to a direction.
func nearest(dir float64) float64 {
	best := headings[0]
	for _, h := range headings {
		if math.Abs(h-dir) < math.Abs(best-dir) {
			best = h
		}
	}
	return best
}

// decide chooses a lane, or beyond the line a heading. He keeps what he has
// unless another is better by enough, and not again at once.
func (s *sim) decide() {
	c := &s.ball
	if c.past {
		s.turn()
		return
	}
	var best, was way
	best.gain, was.gain = math.Inf(-1), math.Inf(-1)
	for n := 0; n <= len(s.bl); n++ {
		for k, x := range s.gatesOf(n) {
			w := way{lane: n, gate: k, x: x, gain: s.depth(x, n) + s.sightOf(n)}
			if w.lane == c.lane && w.gate == c.way {
				was, c.gate = w, x
			}
			if s.opt.Force == n {
				w.gain += forced
			}
			if w.gain > best.gain {
				best = w
			}
		}
	}
	first := c.lane < 0
	if !first && (best.lane == c.lane && best.gate == c.way || best.gain-was.gain < changeFor || s.t-c.chosen < keepFor) {
		return
	}
	changed := best.lane != c.lane
	c.lane, c.way, c.gate, c.chosen = best.lane, best.gate, best.x, s.t
	switch {
	case first:
		s.committed()
		s.noteLane(Commits, best.lane)
	case changed:
		s.noteLane(Cuts, best.lane)
	}
}

// way is one way into a lane and what it is worth to the carrier.
type way struct {
	lane, gate int
	x, gain    float64
}

// forced is what a lane that the coach forces is worth more, yd.
const forced = 1000
