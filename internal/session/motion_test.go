package session_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/judge"
	"halfline/internal/session"
)

func sendBy(kind, who string, x, y float64, via ...session.Place) session.Op {
	op := send(who, x, y)
	op.Kind, op.Via = kind, via
	return op
}

// The state keeps how a man goes, and the board that the engine gets tells it in
// time: the numbers at the snap are the last of the renumberings, and who bumps
// is told to on both sides alike (worked case A4, common practice).
func TestMotionInTime(t *testing.T) {
	sides(t, func(t *testing.T, r *room, x float64) {
		r.do(head, put("N", 8*x, 5))
		r.do(head, sendBy("push", "B", 13*x, -2))
		assert.Equal(t, session.Motion{Who: "B", From: yards(1.5*x, -5), To: yards(13*x, -2), Kind: "push"}, r.st.Motion)
		b := r.st.Board(r.b, nil)
		require.NotNil(t, b.Motion)
		assert.InDelta(t, 5*x, b.Motion.Velocity(0).X, 1e-9, "he keeps his speed at the snap")
		m := judge.MotionOf(&b)
		require.NotEmpty(t, m.Renumberings)
		last := m.Renumberings[len(m.Renumberings)-1]
		numbers := last.Right
		if x < 0 {
			numbers = last.Left
		}
		assert.Equal(t, r.numbers(), numbers)
		require.NotEmpty(t, m.Bumps)
		assert.Equal(t, "N", m.Bumps[0].Label)
		assert.InDelta(t, 3*x, m.Bumps[0].Move.X.Yards(), 0.02)
		assert.Nil(t, r.st.Board(r.b, map[string]session.Place{"B": yards(5*x, -5)}).Motion, "under a finger he is in motion no longer")

		via := yards(6*x, -4)
		r.do(head, sendBy("", "B", 13*x, -5, via))
		b = r.st.Board(r.b, nil)
		assert.Equal(t, []session.Place{via}, r.st.Motion.Via)
		assert.InDelta(t, 6*x, b.Motion.Place(b.Motion.Start+(via.Offset().Vec().Dist(yards(1.5*x, -5).Offset().Vec()))/5).X, 1e-6, "by that place")

		r.do(head, session.Op{Do: "motion"})
		assert.Equal(t, session.Motion{}, r.st.Motion)
		assert.Nil(t, r.st.Board(r.b, nil).Motion)
	})
}

// Who is set again may be on the line; who comes back is as he was.
func TestSetAgainInASession(t *testing.T) {
	r := begin(t)
	z := r.st.Men["Z"]
	require.True(t, z.Line)
	r.do(head, session.Op{Do: "motion", Who: "Z", At: &z.At, Kind: "return"})
	assert.Equal(t, z, r.st.Men["Z"])
	assert.Equal(t, "Z", r.st.Motion.Who)
	r.do(head, session.Op{Do: "motion"})
	r.do(head, sendBy("shift", "Z", 14, -0.5))
	assert.True(t, r.st.Men["Z"].Line)
	r.do(head, sendBy("shift", "Z", 14, -1.5))
	assert.False(t, r.st.Men["Z"].Line)
}

// The other side and another hash take the way with them.
func TestWayGoesWithThePicture(t *testing.T) {
	r := begin(t)
	r.do(head, sendBy("orbit", "H", -6, -7, yards(2, -7), yards(-2, -7)))
	r.do(head, session.Op{Do: "side", Side: "left"})
	assert.Equal(t, []session.Place{yards(-2, -7), yards(2, -7)}, r.st.Motion.Via)
	require.Empty(t, valid(&r.st, r.b))
	r.do(head, session.Op{Do: "motion"})
	r.do(head, sendBy("", "B", 20, -6, yards(25, -5)))
	r.do(head, ballAt("right", 40))
	require.Empty(t, valid(&r.st, r.b))
	assert.Less(t, r.st.Motion.Via[0][0], yards(25, -5)[0], "in from the sideline")
}

func TestMotionsRefused(t *testing.T) {
	r := begin(t)
	for want, op := range map[string]session.Op{
		"bad-value: kind": sendBy("zoom", "B", 13, -5),
		"bad-value: via":  sendBy("", "B", 13, -5, make([]session.Place, 9)...),
		"off-field: B":    sendBy("", "B", 13, -5, yards(30, -5)),
		"illegal-move: B crosses the line of scrimmage at (4, 1): keep all of his way behind it":                                                sendBy("", "B", 13, -5, yards(4, 1)),
		"illegal-move: B would move towards the line at the snap: let him come up before and end flat or going back, or be set again (a shift)": sendBy("push", "B", 13, -4, yards(12, -5)),
		"illegal-move: Z starts on the line: 5 yd deep at the snap, or let him be set again as a back":                                          sendBy("jet", "Z", 3, -3),
	} {
		assert.Equal(t, want, r.refused(head, op))
	}
}
