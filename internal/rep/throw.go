package rep

import (
	"math"
	"slices"

	"halfline/internal/field"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// Ball is a pass thrown or thinkable: whose route, when, when it meets him and
// where, and by how much it beats the nearest defender.
type Ball struct {
	Route       int // index into the picture's routes
	Thrown, Met float64
	At          field.Vec
	Margin      float64 // s; the first defender's time to the place less the flight
	First       int     // that defender, -1: nobody
}

const (
	throwEvery = 0.2 // s between the balls that are thought of
	seesThrow  = 0.2 // s: no read is faster (published simple reactions)
	playsBall  = 0.8 // yd: a man's reach for a ball in the air
	// FreeBy is by how much a ball must beat every defender for a receiver to be
	// free, s.
	FreeBy = 0.2
)

const releaseBehind = play.Release("behind")

// passer readies the ball of a pass.
func (s *sim) passer(late float64) {
	p := &s.pass
	p.thrown, p.by, p.fake = never, -1, -1
	p.from = field.Vec{Y: -5}
	for i := range s.b.Men {
		if s.b.Men[i].Man.Tag == "Q" {
			p.by, p.from = i, s.b.Side.Flip(s.b.Men[i].Man.At.Vec())
		}
	}
	p.late = late
	pl := s.pic.Play
	if pl.Kind != play.Pass {
		return
	}
	s.ball.p, s.ball.start = p.from, p.from
	for k := range s.pic.Routes {
		if pl.Fakes != "" && s.pic.Routes[k].Route.By == pl.FakedBy {
			p.fake = k
		}
	}
	if p.ball = s.opt.ThrowTo; p.ball != nil {
		p.thrown = p.ball.Thrown
	}
	if s.opt.Best != nil {
		s.out.Best = slices.Clone(s.opt.Best)
		return
	}
	s.out.Best = make([]Ball, len(s.pic.Routes))
	for k := range s.out.Best {
		s.out.Best[k] = Ball{Route: k, Margin: math.Inf(-1), First: -1}
	}
}

// throw thinks of a ball to everyone at each moment of the window, and throws
// the one that is to be thrown.
func (s *sim) throw() {
	p, pl := &s.pass, s.pic.Play
	if p.ball != nil {
		if s.t >= p.thrown && s.t-dt < p.thrown {
			s.note(Gives, -1, s.pic.Routes[p.ball.Route].By)
		}
		return
	}
	from, to := pl.ThrowFrom+p.late, pl.ThrowTo+p.late
	if s.t >= from-1e-9 && s.t <= to+1e-9 && s.t >= p.next {
		p.next = s.t + throwEvery - 1e-9
		for k := range s.pic.Routes {
			if s.pic.Routes[k].Route.Release == releaseBehind {
				continue // a screen can always be thrown; that frees nobody downfield
			}
			if b := s.think(k); b.Margin > s.out.Best[k].Margin {
				s.out.Best[k] = b
			}
		}
	}
	if s.t > to {
		s.end(NoThrow, 0, -1)
	}
}

// think is a ball to the man of route k thrown now.
func (s *sim) think(k int) Ball {
	b := Ball{Route: k, Thrown: s.t, Met: s.t, First: -1}
	for range 5 { // flight and place, to a fixed point
		b.At = s.routeAt(k, b.Met)
		b.Met = s.t + leverage.Flight(b.At.Dist(s.pass.from))
	}
	first := math.Inf(1)
	for i := range s.men {
		m := &s.men[i]
		if m.still {
			continue
		}
		if t := m.a.TimeTo(m.p, m.v, b.At, seesThrow, playsBall); t < first {
			first, b.First = t, i
		}
	}
	b.Margin = first - (b.Met - b.Thrown)
	return b
}

// inAir moves the ball to its place, and gives it to who is there first.
func (s *sim) inAir() {
	p := &s.pass
	b := p.ball
	s.ball.p = p.from.Add(b.At.Sub(p.from).Mul(min((s.t-b.Thrown)/max(b.Met-b.Thrown, dt), 1)))
	if s.t < b.Met {
		return
	}
	if b.Margin <= 0 {
		s.end(BrokenUp, 0, b.First)
		return
	}
	by := s.pic.Routes[b.Route].By
	c := &s.ball
	c.by, c.v, c.a = by, s.routeV(b.Route, s.t), s.b.Men[by].Athlete
	c.a.Top *= s.b.Carry
	c.caught, c.commit, c.past, c.head = s.t, s.t, true, 0
	c.lane, s.out.Caught = 0, by
	s.note(Catch, -1, by)
	for i := range s.men {
		if m := &s.men[i]; !m.still {
			m.phase = pursues
		}
	}
}
