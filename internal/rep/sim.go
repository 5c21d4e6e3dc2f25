package rep

import (
	"math"

	"halfline/internal/athlete"
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
	// Trace keeps a keyframe every Trace steps of 1/60 s, and notes what happens,
	// lanes, owners and faults; 0: none.
	Trace int
	// ThrowTo, if not nil, is the ball to be thrown in a pass, Best the best balls
	// that an earlier run of the same rep has found.
	ThrowTo *Ball
	Best    []Ball
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
)

// phase of a defender.
type phase uint8

const (
	waits   phase = iota // his key has not shown
	comes                // on his way: to his block or to his fit
	engaged              // on a block
	stuck                // comes off a block
	pursues              // the ball has declared
	covers               // he has a receiver
)

// man is one defender in the rep.
type man struct {
	p, v  field.Vec
	a     athlete.Athlete
	order lane.Order
	still bool    // not in this rep: the defensive line, the far side
	acts  float64 // from when he may act
	due   float64 // from when he should
	phase phase
	block int // index into sim.bl, -1
	off   float64
	err   Error
	sees  field.Vec // ball as he sees it
	seesV field.Vec
	takes int // whom he covers: index into the picture's routes, -1
	bites bool
}

// pair is one block.
type pair struct {
	by, on   int // by indexes Board.Men
	how      play.How
	p, v     field.Vec
	a        athlete.Athlete
	side     float64 // where the defender's hat ends: +1 outside, -1 inside, 0 even
	met      bool
	metAt    float64
	hold     float64
	climbs   int // man he goes on to, -1
	second   bool
	released bool
}

// carrier is the man who has the ball or will have it.
type carrier struct {
	by     int // index into Board.Men, -1: nobody yet
	p, v   field.Vec
	a      athlete.Athlete
	start  field.Vec
	commit float64
	caught float64
	shift  field.Vec
	lane   int
	way    int     // which gate of it
	gate   float64 // how far out that is
	chosen float64 // when
	head   float64 // heading beyond the line
	sight  [8]float64
	past   bool
}

// sim is one rep under way. Out-terms of the play side.
type sim struct {
	b    *leverage.Board
	pic  *leverage.Picture
	opt  Options
	d    draw
	t    float64
	n    int
	men  []man
	bl   []pair
	ball carrier
	pass passing
	gs   []float64     // memory of a lane's gates
	hist [32]field.Vec // ball places of the last half second
	hisV [32]field.Vec
	log  *notes // nil: nothing is noted
	out  *Rep
}

// Run plays one rep.
func Run(b *leverage.Board, p *leverage.Picture, opt Options) Rep {
	s := &sim{b: b, pic: p, opt: opt, d: draw{opt.Seed, opt.Spread}, out: &Rep{By: -1, With: -1, Lane: -1, Caught: -1}}
	if opt.Trace > 0 {
		s.log = &notes{}
	}
	s.set()
	s.keep()
	for s.t < longest && !s.out.Over {
		s.step()
	}
	if !s.out.Over {
		s.end(WhistleEnd, s.ball.p.Y, -1)
	}
	s.finish()
	return *s.out
}

// step moves everybody by dt.
func (s *sim) step() {
	if s.pic.Play.Kind == play.Pass {
		s.throw()
	}
	if s.ball.by >= 0 {
		s.carry()
	}
	s.see()
	for i := range s.bl {
		s.blocker(&s.bl[i])
	}
	for i := range s.men {
		s.defend(i)
	}
	s.t += dt
	s.n++
	s.keep()
	s.contact()
}

// see remembers the ball, and gives each man what he sees of it: its place and
// velocity of a quarter of a second ago, carried on straight; near it, as it is.
func (s *sim) see() {
	s.hist[s.n%len(s.hist)], s.hisV[s.n%len(s.hist)] = s.ball.p, s.ball.v
	back := min(s.n, int(s.b.Model.Ball/dt+0.5), len(s.hist)-1)
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
}

// end stops the rep.
func (s *sim) end(how Ending, gain float64, by int) {
	s.out.Over = true
	s.out.How = how
	s.out.Gain = min(gain, s.b.Model.Broke)
	s.out.By = by
	s.out.At = s.ball.p
	s.out.Lane = s.ball.lane
	s.out.Time = s.t
}

// never is a time that does not come.
var never = math.Inf(1)
