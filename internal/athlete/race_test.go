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
		// The corner who goes on the throw at 0.95, against the ball that is caught at
		// 1.8 at about 5 yd/s outwards; on the fake he wins by more, and is at fault.
		{"R8 corner on the throw", 0.95 + defender(at(18.8, 7), at(17, 3)), 1.8 + man.TimeTo(at(12, -1.5), at(5, 0), at(17, 1), 0, 0), 2.56, 2.81, true},
	} {
		assert.InDelta(t, c.wantD, c.def, 0.02, "%s: defender", c.name)
		assert.InDelta(t, c.want, c.other, 0.02, "%s: other", c.name)
		assert.Equal(t, c.keeps, c.def < c.other, "%s: %.2f against %.2f", c.name, c.def, c.other)
	}
}
