package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
	"halfline/internal/rep"
)

// In every call a broken rule that opens a lane costs against the same reps played
// right; and played right the toss does not break more often than not. Derived in
// a trial for two-read and quarters, in sign; the others are held to the same sign
// (common practice, no source).
func TestEveryCallPaysForItsBrokenRules(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, c := range []struct {
			call string
			errs errs
		}{
			{"two-read", errs{"N": rep.OverTheTop}},
			{"two-read", errs{"FS": rep.WrongSideOfApex}},
			{"quarters", errs{"N": rep.DucksUnder}},
			{"quarters", errs{"FS": rep.WrongSideOfApex}},
			{"man-free", errs{"N": rep.EdgeInside}},
			{"two-man", errs{"FS": rep.WrongSideOfApex}},
			{"3-sky", errs{"SS": rep.EdgeInside}},
			{"3-buzz", errs{"SS": rep.EdgeInside}},
			{"3-cloud", errs{"N": rep.OverTheTop}},
			{"2", errs{"N": rep.OverTheTop}},
			{"2", errs{"FS": rep.WrongSideOfApex}},
		} {
			right, _ := row{call: c.call, play: "toss"}.run(t, s, perRow)
			wrong, _ := row{call: c.call, play: "toss", errs: c.errs}.run(t, s, perRow)
			assert.Greater(t, wrong.Median+10*wrong.Broke, right.Median+10*right.Broke, "%s %v", c.call, c.errs)
			assert.Less(t, right.Broke, 0.5, "%s played right", c.call)
		}
	})
}
