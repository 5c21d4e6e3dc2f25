package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/rep"
)

// quartersPlaces puts the three men where quarters wants them.
func quartersPlaces(b *judge.Board) {
	for i := range b.Spots {
		switch b.Spots[i].Label {
		case "C":
			b.Spots[i].At = field.At(17, 7)
		case "N":
			b.Spots[i].At = field.At(10, 5)
		case "FS":
			b.Spots[i].At = field.At(8, 10)
		}
	}
}

func played(t testing.TB, call, id string, n int, who string, e rep.Error) (rep.Spread, []string) {
	b := threeOnThree(t, call)
	if call == "quarters" {
		quartersPlaces(&b)
	}
	pl, ok := book.Builtin().Play(id)
	require.True(t, ok)
	r, err := judge.NewReps(&b, pl)
	require.NoError(t, err)
	opt := rep.Options{Seed: 1, Force: -1}
	if who != "" {
		spot, err := r.Error(who, e)
		require.NoError(t, err)
		opt.Errors = map[int]rep.Error{spot: e}
	}
	return rep.Many(r.Board, r.Picture, opt, n), r.Labels
}

// What a trial of the model found, in sign and order: a broken rule that opens a
// lane lets the ball break, being late costs a yard or so, played right it is a
// short gain. Derived; the digits are not asked for.
func TestBrokenRulesCost(t *testing.T) {
	const n = 200
	for _, call := range []string{"two-read", "quarters"} {
		right, _ := played(t, call, "toss", n, "", "")
		assert.Less(t, right.Median, 3.0, call)
		assert.Less(t, right.Broke, 0.15, call)
		wrong, _ := played(t, call, "toss", n, "FS", rep.WrongSideOfApex)
		assert.Greater(t, wrong.Broke, right.Broke+0.4, call)
		late, _ := played(t, call, "toss", n, "FS", rep.Late)
		assert.Greater(t, late.Median, right.Median, call)
		under, _ := played(t, call, "toss", n, "N", rep.DucksUnder)
		assert.Greater(t, under.Median, right.Median, call)
	}
	right, _ := played(t, "two-read", "toss", n, "", "")
	over, _ := played(t, "two-read", "toss", n, "N", rep.OverTheTop)
	assert.Greater(t, over.Broke, right.Broke+0.4)
	assert.Greater(t, over.Median, 10.0)
	in, _ := played(t, "two-read", "now", n, "", "")
	out, _ := played(t, "two-read", "now", n, "C", rep.EdgeInside)
	assert.GreaterOrEqual(t, out.Broke, in.Broke)
}

// The two calls send the same toss to the same man by different lanes: the
// safety makes most tackles, outside of the apex's block in two-read and inside
// of it in quarters.
func TestTheBallGoesToTheFreeHitter(t *testing.T) {
	for _, call := range []string{"two-read", "quarters"} {
		s, labels := played(t, call, "toss", 200, "", "")
		for i, l := range labels {
			if l == "FS" {
				assert.Greater(t, s.Tackles[i], 100, call)
			}
		}
	}
}

// Quarters set to the apex, slot at 9, the apex moved out from 6
// to 10. What the phone says before the snap and where his hat ends in the rep
// are one function. Derived in a trial: 214/83/3, 65/203/32, 8/146/146, 2/52/246,
// 0/3/297 of 300 with the hat in / even / out.
func TestRepEndsAsTheApexTableSays(t *testing.T) {
	b := threeOnThree(t, "quarters")
	quartersPlaces(&b)
	pl, _ := book.Builtin().Play("toss")
	want := []struct {
		x             float64
		in, even, out int
	}{{6, 214, 83, 3}, {7, 65, 203, 32}, {8, 8, 146, 146}, {9, 2, 52, 246}, {10, 0, 3, 297}}
	for _, w := range want {
		for i := range b.Spots {
			if b.Spots[i].Label == "N" {
				b.Spots[i].At = field.At(w.x, 5)
			}
		}
		r, err := judge.NewReps(&b, pl)
		require.NoError(t, err)
		s := rep.Many(r.Board, r.Picture, rep.Options{Seed: 1, Force: -1}, 300)
		for i, l := range r.Labels {
			if l == "N" {
				h := s.Hats[i]
				assert.InDelta(t, w.in, h[lane.In], 45, "in, apex at %g", w.x)
				assert.InDelta(t, w.even, h[lane.Even], 60, "even, apex at %g", w.x)
				assert.InDelta(t, w.out, h[lane.Outside], 45, "out, apex at %g", w.x)
			}
		}
	}
}

func TestSameSeedSameRep(t *testing.T) {
	a, _ := played(t, "two-read", "bubble", 30, "", "")
	b, _ := played(t, "two-read", "bubble", 30, "", "")
	assert.Equal(t, a, b)
}

func TestImpossibleErrorsAreRefused(t *testing.T) {
	b := threeOnThree(t, "quarters")
	pl, _ := book.Builtin().Play("toss")
	r, err := judge.NewReps(&b, pl)
	require.NoError(t, err)
	_, err = r.Error("N", rep.OverTheTop) // in quarters that is his right hat
	assert.ErrorContains(t, err, "over the top is wrong only for a blocked man whose hat must be inside")
	_, err = r.Error("X", rep.Late)
	assert.ErrorContains(t, err, "nobody of that name")
}

func BenchmarkRep3v3(b *testing.B) {
	board := threeOnThree(b, "two-read")
	pl, _ := book.Builtin().Play("toss")
	r, err := judge.NewReps(&board, pl)
	require.NoError(b, err)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		rep.Run(r.Board, r.Picture, rep.Options{Seed: uint64(i), Spread: true, Force: -1})
	}
}

func BenchmarkCost1000(b *testing.B) {
	board := threeOnThree(b, "two-read")
	pl, _ := book.Builtin().Play("toss")
	r, err := judge.NewReps(&board, pl)
	require.NoError(b, err)
	for b.Loop() {
		rep.Many(r.Board, r.Picture, rep.Options{Seed: 1, Force: -1}, 1000)
	}
}
