package judge_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
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

// The wider apex is better on the screen (trade 6.7; common practice, no source):
// moved out from the apex to an inside shade of the slot, the bubble gains less.
func TestWiderApexIsBetterOnTheScreen(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, play := range []string{"bubble", "now"} {
			last := math.Inf(1)
			for _, x := range []float64{6, 7, 8} {
				b := row{call: "two-read", play: play}.board(t, s)
				for i := range b.Spots {
					if b.Spots[i].Label == "N" {
						b.Spots[i].At = s.FlipOffset(field.At(x, 5))
					}
				}
				pl, _ := book.Builtin().Play(play)
				reps, err := judge.NewReps(&b, pl)
				require.NoError(t, err)
				sp := rep.Many(reps.Board, reps.Picture, rep.Options{Seed: 1, Force: -1}, perRow)
				worth := sp.Median + 10*sp.Broke
				assert.LessOrEqual(t, worth, last+0.3, "%s, apex at %g", play, x)
				last = worth
			}
		}
	})
}
