package rep

import (
	"math"

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
		u = steer(c.p, c.v, field.Vec{X: c.gate, Y: 1}, c.a.Top, c.a.Tau)
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

// scripted is the carrier's place on the play's path: from a stand over the
// catch to where he commits with the velocity the play gives him, as two cubic
// pieces (Hermite) whose speed at the catch is their mean.
func (s *sim) scripted(t float64) field.Vec {
	pl, c := s.pic.Play, &s.ball
	t0 := s.b.Men[s.pic.Carrier].Athlete.React
	start := c.start
	caught := start.Add(pl.CaughtAt).Add(c.shift)
	commit := s.pic.CommitAt
	mid := commit.Sub(start).Mul(1 / max(c.commit-t0, 0.1))
	switch {
	case t <= t0:
		return start
	case t < c.caught:
		return hermite(start, field.Vec{}, caught, mid, t0, c.caught, t)
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
	best, bestGate, bestGain := -1, 0.0, math.Inf(-1)
	var now float64
	for n := 0; n <= len(s.bl); n++ {
		in, out := s.edges(n)
		gate, gain := s.laneGain(n, in, out)
		gain += s.sightOf(n)
		if n == c.lane {
			now, c.gate = gain, gate
		}
		if s.opt.Force == n {
			gain = math.Inf(1)
		}
		if gain > bestGain {
			best, bestGate, bestGain = n, gate, gain
		}
	}
	first := c.lane < 0
	if !first && (best == c.lane || bestGain-now < changeFor || s.t-c.chosen < keepFor) {
		return
	}
	c.lane, c.gate, c.chosen = best, bestGate, s.t
}

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

// laneGain is the best gate of a lane and how deep the carrier gets there before
// the first man meets him.
func (s *sim) laneGain(n int, in, out float64) (gate, gain float64) {
	var gs [3]float64
	k := 3
	switch {
	case n == len(s.bl):
		far := min(out-0.8, in+6)
		gs = [3]float64{min(in+1, far), min(in+3.5, far), far}
	case out-in < 2.4:
		gs[0], k = (in+out)/2, 1
	default:
		gs = [3]float64{in + 1.2, (in + out) / 2, out - 1.2}
	}
	gain = math.Inf(-1)
	for _, x := range gs[:k] {
		if g := s.depth(x, n); g > gain {
			gate, gain = x, g
		}
	}
	return gate, gain
}

// depth runs the carrier to a gate and straight on, and finds where the first
// man meets him.
func (s *sim) depth(x float64, n int) float64 {
	c := &s.ball
	gate := field.Vec{X: x, Y: 1}
	tg := c.a.TimeTo(c.p, c.v, gate, 0, 0)
	const tick = 0.1
	for t := tick; ; t += tick {
		p := c.p.Add(gate.Sub(c.p).Mul(min(t/tg, 1)))
		if t > tg {
			p.Y = gate.Y + c.a.Top*0.9*(t-tg)
		}
		if p.Y >= s.b.Model.Broke {
			return s.b.Model.Broke
		}
		for i := range s.men {
			m := &s.men[i]
			if m.a.By(m.p, m.v, p, s.delay(i, n), s.b.Model.Tackle, t) {
				return p.Y
			}
		}
	}
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
			if m.a.By(m.p, m.v, p, s.delay(i, s.ball.lane), s.b.Model.Tackle, t) {
				return p.Y
			}
		}
	}
	return c.p.Y + 3*c.a.Top
}
