package rep

import (
	"slices"

	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// notes is what a rep that is traced keeps of its way.
type notes struct {
	events []Event
	lanes  []LanesAt
	faults []Fault
	work   lane.Work
}

// lanesEvery is the steps between two looks at the lanes.
const lanesEvery = 12

// note keeps an event.
func (s *sim) note(w What, spot, by int) {
	if s.log != nil {
		s.log.events = append(s.log.events, Event{T: s.t, What: w, Spot: spot, Man: by, Lane: -1})
	}
}

func (s *sim) noteLane(w What, n int) {
	if s.log != nil {
		s.log.events = append(s.log.events, Event{T: s.t, What: w, Spot: -1, Man: s.ball.by, Lane: n})
	}
}

func (s *sim) noteTackle(by int) {
	s.note(Tackles, by, s.ball.by)
}

// keep notes a keyframe, and from the commitment to the line of scrimmage the
// lanes as they are.
func (s *sim) keep() {
	if s.log == nil {
		return
	}
	if s.n%s.opt.Trace == 0 && !s.out.Over {
		s.frame()
	}
	if c := &s.ball; c.lane >= 0 && !c.past && s.n%lanesEvery == 0 && s.pic.Play.Kind != play.Pass {
		s.lanesNow()
	}
}

func (s *sim) frame() {
	f := Frame{T: s.t, Ball: s.ballAt()}
	for i := range s.b.Men {
		f.Off = append(f.Off, s.offenseAt(i))
	}
	for i := range s.men {
		f.Men = append(f.Men, s.men[i].p)
	}
	s.out.Trail = append(s.out.Trail, f)
}

// ballAt is where the ball itself is: from the snapper to the passer, in the
// air to the man it is for, with him.
func (s *sim) ballAt() field.Vec {
	const snapped = 0.6 // s from the snap to the passer's hands (derived from public tracking, median)
	p, c, pl := &s.pass, &s.ball, s.pic.Play
	between := func(a, b field.Vec, from, to float64) field.Vec {
		return a.Add(b.Sub(a).Mul(min(max((s.t-from)/max(to-from, dt), 0), 1)))
	}
	switch {
	case s.t < snapped && s.t < c.caught || s.t < snapped && c.by < 0:
		return between(field.Vec{}, p.from, 0, snapped)
	case c.by < 0 && p.ball != nil && s.t >= p.thrown:
		return c.p
	case c.by < 0 || s.t < pl.Leaves && pl.Kind != play.Pass:
		return p.from
	case pl.Kind != play.Pass && s.t < c.caught:
		return between(p.from, c.start.Add(pl.CaughtAt).Add(c.shift), pl.Leaves, c.caught)
	}
	return c.p
}

// moment is the lane rule's view of the rep as it is now.
func (s *sim) moment() lane.Moment {
	c := &s.ball
	m := lane.Moment{Edge: s.b.Count.BoxEdge(s.b.Side), Sideline: s.b.Look.Ball.Sideline(s.b.Side),
		Ball: c.p.Offset(), Going: c.v, Carrier: c.a, Kind: s.pic.Play.Kind}
	for i := range s.men {
		d := &s.men[i]
		lm := lane.Man{Label: s.b.Spots[i].Duty.Spot.Label, At: d.p.Offset(), Athlete: d.a, Order: d.order, Late: d.still}
		v := d.v
		lm.Vel = &v
		m.Men = append(m.Men, lm)
	}
	for i := range s.bl {
		pr := &s.bl[i]
		if pr.second || pr.released || pr.climbs >= 0 && s.men[pr.on].block != i {
			continue
		}
		at := pr.p
		hat := hatOf(pr.side)
		if !pr.met { // where the two will be
			at = s.pic.Blocks[i].Meet
			if pr.climbs < 0 {
				m.Men[pr.on].At = at.Add(field.Vec{X: hatAside * pr.side, Y: hatAhead}).Offset()
			}
		}
		m.Blocks = append(m.Blocks, lane.Block{By: s.b.Men[pr.by].Man.Tag, At: at.Offset(), On: pr.on, Hat: hat, Crack: pr.how == play.Crack})
	}
	return m
}

// lanesNow keeps the lanes as they are.
func (s *sim) lanesNow() {
	m := s.moment()
	r := s.log.work.Judge(&m, s.b.Model)
	s.log.lanes = append(s.log.lanes, LanesAt{T: s.t, Lanes: slices.Clone(r.Lanes), Takes: s.ball.lane})
}

// committed keeps the lanes and the faults of the moment when the carrier takes
// his lane.
func (s *sim) committed() {
	if s.log == nil {
		return
	}
	m := s.moment()
	r := s.log.work.Judge(&m, s.b.Model)
	s.byLanes(r.Faults)
	s.log.lanes = append(s.log.lanes, LanesAt{T: s.t, Lanes: slices.Clone(r.Lanes), Takes: s.ball.lane})
}

// finish hands over what was noted.
func (s *sim) finish() {
	if s.log == nil {
		return
	}
	if s.n%s.opt.Trace != 0 { // the last key stands on the grid too
		for ; s.n%s.opt.Trace != 0; s.n++ {
			s.t += dt
		}
		s.frame()
	}
	s.freeMen()
	s.out.Events, s.out.Lanes, s.out.Faults = s.log.events, s.log.lanes, s.ordered()
	for k := range s.pic.Stages {
		st := &s.pic.Stages[k]
		s.stage(st.T, st, st.Own)
		if k == len(s.pic.Stages)-1 && s.pass.thrown < never {
			s.stage(s.pass.thrown, st, st.Then)
		}
	}
}

func (s *sim) stage(t float64, st *leverage.Stage, own []assign.Own) {
	out := Stage{T: t, Unowned: assign.Unowned(own, s.inPattern(st.Shown))}
	for i := range own {
		k := s.routeOf(own[i].Tag)
		if k >= 0 {
			out.Of = append(out.Of, s.pic.Routes[k].By)
		} else {
			out.Of = append(out.Of, -1)
		}
	}
	s.out.Stages = append(s.out.Stages, out)
}

// inPattern leaves out receivers who run no route.
func (s *sim) inPattern(in []assign.Shown) []assign.Shown {
	return slices.DeleteFunc(slices.Clone(in), func(x assign.Shown) bool { return s.routeOf(x.Tag) < 0 })
}
