package athlete

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
)

// The races every coach knows, worked by hand from the model with one athlete for
// everybody. Only the sign, who is first, is a trade fact: common practice, no
// source; the times are the model's own (status CP).
func TestRacesOfTheTrade(t *testing.T) {
	man := Athlete{Top: 8.6, Tau: 1.1, React: 0.35}
	const start = 0.15 // the offense knows the snap
	defender := func(from, to field.Vec) float64 { return man.TimeTo(from, field.Vec{}, to, man.React, 0) }
	blocker := func(from, to field.Vec) float64 { return man.TimeTo(from, field.Vec{}, to, start, 0) }

	for _, c := range []struct {
		name        string
		def, other  float64
		wantD, want float64
		keeps       bool
	}{
		{"R1 apex outside hat, reached", defender(at(6, 5), at(9.3, 3)), blocker(at(9, -1), at(8.8, 3)), 1.52, 1.34, false},
		{"R2 the same two yards wider", defender(at(8, 5), at(9.3, 3)), blocker(at(9, -1), at(8.8, 3)), 1.24, 1.34, true},
		{"R3 apex inside hat", defender(at(7, 5), at(7, 3.2)), blocker(at(8, -1), at(7.5, 3.2)), 1.11, 1.38, true},
		{"R4 alley from ten and a half", defender(at(8, 10.5), at(10.5, 3)), 2.38, 2.16, 2.38, true},
		{"R4 alley from fourteen", defender(at(8, 14), at(10.5, 3)), 2.38, 2.62, 2.38, false},
		{"R5 safety on the hash", defender(at(0, 12), at(13, 3)), 2.5, 3.21, 2.5, false},
		{"R5 safety off the hash", defender(at(9, 12), at(13, 3)), 2.5, 2.43, 2.5, true},
		{"R6 corner recreates the edge", defender(at(17.5, 7), at(18.3, 5)), blocker(at(18, 0), at(17.8, 4.5)), 1.19, 1.43, true},
		{"R7 free safety from the middle", defender(at(0, 12), at(10, 3)), 2.4, 2.91, 2.4, false},
	} {
		assert.InDelta(t, c.wantD, c.def, 0.02, "%s: defender", c.name)
		assert.InDelta(t, c.want, c.other, 0.02, "%s: other", c.name)
		assert.Equal(t, c.keeps, c.def < c.other, "%s: %.2f against %.2f", c.name, c.def, c.other)
	}
}

// The mean 20-yard shuttle (5 out, 10 back, 5 through) of a spot follows from its
// mean 40 alone: top speed 40/(t-0.77), tau 0.77, all out between two stops, with
// no cap on braking. Public combine table 2000-2018, 6,218 players (status D:
// a range check, 0.15 s).
func TestShuttleFromTheForty(t *testing.T) {
	for _, c := range []struct {
		spot           string
		forty, shuttle float64
	}{
		{"CB", 4.49, 4.16}, {"S", 4.57, 4.20}, {"LB", 4.71, 4.29}, {"DE", 4.83, 4.42}, {"DT", 5.10, 4.64},
		{"WR", 4.51, 4.22}, {"RB", 4.56, 4.26}, {"TE", 4.77, 4.36}, {"QB", 4.83, 4.32}, {"OL", 5.27, 4.75},
	} {
		a := runner(40/(c.forty-0.77), 0.77)
		assert.InDelta(t, c.forty, a.TimeFor(40), 1e-2, "%s: the 40 itself", c.spot)
		got := stopAt(a, 5) + stopAt(a, 10) + a.TimeFor(5)
		assert.InDelta(t, c.shuttle, got, 0.15, "%s", c.spot)
	}
}

// stopAt is the least time from rest to rest over d yards: all out, then all out
// against it. The switch is found by halving, the run by exact steps.
func stopAt(a Athlete, d float64) float64 {
	run := func(sw float64) (dist, sec float64) {
		p, v := a.Step(field.Vec{}, field.Vec{}, at(1, 0), sw)
		lo, hi := 0.0, sw // he stops sooner than he got going
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
	lo, hi := 0.0, a.TimeFor(d)
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
