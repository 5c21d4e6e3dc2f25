package rep

import (
	"math"

	"halfline/internal/call"
	"halfline/internal/field"
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
	waitsIn     = 0.7  // yd inside of a catch out wide, and
	waitsDeep   = 1.5  // yd in front of it: there he waits for it
	overDeep    = 2.0  // yd that a helper stays deeper than a fitter
)

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

// comeDown is an inside-out man against a ball thrown out: he comes to balance in
// front of the catch and inside of it; who is there too soon waits, so that he does
// not run past it. From the catch on he goes for the ball.
func (s *sim) comeDown(m *man) (want, push field.Vec, direct bool) {
	left := s.ball.caught - s.t
	if left <= 0 {
		return s.pursue(m)
	}
	q := m.sees.Add(m.seesV.Mul(left)).Add(field.Vec{X: -waitsIn, Y: waitsDeep})
	if need := m.a.TimeTo(m.p, m.v, q, 0, meetsIn); need > left {
		return field.Vec{}, quickest(m.a, m.p, m.v, q), true
	}
	return arrive(m.p, q, m.a.Top), field.Vec{}, false
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
