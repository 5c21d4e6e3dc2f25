package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/play"
)

// How a free man goes for the ball and keeps it in front of him. Chosen by a
// search over reps: with these the outcomes of broken rules come out in the sign
// and order that a trial of the model found. Nobody measured them.
const (
	frontDeep   = 4.6  // yd: so near in front of it he keeps it there
	frontAcross = 2.0  // yd to a side
	ahead       = 0.1  // s that he looks ahead of it then
	mirror      = 0.7  // share of its sideways speed he takes over
	squareUp    = 0.26 // s in which he takes out his error across
	square      = 1.4  // yd: nearer than this across he may close
	closing     = 7.0  // yd/s of closing when he is square, less by the yard across
	gives       = 1.6  // yd/s of ground he gives at most when he is not
	feed        = 0.6  // share of its sideways speed he takes over on the way to his fit
	lead        = 0.46 // s that he leads it by then, from where he last saw it
	behind      = 0.7  // yd that an inside-out man stays inside of it
	arrives     = 0.3  // s in which he comes to balance
	corrects    = 0.08 // s in which he takes out an error of velocity
	goesBefore  = 0.6  // s before a catch out wide at which it has declared for him
	meetsIn     = 0.3  // yd: so near he aims to meet it
	overDeep    = 2.0  // yd that a helper stays deeper than a fitter
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
	case m.phase == pursues || m.block < 0 && m.phase == comes && s.downhill(m):
		want, push, direct = s.pursue(m)
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

// toBlock is a blocked man on the way to his side of the blocker.
func (s *sim) toBlock(m *man) field.Vec {
	pr := &s.bl[m.block]
	meet := s.pic.Blocks[min(m.block, len(s.pic.Blocks)-1)].Meet
	q := meet.Add(field.Vec{X: hatAside * pr.side, Y: hatAhead})
	return arrive(m.p, q, m.a.Top)
}

// onBlock keeps a pair together: it slides to the settled hat, an outside hat
// slides out with the ball, and the man comes off when he may.
func (s *sim) onBlock(i int) {
	m := &s.men[i]
	pr := &s.bl[m.block]
	want := field.Vec{X: pr.p.X + hatAside*pr.side, Y: pr.p.Y + hatAhead}
	m.p = toward(m.p, want, slide*dt)
	ball, bv := m.sees, m.seesV
	level := 10.0
	if bv.X > 0.5 {
		level = (m.p.X - ball.X) / bv.X
	}
	if pr.side > 0 && ball.X < m.p.X && level < 0.9 {
		move := field.Vec{X: slide * dt}
		pr.p, m.p = pr.p.Add(move), m.p.Add(move)
	}
	hold := pr.hold
	if m.err == LateShed {
		hold += staysOn
	}
	if s.t-pr.metAt >= hold {
		s.shed(i, pr, 0)
		return
	}
	if m.err == LeavesBlock && s.t-pr.metAt >= leavesAfter {
		if !s.declared(m) {
			s.fault(i, lane.LeftBlock)
		}
		s.shed(i, pr, 0)
		return
	}
	if pr.side == 0 || s.t < s.ball.commit || m.err == LateShed {
		return
	}
	// To his hat side when the ball, as he sees it, passes there soon.
	soon := 9.0
	if bv.Y > 2 {
		soon = (m.p.Y - ball.Y) / bv.Y
	}
	x := ball.X + bv.X*max(soon, 0)
	if soon < 1 && m.p.Dist(ball) < 7 && (x-pr.p.X)*pr.side > 0 {
		if pr.side > 0 && bv.X > 1 && level > s.b.Model.Loose+0.1 {
			return // an outside hat lets the ball come to him
		}
		s.shed(i, pr, s.b.Model.Loose)
	}
}

func toward(p, q field.Vec, most float64) field.Vec {
	d := q.Sub(p)
	n := d.Norm()
	if n <= most {
		return q
	}
	return p.Add(d.Mul(most / n))
}

// shed takes a man off his block; the blocker is out for a while.
func (s *sim) shed(i int, pr *pair, after float64) {
	m := &s.men[i]
	s.note(Sheds, i, pr.by)
	if s.t-pr.metAt > pr.hold+offBy {
		s.fault(i, lane.LateShed)
	}
	m.phase, m.off = stuck, s.t+after
	m.v = field.Vec{}
	pr.released = true
}

// declared reports whether the ball has declared for a man who sees it: past the
// line of scrimmage and upfield, or clearly upfield.
func (s *sim) declared(m *man) bool {
	if s.t < s.ball.commit {
		return false
	}
	v := m.seesV
	return (m.sees.Y > -0.5 && v.Y > 1.5) || (v.Y > 3.5 && v.Y > 1.2*math.Abs(v.X))
}

// under is where a man runs who ducks under his block.
func (s *sim) under() field.Vec { return field.Vec{X: s.pic.Edge + 0.6, Y: 1} }

// toFit is a free man on the way to what he answers for.
func (s *sim) toFit(m *man) field.Vec {
	ball, bv := m.sees, m.seesV
	y := s.b.Model.Limit - 1
	fit := m.order.Fit
	n := fit.Owns
	if n == call.ReadsHat {
		n = s.b.ReadHat(s.pic)
	}
	if m.err == WrongSideOfApex {
		n = 1 - min(n, 1)
	}
	if m.err == DucksUnder {
		return arrive(m.p, s.under(), m.a.Top)
	}
	if n == call.NoLane {
		return arrive(m.p, field.Vec{X: ball.X + 0.5, Y: max(y+overDeep, ball.Y+1+overDeep)}, m.a.Top)
	}
	if n == call.LastLane || n > len(s.bl) {
		n = len(s.bl)
	}
	in, out := s.edges(n)
	if fit.Job == call.Overlap {
		in, out = s.pic.Edge, s.pic.Sideline // he runs inside-out wherever the ball goes
	}
	if n == len(s.bl) && fit.Job != call.Alley && fit.Job != call.InsideOut {
		return arrive(m.p, field.Vec{X: max(ball.X+bv.X*0.3, in) + 1.5, Y: y - 1}, m.a.Top)
	}
	deep := min(insideEdge, 0.35*(out-in))
	if n == 0 {
		deep = min(1.5, 0.35*(out-in))
	}
	by := lead
	if bv.Y > 0.5 {
		by = min(max(-ball.Y/bv.Y, 0), by)
	}
	by -= s.b.Model.Ball // where he last saw it is what he leads
	x := min(max(ball.X+bv.X*by-behind, in+deep), out)
	v := arrive(m.p, field.Vec{X: x, Y: y}, m.a.Top)
	v.X += feed * bv.X * min(1, max(0, (x-in-deep)))
	if v.X > 0 && m.p.X > out-0.5 || v.X < 0 && m.p.X < in {
		v.X = 0 // he fits his lane until the ball declares
	}
	if nrm := v.Norm(); nrm > m.a.Top {
		v = v.Mul(m.a.Top / nrm)
	}
	return v
}

// front is how a man keeps the ball in front of him.
func (s *sim) front(m *man) (v field.Vec, ok bool) {
	ball, bv := m.sees, m.seesV
	dx, dy := ball.X-m.p.X, m.p.Y-ball.Y
	if dy <= 0 || dy >= frontDeep || math.Abs(dx) >= frontAcross {
		return v, false
	}
	dx += bv.X * min(dy/max(bv.Y+2, 2), ahead)
	down := max(closing*(1-math.Abs(dx)/square), -gives)
	v = field.Vec{X: mirror*bv.X + dx/squareUp, Y: -down}
	if n := v.Norm(); n > m.a.Top {
		v = v.Mul(m.a.Top / n)
	}
	return v, true
}

// pursue goes for the ball: in front of it he keeps it there, else he takes the
// quickest way to where he can meet it. It gives a velocity to have, or a push.
func (s *sim) pursue(m *man) (want, push field.Vec, direct bool) {
	if v, ok := s.front(m); ok {
		return v, field.Vec{}, false
	}
	ball, bv := m.sees, m.seesV
	const tick = 0.1
	q := ball
	for t := tick; t < 3; t += tick {
		q = ball.Add(bv.Mul(t))
		q.X = min(q.X, s.pic.Sideline)
		if m.a.By(m.p, m.v, q, 0, meetsIn, t) {
			break
		}
	}
	return field.Vec{}, quickest(m.a, m.p, m.v, q), true
}
