package judge_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/book"
	"halfline/internal/judge"
)

// One answer before and after the snap: what a board says of a play's lanes, its
// frozen moment says too, for any board and every run of the book.
func TestFrozenSaysWhatWasForeseen(t *testing.T) {
	frozen, boards := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		boards++
		b.Moment, b.Before = nil, nil
		for _, pl := range book.Builtin().Plays {
			f, ok := judge.Freeze(&b, pl)
			if !ok {
				continue
			}
			frozen++
			b.Play = pl
			before := judge.Run(&b)
			l := b.Shown()
			z := b
			z.Before, z.Moment = &l, &f.Moment
			z.Men, z.Spots = slices.Clone(b.Men), slices.Clone(b.Spots)
			for i := range z.Men {
				z.Men[i].At, z.Men[i].Vel = f.Places[z.Men[i].Tag], nil
			}
			for i := range z.Spots {
				z.Spots[i].At, z.Spots[i].Vel = f.Places[z.Spots[i].Label], nil
			}
			after := judge.Run(&z)
			if before.Sound != after.Sound || len(before.Lanes) != len(after.Lanes) {
				t.Fatalf("%s: sound %v, frozen %v\n%+v\n%+v\n%s", pl.ID, before.Sound, after.Sound, before.Lanes, after.Lanes, shown(&z))
			}
			for i, x := range before.Lanes {
				if y := after.Lanes[i]; x.ShutBy != y.ShutBy || x.FitBy != y.FitBy {
					t.Fatalf("%s, lane %d: %+v, frozen %+v\n%s", pl.ID, i, x, y, shown(&z))
				}
			}
		}
	})
	assert.Greater(t, frozen, boards)
}
