package rep

import (
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// set puts everybody where he stands at the snap.
func (s *sim) set() {
	pl := s.pic.Play
	late := sdThrow * s.d.normal(999, drawThrow)
	s.start(late)
	s.passer(late)
	for i := range s.b.Spots {
		s.men = append(s.men, s.defender(i, late))
	}
	if pl.Kind == play.Pass {
		s.coverages()
	} else {
		s.decoys()
	}
	for k := range s.pic.Blocks {
		s.assign(k)
	}
	s.out.Hats = make([]lane.Hat, len(s.men))
	for i := range s.bl {
		if pr := &s.bl[i]; pr.climbs < 0 && !pr.second {
			s.out.Hats[pr.on] = hatOf(pr.side)
		}
	}
}

// spread is a place with the rep's own spread. k names the man.
func (s *sim) spread(v field.Vec, k int) field.Vec {
	return field.Vec{X: v.X + sdPlace*s.d.normal(k, drawPlaceX), Y: v.Y + sdPlace*s.d.normal(k, drawPlaceY)}
}

// start readies the carrier of a run or screen.
func (s *sim) start(late float64) {
	c, pl := &s.ball, s.pic.Play
	c.by, c.lane, c.commit = s.pic.Carrier, -1, never
	if c.by < 0 {
		return
	}
	c.start = s.b.Start(s.pic, c.by)
	c.p = c.start
	if c.by == s.pic.Moved {
		c.v = s.pic.MovedV
	}
	c.shift = s.pic.CommitAt.Sub(c.start).Sub(pl.CommitsAt)
	c.a = s.pic.Ball
	c.a.Top *= 1 + sdSpeed*s.d.normal(500+c.by, drawSpeed)
	c.caught, c.commit = pl.Caught+late, pl.Commits+late
	for i := range c.sight {
		c.sight[i] = sdSight * s.d.normal(700+i, drawSight)
	}
}

// defender readies spot i.
func (s *sim) defender(i int, late float64) man {
	d := &s.b.Spots[i]
	m := man{p: s.spread(s.b.Side.Flip(d.At.Vec()), i), a: d.Athlete, order: OrderOf(&d.Duty, s.pic.Play, s.b.Side),
		block: -1, takes: -1, err: s.opt.Errors[i], acts: never, due: never}
	m.still = d.Duty.Spot.Role == "" || d.Duty.Half != s.b.Side
	m.a.Top *= 1 + sdSpeed*s.d.normal(i, drawSpeed)
	m.a.React = max(m.a.React+sdReact*s.d.normal(i, drawReact), 0.2)
	if !m.order.Known {
		return m
	}
	fit := m.order.Fit
	m.due = leverage.React(fit, s.pic.Play, m.a)
	if fit.OnThrow {
		m.due += late
	}
	m.acts = m.due
	switch m.err {
	case Late:
		m.acts += lateBy
	case Early:
		m.acts = min(m.acts, earlyKey+m.a.React)
	case NotReplaced:
		m.acts += staysFor
	}
	return m
}

// assign readies block k and settles it.
func (s *sim) assign(k int) {
	b := &s.pic.Blocks[k]
	pr := pair{by: b.By, on: b.On, how: b.How, a: s.b.Men[b.By].Athlete, climbs: -1, second: b.Second}
	pr.p = s.spread(b.From, 500+b.By)
	if b.By == s.pic.Moved {
		pr.v = s.pic.MovedV
	}
	pr.a.Top *= 1 + sdSpeed*s.d.normal(500+b.By, drawSpeed)
	pr.a.React = max(pr.a.React+sdStart*s.d.normal(500+b.By, drawStart), 0.05)
	pr.hold = max(s.b.Model.Blocked+sdHold*s.d.normal(500+b.By, drawHold), leastHold)
	m := &s.men[b.On]
	switch {
	case pr.second:
	case m.err == DucksUnder && m.order.Fit.Hat == call.HatInside:
		// In a call whose rule is inside he leaves the block; in one whose rule is
		// outside he stays on it with his hat inside.
		s.free(&pr)
	default:
		s.settle(&pr)
		m.block = len(s.bl)
	}
	s.bl = append(s.bl, pr)
}

func hatOf(side float64) lane.Hat {
	switch {
	case side > 0:
		return lane.Outside
	case side < 0:
		return lane.In
	}
	return lane.Even
}

// settle decides a block once, by the same race that the phone shows, with the
// rep's own numbers.
func (s *sim) settle(pr *pair) {
	m := &s.men[pr.on]
	fit := m.order.Fit
	out := fit.Hat != call.HatInside
	switch m.err {
	case OverTheTop:
		pr.side = 1
		return
	case DucksUnder, EdgeInside:
		pr.side = -1
		return
	}
	if !m.order.Known || fit.Hat == call.HatEither || (fit.Hat == call.HatOnBall && m.p.X < s.pic.CommitAt.X) {
		pr.side = 1
		if m.p.X < pr.p.X {
			pr.side = -1
		}
		return
	}
	if pr.how == play.Kick && out {
		pr.side = 1 // that is where the blocker wants him
		return
	}
	set := s.b.Model.Set
	if m.order.Role == play.Corner {
		set += s.b.Model.StalkSet
	}
	r := leverage.HatMargin(m.p, pr.p, m.a, pr.a, out, m.acts, set)
	want := -1.0
	if out {
		want = 1
	}
	switch {
	case r.Margin >= s.b.Model.Band:
		pr.side = want
	case r.Margin <= -s.b.Model.Band:
		pr.side = -want
	}
}

// free sends a blocker, whose man went under him, on to the safety.
func (s *sim) free(pr *pair) {
	for i := range s.men {
		if s.men[i].order.Role == play.Safety && i != pr.on && !s.men[i].still {
			pr.climbs = i
		}
	}
	pr.side = 0
	pr.a.React += 0.35
	if pr.climbs >= 0 {
		pr.on = pr.climbs
		s.men[pr.climbs].block = len(s.bl)
	} else {
		pr.released = true
	}
}
