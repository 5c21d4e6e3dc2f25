package wire_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// A push sends the back out beyond the slot, who becomes #3 on the way (trade:
// every number inside him shifts by one; common practice, no source): the way,
// and when, on both sides.
func TestTheWayOfAMotion(t *testing.T) {
	b, err := book.Shipped("herons")
	require.NoError(t, err)
	for _, side := range []field.Side{field.Right, field.Left} {
		t.Run(side.String(), func(t *testing.T) {
			st := session.New("Tuesday", b)
			st.Members["m"] = session.Member{Role: session.Coach, In: true}
			do := func(op session.Op) {
				c, refused := session.Decide(&st, b, session.Actor{Member: "m"}, op)
				require.Nil(t, refused)
				st.Apply(c)
			}
			do(session.Op{Do: "side", Side: side.String()})
			board := st.Board(b, nil)
			r := judge.Run(&board)
			require.Nil(t, wire.LookOn(&board, &r).Way, "nobody moves")

			from := st.Men["B"].At
			to := session.PlaceOf(side.FlipOffset(field.At(12, -5)))
			do(session.Op{Do: "motion", Who: "B", At: &to, Kind: "push"})
			board = st.Board(b, nil)
			r = judge.Run(&board)
			a := wire.LookOn(&board, &r)
			w := a.Way
			require.NotNil(t, w)
			assert.Equal(t, [2]int{int(from[0]), int(from[1])}, w.Path[0])
			assert.Equal(t, [2]int{int(to[0]), int(to[1])}, w.Path[len(w.Path)-1])
			// 5 yd/s is the usual speed of a push (common practice, no source).
			assert.InDelta(t, -(12-float64(side.OutInches(from[0]))/36)/5, w.StartS, 0.02)
			require.NotEmpty(t, w.Changes)
			last := w.Changes[len(w.Changes)-1]
			assert.Equal(t, a.Numbers, last.Numbers, "the last change is how they count at the snap")
			for i, c := range w.Changes {
				assert.True(t, c.TS >= w.StartS && c.TS <= 0, "%v", c.TS)
				assert.True(t, i == 0 || w.Changes[i-1].TS <= c.TS)
			}
		})
	}
}
