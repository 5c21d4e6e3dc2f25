package athlete

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
)

// thruster is a man whom nothing slows: at an endless top speed and time constant
// with their ratio a, the law is that of a constant push, dv/dt = a u.
func thruster(a float64) Athlete { return runner(a*1e5, 1e5) }

// Rest to rest under a constant push takes 2 sqrt(d/a) with one switch: d 10, a 4:
// 3.162278 s (interactiveprimer.com, time-optimal control; Pontryagin; status RC).
// With a speed v along or against it at first, (-v + 2 sqrt(a d + v^2/2))/a: v 2
// 2.740370 s, v -2 3.740370 s (derived; status RC).
func TestStopUnderAConstantPush(t *testing.T) {
	for _, c := range []struct{ v, want float64 }{{0, 3.162278}, {2, 2.740370}, {-2, 3.740370}} {
		assert.InDelta(t, c.want, stopFrom(thruster(4), c.v, 10), 1e-4, "%g yd/s at first", c.v)
	}
}

// What a pushed man without a top speed can reach: a disk about p + v t of radius
// a t^2/2 (Fujimura & Sugihara 2005, discussion; Brefeld, Lasek & Mair 2019;
// status R).
func TestDiskUnderAConstantPush(t *testing.T) {
	for _, sec := range []float64{0.5, 1, 2.5} {
		c, r := thruster(4).Disk(at(1, -2), at(3, 4), sec)
		assert.InDelta(t, 2*sec*sec, r, 1e-3)
		assert.InDelta(t, 0, c.Dist(at(1+3*sec, -2+4*sec)), 1e-3)
	}
}

// Rest to rest under the law itself: the best switch leaves t1 - t2 = d/V and
// q z^2 - 2z + 1 = 0 for z = e^(-t2/tau), q = e^(-d/(V tau)) (derived from the law by
// hand; one switch, Pontryagin). The steps and halvings of stopAt against it.
func TestStopAgainstItsClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := runner(rapid.Float64Range(3, 13).Draw(t, "top"), rapid.Float64Range(0.2, 1.6).Draw(t, "tau"))
		d := rapid.Float64Range(0.5, 25).Draw(t, "yards")
		if got, want := stopAt(a, d), restToRest(a, d); math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v stops after %g yd in %g s, by the closed form in %g", a, d, got, want)
		}
	})
}

func restToRest(a Athlete, d float64) float64 {
	q := math.Exp(-d / (a.Top * a.Tau))
	z := 1 / (1 + math.Sqrt(1-q)) // the smaller root, without cancelling
	return d/a.Top - 2*a.Tau*math.Log(z)
}

// The mean 20-yard shuttle (5 out, 10 back, 5 through) of a spot follows from its
// mean 40 alone: top speed 40/(t-0.77), tau 0.77, all out between two stops, with
// no cap on braking. Means: public combine table 2000-2018, 6,218 players (status
// D: a range check, 0.15 s). The model column was derived in a trial.
func TestShuttleFromTheForty(t *testing.T) {
	for _, c := range []struct {
		spot                  string
		forty, shuttle, model float64
	}{
		{"CB", 4.49, 4.16, 4.16}, {"S", 4.57, 4.20, 4.21}, {"LB", 4.71, 4.29, 4.30}, {"DE", 4.83, 4.42, 4.38}, {"DT", 5.10, 4.64, 4.55},
		{"WR", 4.51, 4.22, 4.17}, {"RB", 4.56, 4.26, 4.20}, {"TE", 4.77, 4.36, 4.34}, {"QB", 4.83, 4.32, 4.38}, {"OL", 5.27, 4.75, 4.65},
	} {
		a := runner(40/(c.forty-0.77), 0.77)
		assert.InDelta(t, c.forty, a.TimeFor(40), 1e-2, "%s: the 40 itself", c.spot)
		got := stopAt(a, 5) + stopAt(a, 10) + a.TimeFor(5)
		assert.InDelta(t, c.shuttle, got, 0.15, "%s", c.spot)
		assert.InDelta(t, c.model, got, 0.0051, "%s, as the trial had it", c.spot)
		assert.InDelta(t, got, runShuttle(a, 1./60), 0.05, "%s: run in steps of 1/60 s", c.spot)
		assert.InDelta(t, got, runShuttle(a, 1e-3), 4e-3, "%s: run in steps of 1 ms", c.spot)
	}
}

// runShuttle runs the shuttle as a rep would, step by step: all out towards the
// line until what he needs to stop is all that is left, then all out against it.
func runShuttle(a Athlete, dt float64) float64 {
	var p, v field.Vec
	sec := 0.0
	for _, leg := range []struct {
		line float64
		stop bool
	}{{5, true}, {-5, true}, {0, false}} {
		way := math.Copysign(1, leg.line-p.X)
		for braking := false; ; {
			left, speed := way*(leg.line-p.X), way*v.X
			if !leg.stop && left <= 0 || braking && speed <= 0 {
				break
			}
			braking = braking || leg.stop && stopsIn(a, speed) >= left-speed*dt/2
			push := way
			if braking {
				push = -way
			}
			p, v = a.Step(p, v, at(push, 0), dt)
			sec += dt
		}
	}
	return sec
}

// stopsIn is how far a man of speed v runs on, all out against it: the time
// tau ln(1+v/V), and in it tau v - V times that time.
func stopsIn(a Athlete, v float64) float64 {
	if v <= 0 {
		return 0
	}
	return a.Tau*v - a.Top*a.Tau*math.Log1p(v/a.Top)
}

// stopAt is the least time from rest to rest over d yards: all out, then all out
// against it.
func stopAt(a Athlete, d float64) float64 { return stopFrom(a, 0, d) }

// stopFrom is the same from a speed at first. The switch is found by halving, the
// run by exact steps.
func stopFrom(a Athlete, v0, d float64) float64 {
	run := func(sw float64) (dist, sec float64) {
		p, v := a.Step(field.Vec{}, at(v0, 0), at(1, 0), sw)
		lo, hi := 0.0, sw+1 // he stops sooner than he got going
		for range 60 {
			if m := (lo + hi) / 2; still(a, p, v, m) {
				hi = m
			} else {
				lo = m
			}
		}
		end, _ := a.Step(p, v, at(-1, 0), hi)
		return end.X, sw + hi
	}
	lo, hi := 0.0, 60.0
	for range 60 {
		m := (lo + hi) / 2
		if dist, _ := run(m); dist < d {
			lo = m
		} else {
			hi = m
		}
	}
	_, sec := run(hi)
	return sec
}

// still reports whether he has stopped after braking for sec.
func still(a Athlete, p, v field.Vec, sec float64) bool {
	_, v = a.Step(p, v, at(-1, 0), sec)
	return v.X <= 0
}
