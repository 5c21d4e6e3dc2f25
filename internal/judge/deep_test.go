package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// Trade brief 3.2, R5 (only the sign is a trade fact: common practice, no
// source): the half safety of cover 2 owns the alley on an edge run. From the
// middle of the field at 12 he is late, from the hash just in time.
func TestHalfSafetyIsLateFromTheMiddle(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		judged := func(x float64) judge.Result {
			b := setup{call: "2", side: s, menu: []string{"toss"}}.board(t, twins(18, 9), []at{{"C", 19, 5}, {"N", 7, 5}, {"FS", x, 12}})
			trial(&b)
			return judge.Run(&b)
		}
		r := judged(0)
		late := spotOf(t, &r, "FS")
		assert.Equal(t, leverage.Alley, late.Race.Kind)
		assert.Equal(t, leverage.No, late.Keeps, "margin %.3f", late.Race.Margin)
		assert.Less(t, late.Race.Margin, -0.1)
		assert.False(t, r.Sound, "his lane is open")
		require.Len(t, r.Lanes, 3)
		assert.Empty(t, r.Lanes[1].FitBy)

		r = judged(9)
		just := spotOf(t, &r, "FS")
		assert.Equal(t, assign.Right, just.Rule.Verdict)
		assert.Equal(t, leverage.Contested, just.Keeps, "just in time: margin %.3f", just.Race.Margin)
		assert.True(t, r.Sound)
		assert.Equal(t, "FS", r.Lanes[1].FitBy)
		assert.Greater(t, just.Race.Margin, late.Race.Margin+0.4)
	})
}

// Trade brief 3.2, R7 (common practice, no source): the free safety of man-free,
// 12 deep in the middle, never is the alley of an edge run. His job there has no
// race, and the lane that a reached nickel opens stays open.
func TestDeepMiddleIsNeverTheAlley(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, play := range []string{"toss", "swing"} {
			b := setup{call: "man-free", side: s, menu: []string{play}}.
				board(t, twins(18, 9), []at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 0, 12}, {"LB", 3, 4.5}})
			trial(&b)
			r := judge.Run(&b)
			fs := spotOf(t, &r, "FS")
			assert.Equal(t, leverage.NoRace, fs.Race.Kind, play)
			assert.Equal(t, assign.Right, fs.Rule.Verdict, play)
			require.Len(t, r.Lanes, 3, play)
			assert.False(t, r.Sound, play)
			assert.Empty(t, r.Lanes[1].ShutBy+r.Lanes[1].FitBy, "%s: nobody is in the lane outside of the nickel", play)
			assert.Equal(t, "LB", r.Lanes[0].FitBy, "%s: the back's man is", play)
		}
	})
}

// Trade brief 3.2, R8 (common practice, no source): the corner of two-read goes
// on the throw of a bubble, not on the fake, and from there he is first all the
// same.
func TestCornerGoesOnTheThrowAndIsFirst(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		b := setup{call: "two-read", side: s, menu: []string{"bubble"}}.board(t, twins(18, 9), []at{{"C", 18.8, 7}, {"N", 7, 5}, {"FS", 8, 10.5}})
		trial(&b)
		r := judge.Run(&b)
		c := spotOf(t, &r, "C")
		assert.Equal(t, assign.Right, c.Rule.Verdict)
		assert.Equal(t, leverage.Yes, c.Keeps, "margin %.3f", c.Race.Margin)
		assert.GreaterOrEqual(t, c.Race.Mine, b.Menu[0].Leaves+b.Spots[0].Athlete.React-1e-9, "nothing before the ball leaves the hand")
		last := r.Lanes[len(r.Lanes)-1]
		assert.Equal(t, "C", last.ShutBy, "the edge is his")
	})
}

// Trade brief 3.3, A6 (common practice, no source): the slot goes across. Only #1
// is left, nobody is there to block the nickel, and the corner has no #2 to read
// until the back releases; then the back is his key. Nickel and safety line up by
// their rule for one receiver.
func TestSlotGoesAcross(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		judged := func(bx, by float64) judge.Result {
			b := setup{call: "two-read", side: s, menu: []string{"toss", "swing", "bubble", "now"}}.
				board(t, twins(18, 9), []at{{"C", 19, 7}, {"N", 5, 5}, {"FS", 14, 10.5}})
			l := b.Shown().With("H", s.FlipOffset(field.At(-6, -2))).With("B", s.FlipOffset(field.At(bx, by)))
			for i := range b.Men {
				b.Men[i].Man, _ = l.Find(b.Men[i].Tag)
			}
			return judge.Run(&b)
		}
		numbers := func(r *judge.Result) []string {
			if s == field.Left {
				return r.Look.Left
			}
			return r.Look.Right
		}
		r := judged(1.5, -5)
		assert.Equal(t, []string{"Z"}, numbers(&r))
		assert.Empty(t, spotOf(t, &r, "C").Duty.KeyTag)
		for _, label := range []string{"N", "FS"} {
			d := spotOf(t, &r, label)
			assert.Empty(t, d.BlockBy, "%s: no slot is left to block him", label)
			assert.Equal(t, assign.Right, d.Rule.Verdict, "%s by his rule for one receiver", label)
			assert.Equal(t, "Z", d.Duty.KeepTag)
		}

		r = judged(6, -4)
		assert.Equal(t, []string{"Z", "B"}, numbers(&r), "out of the box the back is #2")
		assert.Equal(t, "B", spotOf(t, &r, "C").Duty.KeyTag)
		assert.Equal(t, "B", spotOf(t, &r, "FS").Duty.KeyTag)
		assert.NotEqual(t, assign.Right, spotOf(t, &r, "FS").Rule.Verdict, "the rule for two receivers has him back inside")
	})
}
