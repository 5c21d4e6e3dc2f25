package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/assign"
	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
)

// heronsNumbers is who is which number in every look of the demo book, on the
// side of the look and on the other (common practice, no source).
var heronsNumbers = map[string][2][]string{
	"twins-right": {{"Z", "H"}, {"X"}}, "twins-left": {{"Z", "H"}, {"X"}},
	"twins-right-field": {{"Z", "H"}, {"X"}}, "twins-left-field": {{"Z", "H"}, {"X"}},
	"twins-right-boundary": {{"Z", "H"}, {"X"}}, "twins-left-boundary": {{"Z", "H"}, {"X"}},
	"wide-right": {{"Z", "H"}, {"X"}}, "tight-right": {{"Z", "H"}, {"X"}}, "slot-off-right": {{"Z", "H"}, {"X"}},
	"stack-right": {{"Z", "H"}, {"X"}}, "end-flanker-right": {{"Z", "Y"}, {"X"}},
	"doubles-right": {{"Z", "H"}, {"X", "Y"}},
	"trips-right":   {{"Z", "H", "Y"}, {"X"}}, "trips-left": {{"Z", "H", "Y"}, {"X"}},
	"bunch-right":      {{"Z", "Y", "H"}, {"X"}},
	"unbalanced-right": {{"Z", "Y"}, {"H"}},
	"empty-right":      {{"B", "Z", "H"}, {"X", "Y"}},
}

// Every look of the demo book in every call, both ways round: the numbers are as
// the trade counts them, a defense lined up by its rules is right, and the lanes
// of a play of the look's menu are told.
func TestEveryHeronsLookInEveryCall(t *testing.T) {
	b, err := book.Shipped("herons")
	require.NoError(t, err)
	require.Len(t, b.Looks, len(heronsNumbers))
	for i := range b.Looks {
		for _, c := range b.Calls {
			for _, turn := range []bool{false, true} {
				l, s := b.Looks[i].Shown, b.Looks[i].Side
				if turn {
					l, s = l.Mirror(), s.Other()
				}
				what := b.Looks[i].ID + " " + c.ID + " " + s.String()
				board := judge.Board{Ball: l.Ball, Side: s, Call: c, Menu: b.MenuPlays(b.Looks[i].Menu), Model: b.Model, Carry: b.Athletes.Carry()}
				for _, m := range l.Men {
					board.Men = append(board.Men, judge.Man{Man: m, Athlete: b.Offense(l, m)})
				}
				for k := range c.Spots {
					sp := &c.Spots[k]
					if sp.Stand == nil {
						continue
					}
					d := assign.For(sp, l, s, nil)
					require.True(t, d.Placed, "%s: %s has nothing to line up off", what, sp.Label)
					board.Spots = append(board.Spots, judge.Spot{Label: sp.Label, At: d.Half.FlipOffset(d.Best), Athlete: b.Defense(sp)})
				}
				r := judge.Run(&board)
				near, far := r.Look.Right, r.Look.Left
				if s == field.Left {
					near, far = far, near
				}
				assert.Equal(t, heronsNumbers[b.Looks[i].ID], [2][]string{near, far}, what)
				assert.Empty(t, r.Look.Violations, what)
				for _, x := range r.Spots {
					assert.Equal(t, assign.Right, x.Rule.Verdict, "%s: %s", what, x.Label)
				}
				assert.NotNil(t, r.Play, what)
				assert.NotEmpty(t, r.Lanes, what)
			}
		}
	}
}
