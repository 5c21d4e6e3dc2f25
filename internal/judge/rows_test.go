package judge_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
)

// row is one line of a trial's table: reps of one play, right or with errors.
type row struct {
	call, play string
	errs       map[string]rep.Error
	lb         bool // a linebacker overlaps
	ball       field.Ball
	z, h       float64 // splits, 0: 18 and 9
}

// places are where a call wants its men, by the splits of the row.
func (r row) board(t testing.TB, s field.Side) judge.Board {
	z, h := r.z, r.h
	if z == 0 {
		z, h = 18, 9
	}
	men := []at{{"SN", 0, 0}, {"Q", 0, -5}, {"B", 1.5, -5}, {"Z", z, -0.5}, {"H", h, -1}, {"X", -14, -0.5}}
	b := setup{call: r.call, ball: r.ball, side: s}.board(t, men, r.spots())
	for i := range b.Spots { // everybody where his rule likes him best
		res := judge.Run(&b)
		for _, sp := range res.Spots {
			if sp.Label == b.Spots[i].Label && sp.Duty.Placed {
				b.Spots[i].At = s.FlipOffset(sp.Duty.Best)
			}
		}
	}
	return b
}

// spots are the corner, the apex and the safety of the call, and its linebacker.
func (r row) spots() []at {
	c, _ := book.Builtin().Call(r.call)
	out := []at{}
	for _, s := range c.Spots {
		if s.Half == "this" && (s.Role == "corner" || s.Role == "apex" || s.Role == "safety" || s.Role == "deep" || s.Role == "hook" && r.lb) {
			out = append(out, at{s.Label, 8, 5})
		}
	}
	return out
}

func (r row) reps(t testing.TB, s field.Side) *judge.Reps {
	b := r.board(t, s)
	pl, ok := book.Builtin().Play(r.play)
	require.True(t, ok, r.play)
	reps, err := judge.NewReps(&b, pl)
	require.NoError(t, err)
	return reps
}

func (r row) run(t testing.TB, s field.Side, n int) (rep.Spread, *judge.Reps) {
	reps := r.reps(t, s)
	opt := rep.Options{Seed: 1, Force: -1, Errors: map[int]rep.Error{}}
	for who, e := range r.errs {
		i, err := reps.Error(who, e)
		require.NoError(t, err)
		opt.Errors[i] = e
	}
	return rep.Many(reps.Board, reps.Picture, opt, n), reps
}
