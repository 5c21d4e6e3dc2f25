package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
)

// How a man keeps in front of the ball. Chosen because reps then end as a trial's
// did, in sign and order.
const (
	frontDeep   = 6.0 // yd: so near in front of it he comes to balance
	frontAcross = 4.0
	closing     = 3.0 // yd/s towards a ball he is square to
	mirror      = 0.6 // share of the ball's sideways speed he takes over in front of it
	feed        = 0.7 // and on the way to his fit
	overDeep    = 2.0 // a helper stays this much deeper than a fitter
)

// blocker moves one blocker: at his man until they meet, then with him.
func (s *sim) blocker(pr *pair) {
	if pr.released || s.t < pr.a.React {
		return
	}
	m := &s.men[pr.on]
	if pr.met {
		return // the pair is moved from the defender's side
	}
	lead := m.p.Add(m.v.Mul(0.25))
	pr.p, pr.v = pr.a.Step(pr.p, pr.v, steer(pr.p, pr.v, lead, pr.a.Top, pr.a.Tau), dt)
	if m.block >= 0 && &s.bl[m.block] == pr && m.p.Dist(pr.p) <= contactAt && m.phase != pursues {
		pr.met, pr.metAt = true, s.t
		m.phase = engaged
		m.v = field.Vec{}
	}
}

// defend moves one defender by his part.
func (s *sim) defend(i int) {
	m := &s.men[i]
	if m.phase == waits {
		if s.t < m.acts {
			return
		}
		m.phase = comes
	}
	switch m.phase {
	case engaged:
		s.onBlock(m)
		return
	case stuck:
		if s.t < m.off {
			return
		}
		m.phase = pursues
	case comes:
		if m.block < 0 && s.declared(m) {
			m.phase = pursues
		}
	}
	var want field.Vec
	switch {
	case m.phase == pursues:
		want = s.pursue(m)
	case m.block >= 0:
		want = s.toBlock(m)
	default:
		want = s.toFit(m)
	}
	m.p, m.v = m.a.Step(m.p, m.v, control(m.v, want, m.a), dt)
}

// control turns a wanted velocity into effort: as much as would remove the error
// in 0.2 s, by dv/dt = (V*u - v)/tau.
func control(v, want field.Vec, a athlete.Athlete) field.Vec {
	const in = 0.2
	u := v.Add(want.Sub(v).Mul(a.Tau / in)).Mul(1 / a.Top)
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
	return d.Mul(min(top, n/0.35) / n)
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
func (s *sim) onBlock(m *man) {
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
	if s.t-pr.metAt >= pr.hold {
		s.shed(m, pr, 0)
		return
	}
	if pr.side == 0 || s.t < s.ball.commit {
		return
	}
	// To his hat side when the ball, as he sees it, passes there soon.
	soon := 9.0
	if bv.Y > 2 {
		soon = (m.p.Y - ball.Y) / bv.Y
	}
	x := ball.X + bv.X*max(soon, 0)
	if soon < 1 && m.p.Dist(ball) < 7 && (x-pr.p.X)*pr.side > 0 {
		if pr.side > 0 && ball.X < m.p.X-0.5 && bv.X > 1 {
			return // an outside hat lets the ball come to him
		}
		s.shed(m, pr, s.b.Model.Loose)
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
func (s *sim) shed(m *man, pr *pair, after float64) {
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
		return arrive(m.p, field.Vec{X: s.pic.Edge + 0.6, Y: 1}, m.a.Top)
	}
	if n == call.NoLane {
		return arrive(m.p, field.Vec{X: ball.X + 0.5, Y: max(y+overDeep, ball.Y+1+overDeep)}, m.a.Top)
	}
	if n == call.LastLane || n > len(s.bl) {
		n = len(s.bl)
	}
	in, out := s.edges(n)
	if n == len(s.bl) && fit.Job != call.Alley && fit.Job != call.InsideOut {
		return arrive(m.p, field.Vec{X: max(ball.X+bv.X*0.3, in) + 1.5, Y: y - 1}, m.a.Top)
	}
	deep := min(insideEdge, 0.35*(out-in))
	if n == 0 {
		deep = min(1.5, 0.35*(out-in))
	}
	lead := 0.5 // s: leading more, he overruns the ball and the cutback goes
	if bv.Y > 0.5 {
		lead = min(max(-ball.Y/bv.Y, 0), 0.5)
	}
	x := min(max(ball.X+bv.X*lead-0.8, in+deep), out)
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

// pursue goes for the ball: square in front of it he mirrors, else he runs to
// where he can meet it.
func (s *sim) pursue(m *man) field.Vec {
	ball, bv := m.sees, m.seesV
	dx, dy := ball.X-m.p.X, m.p.Y-ball.Y
	if dy > 0 && dy < frontDeep && math.Abs(dx) < frontAcross {
		close := closing * (1 - math.Abs(dx)/1.5)
		v := field.Vec{X: mirror*bv.X + dx/0.3, Y: -close}
		if n := v.Norm(); n > m.a.Top {
			v = v.Mul(m.a.Top / n)
		}
		return v
	}
	// Where at his top speed he meets a ball that runs straight on.
	q := ball
	for range 3 {
		t := min(q.Dist(m.p)/m.a.Top+0.15, 2)
		q = ball.Add(bv.Mul(t))
	}
	q.X = min(q.X, s.pic.Sideline)
	return q.Sub(m.p).Unit().Mul(m.a.Top)
}
