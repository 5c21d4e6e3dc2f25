package leverage

import (
	"math"

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

// alley is the alley race of a free man for a lane: he must stand at the fit when
// the ball can be in the mouth. The least over the mouths counts; one at or
// below floor ends the search.
func alley(d field.Vec, da *athlete.Athlete, react float64, p *Picture, lane int, limit, floor float64) Race {
	best := Race{Kind: Alley, Play: p.Play, By: p.Carrier, Margin: math.Inf(1)}
	m := p.mouthsOf(lane)
	for i := range m.n {
		fit := field.Vec{X: m.x[i] - insideBall, Y: limit - 1}
		mine := react + da.TimeFor(d.Dist(fit)-fitReach)
		if margin := m.his[i] - mine; margin < best.Margin {
			best.Margin, best.Mine, best.His, best.At = margin, mine, m.his[i], fit
			if margin <= floor {
				break
			}
		}
	}
	return best
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

// edgeInside reports whether a man blocked inside of block k stands outside of
// his blocker and so means to hold the edge.
func (b *Board) edgeInside(p *Picture, k int) bool {
	for _, bl := range p.Blocks[:k] {
		if bl.Target.X > bl.From.X {
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

// Against runs the race that spot i's job gives him against one picture. Kind
// is NoRace if his job has none: he only helps, or the play goes to the other
// side of the ball.
func (b *Board) Against(p *Picture, i int) Race {
	d := &b.Spots[i]
	return b.raceFrom(p, i, d.Duty.Half.Flip(d.At.Vec()), noFloor)
}

// noFloor asks for the least margin, however low.
var noFloor = math.Inf(-1)

// raceFrom is Against with the defender standing at another place (out-terms). A
// margin at or below floor is low enough: it need not be the least.
func (b *Board) raceFrom(p *Picture, i int, at field.Vec, floor float64) Race {
	d := &b.Spots[i]
	if p.Play.Kind == play.Pass && d.Duty.Half == b.Side {
		return b.topFrom(p, i, at, floor)
	}
	fit, ok := d.Duty.Spot.Fits[p.Play.Kind]
	if !ok || d.Duty.Half != b.Side {
		return Race{}
	}
	react := React(fit, p.Play, d.Athlete)
	for k := range p.Blocks {
		bl := &p.Blocks[k]
		if bl.On != i {
			continue
		}
		if fit.Hat == call.HatEither || (fit.Hat == call.HatOnBall && at.X < p.CommitAt.X) {
			return Race{} // either hat will do: nothing to lose to this blocker
		}
		set := b.Model.Set
		if d.Duty.Spot.Role == play.Corner {
			set += b.Model.StalkSet
		}
		if fit.Hat == call.HatIfOpen && b.edgeInside(p, k) {
			return Race{}
		}
		r := HatMargin(at, bl.From, d.Athlete, b.Men[bl.By].Athlete, fit.Hat != call.HatInside, react, set)
		r.Play, r.By = p.Play, bl.By
		return r
	}
	if fit.Owns == call.NoLane || fit.Spare {
		return Race{}
	}
	lane := fit.Owns
	if lane == call.ReadsHat {
		lane = b.ReadHat(p)
	}
	if lane == call.LastLane || lane > len(p.Blocks) {
		lane = len(p.Blocks)
	}
	if fit.Job == call.Force || fit.Job == call.Secondary {
		return Race{} // unblocked, he is the edge where he stands
	}
	return alley(at, &d.Athlete, react, p, lane, b.Model.Limit, floor)
}
