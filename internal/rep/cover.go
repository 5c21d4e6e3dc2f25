package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// How a man covers. Common practice, no source.
const (
	deeperBy = 1.5 // yd: a deep man stays so far over his receiver
	hipBy    = 0.7 // yd to the side of his receiver, in phase
	driveBy  = 2.0 // yd nearer the ball: a zone man beneath
	respects = 2.5 // yd deeper than a receiver who has not shown his release
	level    = 3.0 // yd of cushion at which a man runs as fast as his receiver
	cushion  = 6.0 // yd over which a man comes up to his receiver's speed
	zoneFrom = 3.0 // yd: nearer the line nobody drops
	biteFor  = 0.6 // s that a man who breaks on a fake is lost to his receiver
)

// passing is what a rep knows of receivers.
type passing struct {
	runners []athlete.Athlete // by route
	thrown  float64           // when the ball leaves the hand, never if it does not
	ball    *Ball
	from    field.Vec // the passer's place
	by      int       // the passer, -1
	fake    int       // route of the man who fakes, -1
	late    float64   // how much later than the play says he throws
	next    float64   // when the next balls are thought of
}

// coverages readies receivers and whoever covers them.
func (s *sim) coverages() {
	for k := range s.pic.Routes {
		by := s.pic.Routes[k].By
		a := s.b.Men[by].Athlete
		a.Top *= 1 + sdSpeed*s.d.normal(500+by, drawSpeed)
		s.pass.runners = append(s.pass.runners, a)
	}
	for i := range s.men {
		s.coverer(i)
	}
}

// coverer readies a man to cover: he acts when a release that concerns him shows,
// or at once on a receiver he has whatever he does.
func (s *sim) coverer(i int) {
	m := &s.men[i]
	if m.still {
		return
	}
	run := s.pic.Play.Kind != play.Pass
	for k := range s.pic.Stages {
		o := &s.pic.Stages[k].Own[i]
		if r := s.routeOf(o.Tag); r >= 0 {
			if run {
				m.order.Known = false // his eyes are on his receiver
			}
			m.due = s.pic.Stages[k].T + m.a.React
			m.acts = m.due
			m.phase = waits
			switch m.err {
			case Late:
				m.acts += lateBy
			case Early:
				m.acts = earlyKey + m.a.React
				m.bites = !run
			}
			m.takes = r
			return
		}
	}
	if !run {
		m.acts, m.due = m.a.React, m.a.React // a zone, and whoever comes there
		if m.err == Early {
			m.acts, m.bites = earlyKey+m.a.React, true
		}
	}
}

// routeOf is the route of a tag, -1 without one.
func (s *sim) routeOf(tag string) int {
	for k := range s.pic.Routes {
		if tag != "" && s.b.Men[s.pic.Routes[k].By].Man.Tag == tag {
			return k
		}
	}
	return -1
}

// now is the stage that a man acts by: he needs his reaction after a release
// shows.
func (s *sim) now(m *man) *leverage.Stage {
	st := &s.pic.Stages[0]
	for k := range s.pic.Stages {
		if s.t >= s.pic.Stages[k].T+m.a.React+m.acts-m.due || k == 0 {
			st = &s.pic.Stages[k]
		}
	}
	return st
}

// cover is the wanted velocity of a man in coverage.
func (s *sim) cover(i int) field.Vec {
	m := &s.men[i]
	if m.bites {
		if until := m.acts + biteFor; s.t < until && s.t < s.fakeOver()+biteFor {
			return s.bite(m)
		}
		m.bites = false
	}
	st := s.now(m)
	own := &st.Own[i]
	if s.t >= s.pass.thrown+m.a.React {
		own = &st.Then[i]
	}
	k := s.routeOf(own.Tag)
	if k != m.takes {
		m.takes = k
		if k >= 0 {
			s.note(Matches, i, s.pic.Routes[k].By)
		}
	}
	if k < 0 {
		return s.zone(m)
	}
	eye := s.t - s.b.Model.Ball
	p, v := s.routeAt(k, eye), s.routeV(k, eye)
	if m.p.Dist(s.routeAt(k, s.t)) <= eyeNear {
		p, v, eye = s.routeAt(k, s.t), s.routeV(k, s.t), s.t
	}
	q := p.Add(v.Mul(s.t - eye))
	switch own.Hold {
	case call.Over:
		return s.over(m, q, v)
	case call.Under:
		return s.beneath(m, q, v)
	default:
		q.X += hipBy * s.hipSide(i)
		q.Y += 0.3
		if own.Rule.If.Release == "" {
			q.Y += respects // nothing has shown yet: he may still go by
		}
	}
	return s.with(m, q, v)
}

// hipSide is -1 for a man who plays his receiver from inside, +1 from outside.
func (s *sim) hipSide(i int) float64 {
	if d := &s.b.Spots[i].Duty; d.Placed && d.Stand.Keep.Side == call.Outside {
		return 1
	}
	return -1
}

// with is the velocity that comes to a place which moves with v, and stays with
// it. While his receiver comes up the field under him a man gives up his cushion
// little by little, so that the two run level when it is gone.
func (s *sim) with(m *man, q, v field.Vec) field.Vec {
	d := q.Sub(m.p)
	if gap := -d.Y; v.Y > 2 && gap > 0 {
		want := field.Vec{X: v.X + d.X/0.6, Y: v.Y * min(max(1-(gap-level)/cushion, 0), 1)}
		return cut(want, m.a.Top)
	}
	t := min(max(d.Norm()/m.a.Top, 0), 1)
	return cut(v.Add(d.Add(v.Mul(0.1*t)).Mul(1/0.35)), m.a.Top)
}

// over is a deep man: he does not come down but to a receiver who breaks out or
// in across the field.
func (s *sim) over(m *man, q, v field.Vec) field.Vec {
	q.Y += deeperBy
	if across := math.Abs(v.X) > 3 && v.Y < 2; q.Y < m.p.Y && !across && v.Y <= 2 {
		q.Y, v.Y = m.p.Y, 0
	}
	return s.with(m, q, v)
}

// beneath is a zone man under his receiver: between him and the ball, but never
// down to one who has not come to his zone.
func (s *sim) beneath(m *man, q, v field.Vec) field.Vec {
	q.Y -= driveBy
	if q.Y >= zoneFrom {
		return s.with(m, q, v)
	}
	want := field.Vec{X: v.X/2 + (q.X-m.p.X)/1.5}
	return cut(want, 3)
}

// cut makes a velocity no longer than top.
func cut(v field.Vec, top float64) field.Vec {
	if n := v.Norm(); n > top {
		return v.Mul(top / n)
	}
	return v
}

// zone is a man without a receiver: he gains a little depth and looks.
func (s *sim) zone(m *man) field.Vec {
	if m.p.Y >= 8 {
		return field.Vec{}
	}
	return field.Vec{Y: 2}
}

// bite is a man who breaks on a fake: down and to the ball that is not there.
func (s *sim) bite(m *man) field.Vec {
	q := field.Vec{X: m.p.X + 2, Y: 2}
	if k := s.pass.fake; k >= 0 {
		q = s.routeAt(k, s.t).Add(field.Vec{X: -1, Y: 1.5})
	}
	return arrive(m.p, q, m.a.Top)
}

// fakeOver is when the fake shows for what it is.
func (s *sim) fakeOver() float64 {
	if k := s.pass.fake; k >= 0 {
		return s.pic.Routes[k].Route.Reads
	}
	over := 0.0
	for k := range s.pic.Routes {
		over = max(over, s.pic.Routes[k].Route.Reads)
	}
	return over
}

// Covers reports whether spot i answers for a receiver of the picture's play at
// any time.
func Covers(p *leverage.Picture, i int) bool {
	for k := range p.Stages {
		if p.Stages[k].Own[i].Tag != "" || p.Stages[k].Then[i].Tag != "" {
			return true
		}
	}
	return false
}
