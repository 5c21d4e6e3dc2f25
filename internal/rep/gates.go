package rep

import (
	"math"

	"halfline/internal/field"
)

func (s *sim) sightOf(n int) float64 { return s.ball.sight[n%len(s.ball.sight)] }

// edges of lane n, by where the blockers are now.
func (s *sim) edges(n int) (in, out float64) {
	in, out = s.pic.Edge, s.pic.Sideline
	if n > 0 {
		in = s.bl[n-1].p.X
	}
	if n < len(s.bl) {
		out = s.bl[n].p.X
	}
	return in, max(in, out)
}

// gatesOf are the ways into a lane: a yard and more from its edges and in the
// middle; beyond the last block he turns up within six yards.
func (s *sim) gatesOf(n int) []float64 {
	in, out := s.edges(n)
	gs := s.gs[:0]
	switch {
	case n == len(s.bl):
		far := min(out-0.8, in+6)
		gs = append(gs, min(in+1, far), min(in+3.5, far), far)
	case out-in < 2.4:
		gs = append(gs, (in+out)/2)
	default:
		gs = append(gs, in+1.2, (in+out)/2, out-1.2)
	}
	s.gs = gs
	return gs
}

// slants are the ways on from a gate: straight upfield, and slanting out.
var slants = [...]field.Vec{{X: 0, Y: 1}, {X: 0.6, Y: 0.8}}

// depth runs the carrier by his quickest arc, momentum and all, to a gate and on
// from there, and finds where the first man meets him. A straight line would
// think too well of cuts.
func (s *sim) depth(x float64, n int) float64 {
	c := &s.ball
	gate := field.Vec{X: x, Y: 1}
	tg := c.a.TimeTo(c.p, c.v, gate, 0, 0)
	mid, _ := c.a.Disk(c.p, c.v, tg)
	u := gate.Sub(mid).Unit()
	_, vg := c.a.Step(c.p, c.v, u, tg)
	best := math.Inf(-1)
	for k, h := range slants {
		if k > 0 && n != len(s.bl) {
			break // inside of a block there is no room to slant
		}
		best = max(best, s.meets(gate, u, vg, h, tg, n))
	}
	return best
}

// meets follows one path: to the gate with push u until tg, on from it with push
// h from the velocity vg.
func (s *sim) meets(gate, u, vg, h field.Vec, tg float64, n int) float64 {
	c := &s.ball
	const tick = 0.1
	for t := tick; t < longest; t += tick {
		var p field.Vec
		if t <= tg {
			mid, r := c.a.Disk(c.p, c.v, t)
			p = mid.Add(u.Mul(r))
		} else {
			mid, r := c.a.Disk(gate, vg, t-tg)
			p = mid.Add(h.Mul(r))
		}
		if p.Y >= s.b.Model.Broke {
			return s.b.Model.Broke
		}
		if p.X >= s.pic.Sideline {
			return p.Y
		}
		for i := range s.men {
			m := &s.men[i]
			if !m.still && m.a.By(m.p, m.v, p, s.delay(i, n), s.b.Model.Tackle, t) {
				return p.Y
			}
		}
	}
	return s.b.Model.Broke
}

// delay is how long a man is held before he can go for the ball in lane n.
func (s *sim) delay(i, n int) float64 {
	m := &s.men[i]
	if m.phase == waits {
		return max(m.acts-s.t, 0) + s.b.Model.Ball
	}
	if m.block < 0 || m.phase == pursues {
		return s.b.Model.Ball
	}
	if m.phase == stuck {
		return max(m.off-s.t, 0)
	}
	pr := &s.bl[m.block]
	if (pr.side < 0 && n <= m.block) || (pr.side > 0 && n > m.block) {
		return s.b.Model.Loose
	}
	if pr.met {
		return max(pr.hold-(s.t-pr.metAt), s.b.Model.Loose)
	}
	return pr.hold
}

// turn chooses a heading beyond the line.
func (s *sim) turn() {
	c := &s.ball
	best, bestY := c.head, math.Inf(-1)
	var now float64
	for _, h := range headings {
		if s.opt.Force >= 0 && math.Abs(h) > 0.6 {
			continue // a lane that the coach forces holds past the line too
		}
		y := s.reachOn(h)
		if h == c.head {
			now = y
		}
		if y > bestY {
			best, bestY = h, y
		}
	}
	if bestY-now > 0.5 && s.t-c.chosen > 0.25 {
		c.head, c.chosen = best, s.t
	}
}

func (s *sim) reachOn(h float64) float64 {
	c := &s.ball
	dir := field.Vec{X: math.Sin(h), Y: math.Cos(h)}
	const tick = 0.1
	for t := tick; t < 3; t += tick {
		p, r := c.a.Disk(c.p, c.v, t)
		p = p.Add(dir.Mul(r))
		if p.Y >= s.b.Model.Broke {
			return s.b.Model.Broke
		}
		if p.X >= s.pic.Sideline || p.X < s.pic.Edge-0.1 {
			return p.Y
		}
		for i := range s.men {
			m := &s.men[i]
			if !m.still && m.a.By(m.p, m.v, p, s.delay(i, s.ball.lane), s.b.Model.Tackle, t) {
				return p.Y
			}
		}
	}
	return c.p.Y + 3*c.a.Top
}
