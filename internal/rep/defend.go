package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/play"
)

// defend moves one defender by his part.
func (s *sim) defend(i int) {
	m := &s.men[i]
	if m.still {
		return
	}
	if m.phase == waits {
		if s.t < m.acts && !(m.err == NotReplaced && s.declared(m)) {
			return
		}
		s.act(i)
	}
	switch m.phase {
	case engaged:
		s.onBlock(i)
		return
	case stuck:
		if s.t < m.off {
			return
		}
		m.phase = pursues
	case comes:
		if m.block < 0 && (s.declared(m) || m.err == DucksUnder && m.p.Dist(s.under()) < 0.5) {
			m.phase = pursues
			s.note(Declares, i, -1)
		}
	case covers:
		if s.ball.by >= 0 && s.declared(m) {
			m.phase = pursues
			s.note(Declares, i, -1)
		}
	}
	var want, push field.Vec
	direct := false
	switch {
	case m.phase == pursues:
		want, push, direct = s.pursue(m)
	case m.block < 0 && m.phase == comes && s.downhill(m):
		want, push, direct = s.comeDown(m)
	case m.phase == covers:
		want = s.cover(i)
	case m.block >= 0:
		want = s.toBlock(m)
	default:
		want = s.toFit(m)
	}
	if !direct {
		push = control(m.v, want, m.a)
	}
	m.p, m.v = m.a.Step(m.p, m.v, push, dt)
}

// downhill reports whether a free man goes for a ball thrown out, inside-out:
// once it is about to be caught it has declared as far as he is concerned.
func (s *sim) downhill(m *man) bool {
	return m.order.Fit.Job == call.InsideOut && s.t >= s.ball.caught-goesBefore
}

// act is the moment when a man's key has shown and he goes.
func (s *sim) act(i int) {
	m := &s.men[i]
	m.phase = comes
	if m.bites {
		s.fault(i, lane.TriggerEarly)
	} else {
		s.timing(i)
	}
	if s.pic.Play.Kind == play.Pass || !m.order.Known {
		m.phase = covers
		if m.bites {
			s.note(Breaks, i, -1)
			return
		}
	}
	s.note(Keys, i, -1)
	if s.replaces(i) {
		s.note(Replaces, i, -1)
	}
}

// replaces reports whether a man has an edge to take over because the man who
// would have blocked him cracks.
func (s *sim) replaces(i int) bool {
	m := &s.men[i]
	return cracked(s.pic.Play) && m.block < 0 && m.order.Role == play.Corner && m.order.Fit.Owns == call.LastLane
}

// cracked reports whether #1 comes inside to block.
func cracked(pl *play.Play) bool {
	for i := range pl.Blocks {
		if pl.Blocks[i].How == play.Crack && pl.Blocks[i].By == "#1" {
			return true
		}
	}
	return false
}

// control turns a wanted velocity into effort: as much as would remove the error
// soon, by dv/dt = (V*u - v)/tau.
func control(v, want field.Vec, a athlete.Athlete) field.Vec {
	u := v.Add(want.Sub(v).Mul(a.Tau / corrects)).Mul(1 / a.Top)
	if n := u.Norm(); n > 1 {
		u = u.Mul(1 / n)
	}
	return u
}

// arrive is the velocity that comes to balance at a place.
func arrive(p, q field.Vec, top float64) field.Vec {
	d := q.Sub(p)
	n := d.Norm()
	if n == 0 {
		return field.Vec{}
	}
	return d.Mul(min(top, n/arrives) / n)
}

// declaresAt is how far from the line a ball that comes upfield has declared, yd:
// with less a late man goes on to his fit while it passes outside of him.
const declaresAt = -2.0

// declared reports whether the ball has declared for a man who sees it: past the
// line of scrimmage and upfield, or clearly upfield.
func (s *sim) declared(m *man) bool {
	if s.t < s.ball.commit {
		return false
	}
	v := m.seesV
	return (m.sees.Y > declaresAt && v.Y > 1.5) || (v.Y > 3.5 && v.Y > 1.2*math.Abs(v.X))
}
