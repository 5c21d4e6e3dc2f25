package rep

import (
	"halfline/internal/field"
	"halfline/internal/leverage"
)

// blocker moves one blocker: at his man until they meet, then with him.
func (s *sim) blocker(pr *pair) {
	if pr.released || s.t < pr.a.React || pr.met {
		return // a pair that has met is moved from the defender's side
	}
	m := &s.men[pr.on]
	if pr.second && m.p.Dist(pr.p) <= contactAt {
		pr.v = field.Vec{}
		return
	}
	lead := m.p.Add(m.v.Mul(0.25))
	pr.p, pr.v = pr.a.Step(pr.p, pr.v, steer(pr.p, pr.v, lead, pr.a.Top, pr.a.Tau), dt)
	if m.block >= 0 && &s.bl[m.block] == pr && m.p.Dist(pr.p) <= contactAt && m.phase != pursues {
		pr.met, pr.metAt = true, s.t
		m.phase = engaged
		m.v = field.Vec{}
		s.note(Meets, pr.on, pr.by)
	}
}

// offenseAt is where man i of the offense is now.
func (s *sim) offenseAt(i int) field.Vec {
	if i == s.ball.by {
		return s.ball.p
	}
	for k := range s.bl {
		if s.bl[k].by == i {
			return s.bl[k].p
		}
	}
	for k := range s.pic.Routes {
		if s.pic.Routes[k].By == i {
			return s.routeAt(k, s.t)
		}
	}
	return s.b.Start(s.pic, i)
}

// routeAt is where the runner of route k is at a time.
func (s *sim) routeAt(k int, t float64) field.Vec {
	r := &s.pic.Routes[k]
	p := leverage.Along(r.Route, s.b.Start(s.pic, r.By), s.pass.runners[k], t)
	if lim := s.pic.Sideline - 0.5; p.X > lim {
		p.X = lim
	}
	return p
}

// routeV is his velocity then.
func (s *sim) routeV(k int, t float64) field.Vec {
	return s.routeAt(k, t).Sub(s.routeAt(k, t-dt)).Mul(1 / dt)
}

// decoys readies the routes of a run.
func (s *sim) decoys() {
	if len(s.pic.Routes) > 0 {
		s.coverages()
	}
}
