package athlete

import (
	"fmt"

	"halfline/internal/field"
)

// Athlete is how a man moves, in yards and seconds. Backpedal and shuffle are
// the same law with a Top and Tau of their own.
type Athlete struct {
	Top   float64 // speed he tends to, yd/s
	Tau   float64 // time constant of acceleration, s: after Tau he has 63 % of Top
	React float64 // from what he sees to his first step, s
	Reach float64 // how far from his centre he can still play a place, yd
}

// Limits of a believable athlete. The fastest man measured reached 12.35 m/s
// (Reuters, 23 Aug 2009), 13.5 yd/s; a ball carrier's published best is 11.4
// yd/s. Below 1 yd/s or with a time constant of seconds a number was mistyped.
const (
	minTop, maxTop     = 1, 13
	minTau, maxTau     = 0.05, 3
	minReact, maxReact = 0, 2
	minReach, maxReach = 0, 3
)

// Validate reports the first number that no athlete has, and the range it
// should be in. The methods below expect an athlete that passes.
func (a Athlete) Validate() error {
	for _, c := range [...]struct {
		what, unit string
		v, lo, hi  float64
	}{
		{"top speed", "yd/s", a.Top, minTop, maxTop},
		{"tau", "s", a.Tau, minTau, maxTau},
		{"react", "s", a.React, minReact, maxReact},
		{"reach", "yd", a.Reach, minReach, maxReach},
	} {
		if !(c.v >= c.lo && c.v <= c.hi) { // also catches NaN
			return fmt.Errorf("athlete: %s %g %s: want %g to %g %s", c.what, c.v, c.unit, c.lo, c.hi, c.unit)
		}
	}
	return nil
}

// Run is the distance in yards covered from rest, straight and flat out, t
// seconds after the first step. It is 0 for t <= 0.
func (a Athlete) Run(t float64) float64 {
	if t <= 0 {
		return 0
	}
	return a.Top * (t - a.Tau*(1-decay(t/a.Tau)))
}

// Speed is the speed in yd/s reached from rest, flat out, t seconds after the
// first step.
func (a Athlete) Speed(t float64) float64 {
	if t <= 0 {
		return 0
	}
	return a.Top * (1 - decay(t/a.Tau))
}

// TimeFor is the inverse of Run: seconds from the first step to cover d yards
// from rest. It is 0 for d <= 0.
func (a Athlete) TimeFor(d float64) float64 {
	if d <= 0 {
		return 0
	}
	return a.Tau * restTime(d/(a.Top*a.Tau))
}

// Disk is all he can reach t seconds after he starts to act, from place p with
// velocity v. It holds neither reaction nor reach. t < 0 is taken as 0.
func (a Athlete) Disk(p, v field.Vec, t float64) (c field.Vec, r float64) {
	if t <= 0 {
		return p, 0
	}
	glide := a.Tau * (1 - decay(t/a.Tau))
	return p.Add(v.Mul(glide)), a.Top * (t - glide)
}

// Step moves him for dt seconds under the constant push u and gives his new
// place and velocity. A push longer than 1 is cut to 1. The step is the exact
// solution of the law, so its size does not matter: only pushes that change do.
func (a Athlete) Step(p, v, u field.Vec, dt float64) (field.Vec, field.Vec) {
	if n := u.Norm(); n > 1 {
		u = u.Mul(1 / n)
	}
	e := decay(dt / a.Tau)
	goal := u.Mul(a.Top) // the velocity this push tends to
	lag := v.Sub(goal)
	return p.Add(goal.Mul(dt)).Add(lag.Mul(a.Tau * (1 - e))), goal.Add(lag.Mul(e))
}
