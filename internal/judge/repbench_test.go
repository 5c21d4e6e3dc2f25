package judge_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
)

func BenchmarkRep3v3(b *testing.B) {
	for _, pl := range []string{"toss", "wheel"} {
		b.Run(pl, func(b *testing.B) {
			r := row{call: "two-read", play: pl}.reps(b, field.Right)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				rep.Run(r.Board, r.Picture, rep.Options{Seed: uint64(i), Spread: true, Force: -1})
			}
		})
	}
}

// The whole defense of a call against eleven men, the rep traced as a screen
// shows it.
func BenchmarkRep11v11(b *testing.B) {
	for _, id := range []string{"toss", "wheel"} {
		b.Run(id, func(b *testing.B) {
			board := full(b, four...)
			pl, ok := book.Builtin().Play(id)
			require.True(b, ok)
			r, err := judge.NewReps(&board, pl)
			require.NoError(b, err)
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				rep.Run(r.Board, r.Picture, rep.Options{Seed: uint64(i), Spread: true, Force: -1, Trace: 6})
			}
		})
	}
}

func BenchmarkCost1000(b *testing.B) {
	r := row{call: "two-read", play: "toss"}.reps(b, field.Right)
	for b.Loop() {
		rep.Many(r.Board, r.Picture, rep.Options{Seed: 1, Force: -1}, 1000)
	}
}
