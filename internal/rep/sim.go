package rep

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// Options of one rep.
type Options struct {
	Seed   uint64
	Spread bool
	// Errors are rules broken on purpose, by index of the board's spots.
	Errors map[int]Error
	// Force makes the carrier take a lane; -1: he chooses.
	Force int
	// Trace keeps a keyframe every Trace steps of 1/60 s; 0: none.
	Trace int
}

// dt is the fixed step.
const dt = 1.0 / 60

// longest rep; beyond it the whistle blows.
const longest = 8.0

const (
	contactAt   = 1.1  // yd between centres at a block
	slide       = 2.5  // yd/s with which a pair slides to its settled hat
	eyeNear     = 2.5  // yd: so near he sees the ball as it is
	fallsOn     = 0.12 // s of his downfield speed that a tackled man falls forward
	leastHold   = 0.5
	decideSteps = 6    // a tenth of a second
	keepFor     = 0.45 // s before a lane is changed again
	changeFor   = 1.0  // yd that another lane must be better
	beatenFor   = 0.8
)

// phase of a defender.
type phase uint8

const (
	waits   phase = iota // his key has not shown
	comes                // on his way: to his block or to his fit
	engaged              // on a block
	stuck                // comes off a block
	pursues              // the ball has declared
)

// man is one defender in the rep.
type man struct {
	p, v  field.Vec
	a     athlete.Athlete
	order lane.Order
	acts  float64 // from when he may act
	phase phase
	block int // index into sim.blocks, -1
	off   float64
	err   Error
	sees  field.Vec // ball as he sees it
	seesV field.Vec
}

// pair is one block.
type pair struct {
	by, on   int // by indexes Board.Men
	p, v     field.Vec
	a        athlete.Athlete
	side     float64 // where the defender's hat ends: +1 outside, -1 inside, 0 even
	met      bool
	metAt    float64
	hold     float64
	climbs   int // man he goes on to, -1
	released bool
}

// sim is one rep under way. Out-terms of the play side.
type sim struct {
	b    *leverage.Board
	pic  *leverage.Picture
	opt  Options
	d    draw
	t    float64
	men  []man
	bl   []pair
	ball struct {
		p, v   field.Vec
		a      athlete.Athlete
		start  field.Vec
		commit float64
		caught float64
		shift  field.Vec
		lane   int
		gate   float64
		chosen float64 // when
		head   float64 // heading beyond the line
		sight  [8]float64
		past   bool
	}
	hist [32]field.Vec // ball places of the last half second
	hisV [32]field.Vec
	n    int
	out  *Rep
}

// Run plays one rep of a run or screen.
func Run(b *leverage.Board, p *leverage.Picture, opt Options) Rep {
	s := &sim{b: b, pic: p, opt: opt, d: draw{opt.Seed, opt.Spread}, out: &Rep{}}
	s.set()
	for s.t < longest && !s.out.Over {
		s.step()
	}
	if !s.out.Over {
		s.out.Gain = s.ball.p.Y
	}
	s.out.Time = s.t
	return *s.out
}

// set puts everybody where he stands at the snap.
func (s *sim) set() {
	side := s.b.Side
	at := func(o field.Offset, k int) field.Vec {
		v := side.Flip(o.Vec())
		return field.Vec{X: v.X + sdPlace*s.d.normal(k, drawPlaceX), Y: v.Y + sdPlace*s.d.normal(k, drawPlaceY)}
	}
	pl := s.pic.Play
	late := sdThrow * s.d.normal(999, drawThrow)
	s.ball.start = side.Flip(s.b.Men[s.pic.Carrier].Man.At.Vec())
	s.ball.p = s.ball.start
	s.ball.shift = s.pic.CommitAt.Sub(s.ball.start).Sub(pl.CommitsAt)
	s.ball.a = s.pic.Ball
	s.ball.a.Top *= 1 + sdSpeed*s.d.normal(500+s.pic.Carrier, drawSpeed)
	s.ball.caught, s.ball.commit = pl.Caught+late, pl.Commits+late
	s.ball.lane = -1
	for i := range s.ball.sight {
		s.ball.sight[i] = sdSight * s.d.normal(700+i, drawSight)
	}
	for i := range s.b.Spots {
		d := &s.b.Spots[i]
		m := man{p: at(d.At, i), a: d.Athlete, order: OrderOf(&d.Duty, pl, side), block: -1, err: s.opt.Errors[i]}
		m.a.Top *= 1 + sdSpeed*s.d.normal(i, drawSpeed)
		m.a.React = max(m.a.React+sdReact*s.d.normal(i, drawReact), 0.2)
		m.acts = math.Inf(1)
		if m.order.Known {
			m.acts = leverage.React(m.order.Fit, pl, m.a)
			if m.order.Fit.OnThrow {
				m.acts += late
			}
			if m.err == Late {
				m.acts += lateBy
			}
		}
		s.men = append(s.men, m)
	}
	for _, b := range s.pic.Blocks {
		pr := pair{by: b.By, on: b.On, a: s.b.Men[b.By].Athlete, climbs: -1}
		pr.p = at(s.b.Men[b.By].Man.At, 500+b.By)
		pr.a.Top *= 1 + sdSpeed*s.d.normal(500+b.By, drawSpeed)
		pr.a.React = max(pr.a.React+sdStart*s.d.normal(500+b.By, drawStart), 0.05)
		pr.hold = max(s.b.Model.Blocked+sdHold*s.d.normal(500+b.By, drawHold), leastHold)
		s.settle(&pr)
		if s.men[b.On].err == DucksUnder && !s.ducksOnBlock(b.On) {
			s.free(&pr)
		} else {
			s.men[b.On].block = len(s.bl)
		}
		s.bl = append(s.bl, pr)
	}
	s.out.Hats = make([]lane.Hat, len(s.men))
	for i := range s.bl {
		if s.bl[i].climbs < 0 {
			s.out.Hats[s.bl[i].on] = hatOf(s.bl[i].side)
		}
	}
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

// ducksOnBlock: in a call whose rule is outside the man stays on the block with
// his hat inside; in a call whose rule is inside he leaves it.
func (s *sim) ducksOnBlock(i int) bool { return s.men[i].order.Fit.Hat != call.HatInside }

// free sends a blocker, whose man went under him, on to the safety.
func (s *sim) free(pr *pair) {
	pr.climbs = -1
	for i := range s.men {
		if s.men[i].order.Role == play.Safety && i != pr.on {
			pr.climbs = i
		}
	}
	pr.on = max(pr.climbs, 0)
	pr.side = 0
	pr.a.React += 0.35
	if pr.climbs >= 0 {
		s.men[pr.climbs].block = len(s.bl)
	}
}

// step moves everybody by dt.
func (s *sim) step() {
	s.carry()
	s.see()
	for i := range s.bl {
		s.blocker(&s.bl[i])
	}
	for i := range s.men {
		s.defend(i)
	}
	s.t += dt
	s.keep()
	s.tackle()
}

// see remembers the ball, and gives each man what he sees of it: its place and
// velocity of a quarter of a second ago, carried on straight; near it, as it is.
func (s *sim) see() {
	s.hist[s.n%len(s.hist)], s.hisV[s.n%len(s.hist)] = s.ball.p, s.ball.v
	back := min(s.n, int(s.b.Model.Ball/dt+0.5))
	k := (s.n - back) % len(s.hist)
	old, oldV := s.hist[k], s.hisV[k]
	for i := range s.men {
		m := &s.men[i]
		if m.p.Dist(s.ball.p) <= eyeNear {
			m.sees, m.seesV = s.ball.p, s.ball.v
			continue
		}
		m.seesV = oldV
		m.sees = old.Add(oldV.Mul(float64(back) * dt))
	}
	s.n++
}

func (s *sim) tackle() {
	for i := range s.men {
		m := &s.men[i]
		reach := s.b.Model.Tackle
		if m.phase == engaged {
			pr := &s.bl[m.block]
			if (s.ball.p.X-pr.p.X)*pr.side <= 0 {
				continue // the block is between him and the ball
			}
			reach *= 0.8
		}
		if m.phase == stuck && s.t < m.off {
			continue
		}
		if s.t > s.ball.caught && m.p.Dist(s.ball.p) <= reach {
			s.end(s.ball.p.Y+max(fallsOn*s.ball.v.Y, 0), i)
			return
		}
	}
	if s.ball.p.Y >= s.b.Model.Broke {
		s.end(s.b.Model.Broke, -1)
	} else if s.ball.p.X >= s.pic.Sideline {
		s.end(s.ball.p.Y, -1)
	}
}

func (s *sim) end(gain float64, by int) {
	s.out.Over = true
	s.out.Gain = min(gain, s.b.Model.Broke)
	s.out.By = by
	s.out.At = s.ball.p
	s.out.Lane = s.ball.lane
}
