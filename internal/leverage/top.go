package leverage

import (
	"slices"

	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Top is the race of a man who answers for a receiver downfield.
const Top Kind = "top"

const (
	overBy     = 1.5 // yards beyond the catch where a deep man must be
	overReach  = 0.5
	phaseReach = 0.8
	throwEvery = 0.2 // s between the throws that are tried
	flightIter = 5   // rounds of the fixed point of flight and place
)

// catchPoint is a ball thrown at a time and where and when it meets the man.
type catchPoint struct {
	Thrown, Met float64
	At          field.Vec
}

// RouteRun is a route against a board: who runs it and where balls meet him.
type RouteRun struct {
	Route  *play.Route
	By     int // index into Men
	Number int // 1-based
	Points []catchPoint
}

// groundSpeed is the mean ground speed of a pass by its length, yd/s: derived
// from public league highlight tracking 2017-2019, scaled by 0.85 for high school
// (common practice, no source).
var groundSpeed = [...]struct{ yards, speed float64 }{{7.5, 12.7}, {12.5, 17.7}, {17.5, 20.3}, {25, 20.6}, {35, 19.5}, {50, 19.4}}

const highSchool = 0.85

// Flight is how long a pass of so many yards is in the air.
func Flight(yards float64) float64 {
	t := groundSpeed[:]
	v := t[0].speed
	for i := 1; i < len(t) && yards > t[i-1].yards; i++ {
		f := min((yards-t[i-1].yards)/(t[i].yards-t[i-1].yards), 1)
		v = t[i-1].speed + f*(t[i].speed-t[i-1].speed)
	}
	return yards / (v * highSchool)
}

// Along is where a receiver is on his route at a time: he runs from a stand, in
// straight legs; where the route says that he waits he comes to a stand and
// starts again. Beyond the last leg he runs on, but behind the line he stops.
func Along(r *play.Route, start field.Vec, a athlete.Athlete, t float64) field.Vec {
	t -= a.React
	if t <= 0 {
		return start
	}
	at := start
	var dir field.Vec
	ran := 0.0 // since he last stood
	for i, l := range r.Legs {
		to := start.Add(l)
		if i < len(r.Waits) && r.Waits[i] > 0 {
			if t -= a.TimeFor(ran) + r.Waits[i]; t <= 0 {
				return at
			}
			ran = 0
		}
		d := at.Dist(to)
		if left := a.Run(t) - ran; left <= d {
			return at.Add(to.Sub(at).Unit().Mul(max(left, 0)))
		}
		dir = to.Sub(at).Unit()
		ran += d
		at = to
	}
	if r.Release == releaseBehind {
		return at // he waits for the ball
	}
	return at.Add(dir.Mul(a.Run(t) - ran))
}

// routes finds where balls can meet the receivers of a pass.
func (b *Board) routes(p *Picture, pl *play.Play) {
	s := b.Side
	passer := field.Vec{Y: -5}
	for i := range b.Men {
		if b.Men[i].Man.Tag == "Q" {
			passer = s.Flip(b.Men[i].Man.At.Vec())
		}
	}
	for i := range pl.Routes {
		rt := &pl.Routes[i]
		by := b.find(rt.By)
		if by < 0 || b.covered(by) {
			continue
		}
		p.Routes = slices.Grow(p.Routes, 1)[:len(p.Routes)+1]
		rr := &p.Routes[len(p.Routes)-1]
		*rr = RouteRun{Route: rt, By: by, Points: rr.Points[:0]}
		for n, m := range b.Numbers(s) {
			if m.Tag == b.Men[by].Man.Tag {
				rr.Number = n + 1
			}
		}
		start := b.Start(p, by)
		if pl.Kind != play.Pass {
			continue // a decoy: no ball comes to him
		}
		for t := pl.ThrowFrom; t <= pl.ThrowTo+1e-9; t += throwEvery {
			met := t
			var at field.Vec
			for range flightIter {
				at = Along(rt, start, b.Men[by].Athlete, met)
				if lim := p.Sideline - 0.5; at.X > lim {
					at.X = lim
				}
				met = t + Flight(at.Dist(passer))
			}
			rr.Points = append(rr.Points, catchPoint{Thrown: t, Met: met, At: at})
		}
	}
}

// covered reports whether man i stands on the line inside of another man on it:
// he is not eligible for a pass (NFHS 7-5-6, from memory).
func (b *Board) covered(i int) bool {
	m := b.Men[i].Man
	if !m.Line {
		return false
	}
	for _, o := range b.Numbers(b.Side) {
		if o.Line && b.Side.OutInches(o.At.X) > b.Side.OutInches(m.At.X) {
			return true
		}
	}
	return false
}
