package rep

import "halfline/internal/field"

const (
	viseWithin = 2.0 // yd: so near a second man closes the vise
	frontal    = 0.5 // yd off the ball's path: that is in front of it, not at a hip
)

// contact looks whether somebody has the ball, and whether the rep is over.
func (s *sim) contact() {
	c := &s.ball
	if s.pass.ball != nil && c.by < 0 && !s.out.Over && s.t >= s.pass.thrown {
		s.inAir()
		return
	}
	if c.by < 0 || s.out.Over {
		return
	}
	for i := range s.men {
		m := &s.men[i]
		if m.still {
			continue
		}
		reach := s.b.Model.Tackle
		if m.phase == engaged {
			pr := &s.bl[m.block]
			if (c.p.X-pr.p.X)*pr.side <= 0 {
				continue // the block is between him and the ball
			}
			reach *= 0.8
		}
		if m.phase == stuck && s.t < m.off {
			continue
		}
		if s.t > c.caught && m.p.Dist(c.p) <= reach {
			s.hips(i)
			s.end(Tackled, c.p.Y+max(fallsOn*c.v.Y, 0), i)
			s.noteTackle(i)
			return
		}
	}
	switch {
	case c.p.Y >= s.b.Model.Broke:
		s.end(BrokeAway, s.b.Model.Broke, -1)
		s.note(Gone, -1, c.by)
	case c.p.X >= s.pic.Sideline:
		s.end(OutOf, c.p.Y, -1)
		s.note(Out, -1, c.by)
	}
}

// hips says on which hip the tackler is, and who closes the vise from the other:
// near is the hip towards where the ball came from, where an inside-out man
// belongs; far and front are force's (common practice, no source).
func (s *sim) hips(by int) {
	side := s.sideOfPath(s.men[by].p)
	s.out.Hip = hipOf(side)
	near := viseWithin
	for i := range s.men {
		m := &s.men[i]
		if i == by || m.still || m.phase == engaged || m.phase == stuck {
			continue
		}
		d := m.p.Dist(s.ball.p)
		if o := s.sideOfPath(m.p); d <= near && o*side < 0 {
			near, s.out.With = d, i
		}
	}
}

// sideOfPath is how far a place lies outside of the line the ball runs on, yd:
// below 0 inside, towards where the play started.
func (s *sim) sideOfPath(p field.Vec) float64 {
	v := s.ball.v.Unit()
	if v == (field.Vec{}) {
		v = field.Vec{Y: 1}
	}
	d := p.Sub(s.ball.p)
	return d.X*v.Y - d.Y*v.X
}

func hipOf(side float64) Hip {
	switch {
	case side > frontal:
		return FarHip
	case side < -frontal:
		return NearHip
	}
	return Front
}
