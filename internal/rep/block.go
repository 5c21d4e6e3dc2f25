package rep

import (
	"halfline/internal/field"
	"halfline/internal/lane"
)

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
