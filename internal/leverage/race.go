package leverage

import (
	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Kind is a kind of race.
type Kind string

const (
	NoRace Kind = ""
	Hat    Kind = "hat"
	Alley  Kind = "alley"
)

// Race is one race run.
type Race struct {
	Kind   Kind
	Play   *play.Play
	By     int     // index into Men: the blocker, or the carrier
	Margin float64 // seconds, not capped
	Mine   float64 // seconds the defender needs, reaction counted
	His    float64 // seconds the other needs
	At     field.Vec
	Side   call.Hat // hat race: the side to hold
}

// fullOffset is how far to his side a man must stand to hold it where he
// stands; halfMan is where head up ends.
const halfMan = 0.5

// HatMargin is the hat race: can the defender hold, or reach, the leverage point
// on his side of the blocker before the blocker can seal it?
//
// With o how far he is to his side already and y0 two thirds of the way to him,
// the leverage point lies at the more leveraged of his own place and half a man
// past the blocker, at y0 if he is head up or on the wrong side and at his own
// depth once he has a yard: who has his side may stand, who has not must come
// down and across. d and b are places in out-terms; out is true for an outside
// hat; react is key time and reaction together.
func HatMargin(d, b field.Vec, da, ba athlete.Athlete, out bool, react, set float64) Race {
	s := -1.0
	if out {
		s = 1
	}
	o := s * (d.X - b.X)
	y0 := b.Y + meetShare*(d.Y-b.Y)
	y := y0 + (d.Y-y0)*min(max((o-halfMan)/halfMan, 0), 1)
	x := d.X
	if edge := b.X + halfMan*s; s*(edge-x) > 0 {
		x = edge
	}
	p := field.Vec{X: x, Y: y}
	r := Race{Kind: Hat, At: p, Mine: react + da.TimeFor(d.Dist(p)), His: ba.React + ba.TimeFor(b.Dist(p)) + set, Side: call.HatInside}
	if out {
		r.Side = call.HatOutside
	}
	r.Margin = r.His - r.Mine
	return r
}

// Mouths of a lane where the alley man must be: this far from its edges, and
// the middle; of a thrown ball, this far inside of the block that bounds it.
const mouthIn = 1.2

var thrownMouths = [...]float64{5, 2.5}

const (
	mouthDepth = 1.0 // the ball is in the lane when it is 1 yd beyond the line
	insideBall = 0.5 // he fits half a yard inside of the ball
	fitReach   = 0.5
)

// mouths are the places in a lane where the alley man must be in time, and when
// the ball can be there. They are the same for all who race to them.
type mouths struct {
	known bool
	n     int
	x     [3]float64
	his   [3]float64
}

// mouthsOf gives the mouths of a lane, worked out when first asked for: a
// picture serves one goroutine at a time.
func (p *Picture) mouthsOf(lane int) *mouths {
	for len(p.mouths) <= lane {
		p.mouths = append(p.mouths, mouths{})
	}
	m := &p.mouths[lane]
	if m.known {
		return m
	}
	inner, outer := p.LaneEdges(lane)
	*m = mouths{known: true}
	add := func(x float64) {
		x = min(max(x, inner), outer)
		m.x[m.n] = x
		m.his[m.n] = p.Play.Commits + p.Ball.TimeTo(p.CommitAt, p.Going, field.Vec{X: x, Y: mouthDepth}, 0, 0)
		m.n++
	}
	switch {
	case p.Play.Kind.Thrown():
		for _, in := range thrownMouths {
			add(outer - in)
		}
	case outer-inner < 2*mouthIn:
		add((inner + outer) / 2)
	default:
		add(inner + mouthIn)
		add((inner + outer) / 2)
		add(outer - mouthIn)
	}
	return m
}

// React is when a defender starts to act on a play: his key shows, then his own
// reaction.
func React(f call.Fit, pl *play.Play, a athlete.Athlete) float64 {
	k := f.Key
	if f.OnThrow {
		k = pl.Leaves
	}
	return k + a.React
}

// LaneEdges gives the edges of lane n of a picture: 0 starts at the box edge,
// the last ends at the sideline.
func (p *Picture) LaneEdges(n int) (inner, outer float64) {
	inner, outer = p.Edge, p.Sideline
	if n > 0 && n <= len(p.Blocks) {
		inner = p.Blocks[n-1].Meet.X
	}
	if n < len(p.Blocks) {
		outer = p.Blocks[n].Meet.X
	}
	return min(inner, outer), outer
}

// edgeInside reports whether a man whose blocker starts inside of block k's
// stands outside of him and so means to hold the edge. Where block k's own man
// stands says nothing, so that he can be tried anywhere.
func (b *Board) edgeInside(p *Picture, k int) bool {
	for i := range p.Blocks {
		if bl := &p.Blocks[i]; bl.From.X < p.Blocks[k].From.X && bl.Target.X > bl.From.X {
			return true
		}
	}
	return false
}

// ReadHat is the lane of a man who reads the apex's hat: inside of him if he
// stands outside of his blocker, else outside.
func (b *Board) ReadHat(p *Picture) int {
	for _, bl := range p.Blocks {
		if b.Spots[bl.On].Duty.Spot.Role == play.Apex && bl.Target.X < bl.From.X {
			return 1
		}
	}
	return 0
}
