package session_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/session"
)

// sides plays a test on the right and mirrored on the left: x is 1 or -1.
func sides(t *testing.T, f func(t *testing.T, r *room, x float64)) {
	for look, x := range map[string]float64{"twins-right": 1, "twins-left": -1} {
		t.Run(look, func(t *testing.T) {
			r := begin(t)
			r.do(head, session.Op{Do: "look", Look: look})
			f(t, r, x)
		})
	}
}

// numbers are the receivers of the side under study, #1 first.
func (r *room) numbers() []string {
	l := r.judge().Look
	if r.st.Side == "left" {
		return l.Left
	}
	return l.Right
}

// Case A4 of the design: a back who motions between #1 and #2 becomes #2, and
// the nickel, who stood right inside #2, is too tight now.
func TestMotionNumbersAnew(t *testing.T) {
	sides(t, func(t *testing.T, r *room, x float64) {
		r.do(head, put("N", 8*x, 5))
		assert.Equal(t, []string{"Z", "H"}, r.numbers())
		assert.Equal(t, "right", string(r.spot("N").Rule.Verdict))
		before := r.st.Clone()

		r.do(head, send("B", 13*x, -2))
		assert.Equal(t, []string{"Z", "B", "H"}, r.numbers())
		assert.Equal(t, "too-tight", string(r.spot("N").Rule.Verdict))
		assert.Equal(t, "B", r.spot("C").Duty.KeyTag, "the corner keys the new #2")
		assert.Equal(t, "B", r.spot("FS").Duty.KeyTag, "and the safety")
		assert.Equal(t, session.Motion{Who: "B", From: before.Men["B"].At, To: yards(13*x, -2)}, r.st.Motion)

		r.do(head, session.Op{Do: "motion"})
		assert.Equal(t, before, r.st, "back where he was, nothing else is changed")
	})
}

// A man sent on in motion goes back to where he first stood, as he stood there.
func TestMotionRemembersWhereHeBegan(t *testing.T) {
	r := begin(t)
	began := r.st.Men["Z"]
	require.True(t, began.Line)
	r.do(head, send("Z", 10, -5))
	assert.False(t, r.st.Men["Z"].Line)
	r.do(head, send("Z", 4, -6))
	r.do(head, session.Op{Do: "motion"})
	assert.Equal(t, began, r.st.Men["Z"])
	r.do(head, send("Z", 10, -5))
	r.do(head, put("Z", 15, -1))
	assert.Empty(t, r.st.Motion.Who, "set down by hand he is no longer in motion")
	r.do(head, session.Op{Do: "motion"})
	assert.Equal(t, yards(15, -1), r.st.Men["Z"].At)
}

// The ball goes to another hash while a man is in motion: he must not come back
// to a place that is off the field now.
func TestMotionGoesWithTheBall(t *testing.T) {
	r := begin(t)
	r.do(head, put("B", -25, -5))
	r.do(head, send("B", 13, -2))
	r.do(head, ballAt("left", 40))
	require.Empty(t, valid(&r.st, r.b))
	r.do(head, session.Op{Do: "motion"})
	require.Empty(t, valid(&r.st, r.b))
	side := r.st.Ball.FieldBall().Sideline(field.Left)
	assert.Equal(t, -side+field.Yard, r.st.Men["B"].At[0], "a yard inside the line")
}

// fault is who opens which lane.
type fault struct {
	who, kind string
	opens     int
}

func (r *room) faults() []fault {
	var out []fault
	for _, f := range r.judge().Faults {
		out = append(out, fault{f.Who, f.Kind, f.Opens})
	}
	return out
}

// The nickel goes over the top of #2's block, and the cutback lane is open; the
// same on either side.
func TestOverTheTopOpensTheCutback(t *testing.T) {
	sides(t, func(t *testing.T, r *room, x float64) {
		r.do(head, freeze)
		assert.Empty(t, r.faults())
		assert.True(t, r.judge().Sound)
		m := r.st.Moment
		require.Contains(t, m.Blocks, session.Block{By: "H", On: "N"})
		h := m.Places["H"]
		before := r.st.Spots["N"]
		r.do(head, session.Op{Do: "place", Who: "N", At: &session.Place{h[0] + field.Inches(18*x), h[1] + 30}})
		require.NotEmpty(t, r.faults())
		assert.Equal(t, fault{"N", "over-the-top", 0}, r.faults()[0])
		assert.False(t, r.judge().Sound)
		assert.Equal(t, before, r.st.Spots["N"], "before the snap he stands where he stood")
		assert.NotContains(t, r.st.Moment.Makes, "N", "moved by hand he counts where he stands")

		r.do(head, session.Op{Do: "thaw"})
		assert.Empty(t, r.st.Moment.Play)
		r.do(head, freeze)
		assert.Empty(t, r.faults(), "frozen again, from the alignment")
	})
}

// inside and outside mean the same on either side.
func TestOtherSideSaysTheSame(t *testing.T) {
	for name, prepare := range map[string]func(*room){
		"as it lines up": func(*room) {},
		"out of place": func(r *room) {
			r.do(head, put("N", 10, 5))
			r.do(head, put("C", 16.5, 3))
			r.do(head, put("FS", 2, 16))
		},
		"in motion":         func(r *room) { r.do(head, send("B", 13, -2)) },
		"with linebacker":   func(r *room) { r.do(head, lbOn) },
		"on the hash":       func(r *room) { r.do(head, session.Op{Do: "look", Look: "twins-right-field"}) },
		"into the boundary": func(r *room) { r.do(head, session.Op{Do: "look", Look: "twins-right-boundary"}) },
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			prepare(r)
			before, first := r.st.Clone(), r.judge()
			r.do(head, toLeft)
			require.Empty(t, valid(&r.st, r.b))
			there := r.judge()
			require.Len(t, there.Spots, len(first.Spots))
			for i, a := range first.Spots {
				b := there.Spots[i]
				assert.Equal(t, a.Label, b.Label)
				assert.Equal(t, a.Rule.Verdict, b.Rule.Verdict, a.Label)
				assert.Equal(t, a.Side, b.Side, a.Label)
				assert.Equal(t, a.Landmark, b.Landmark, a.Label)
				assert.Equal(t, a.Keeps, b.Keeps, a.Label)
				assert.Equal(t, a.Hat, b.Hat, a.Label)
				assert.Equal(t, first.Why(i), there.Why(i), a.Label)
				assert.Equal(t, field.Left.FlipOffset(a.Fix), b.Fix, a.Label)
			}
			assert.Equal(t, first.Look.Right, there.Look.Left)
			assert.Equal(t, len(first.Lanes), len(there.Lanes))
			assert.Equal(t, first.Sound, there.Sound)
			r.do(head, session.Op{Do: "side", Side: "right"})
			assert.Equal(t, before, r.st, "twice is not at all")
		})
	}
}

// A new look: whose spot nobody holds goes where his rule wants him; a player's
// own man stays where he stood, for it is his job to adjust.
func TestLookMovesOnlyWhomNobodyHolds(t *testing.T) {
	r := begin(t)
	r.do(ty, holdFS)
	r.do(ty, put("FS", 6, 11))
	r.do(head, session.Op{Do: "look", Look: "twins-right-field"})
	assert.Equal(t, yards(6, 11), r.st.Spots["FS"].At)
	assert.Equal(t, ty, r.st.Spots["FS"].By)
	assert.Equal(t, "right", string(r.spot("N").Rule.Verdict))
	r.do(head, session.Op{Do: "look", Look: "twins-left"})
	assert.Equal(t, yards(-6, 11), r.st.Spots["FS"].At, "on the side the look is studied from")
	assert.Equal(t, "right", string(r.spot("C").Rule.Verdict))
}

func TestCallKeepsWhoIsOnTheBoard(t *testing.T) {
	r := begin(t)
	r.do(head, lbOn)
	r.do(ty, holdFS)
	fs := r.st.Spots["FS"]
	r.do(head, session.Op{Do: "call", Call: "quarters"})
	assert.Equal(t, "quarters", r.st.Call)
	assert.Len(t, r.st.Spots, 4)
	assert.Equal(t, fs, r.st.Spots["FS"])
	assert.Equal(t, "right", string(r.spot("N").Rule.Verdict), "who is nobody's goes where the new rule wants him")
}

// His own speed and depth count for the player whose jersey is in the book's
// squad, whether he takes the spot or is given it.
func TestJerseyOfTheHolderCounts(t *testing.T) {
	r := begin(t)
	assert.Equal(t, "7", r.st.Spots["FS"].Man, "the usual man")
	r.do(ty, holdFS)
	assert.Equal(t, "30", r.st.Spots["FS"].Man)
	r.do(head, session.Op{Do: "give", Spot: "FS"})
	assert.Equal(t, "7", r.st.Spots["FS"].Man)
	r.do(head, session.Op{Do: "give", Spot: "FS", Member: ty})
	assert.Equal(t, "30", r.st.Spots["FS"].Man)
	r.do(head, session.Op{Do: "give", Spot: "FS", Member: bo})
	assert.Equal(t, "7", r.st.Spots["FS"].Man, "a number that the squad does not know")
	assert.Equal(t, bo, r.st.Spots["FS"].By)
	assert.Empty(t, r.st.SpotOf(ty))
}

// Hidden answers from the question to the next one.
func TestHiddenAnswersFlow(t *testing.T) {
	r := begin(t)
	r.do(ty, holdFS)
	r.do(bo, holdN)
	r.do(head, hide)
	assert.Equal(t, session.Sight{}, r.st.SightOf(ty))
	r.do(ty, put("FS", 7, 12))
	r.do(ty, commit)
	assert.Equal(t, session.Sight{Own: "FS"}, r.st.SightOf(ty))
	assert.Equal(t, session.Sight{}, r.st.SightOf(bo), "another's commitment opens nothing")
	r.do(bo, commit)
	assert.Equal(t, []string{"FS", "N"}, r.st.Committed)

	// The coach hands a committed man's spot to somebody else, who has not answered.
	r.do(head, session.Op{Do: "give", Spot: "FS", Member: bo})
	assert.Empty(t, r.st.Committed)
	assert.Equal(t, session.Sight{}, r.st.SightOf(bo))

	for _, again := range []session.Op{put("H", 8, -1), {Do: "look", Look: "twins-left"}, {Do: "call", Call: "quarters"}, send("B", -13, -2), toLeft, ballAt("left", 30), {Do: "line", Who: "H", On: true}, hide} {
		r.do(head, session.Op{Do: "side", Side: "right"})
		r.do(bo, commit)
		require.Equal(t, []string{"FS"}, r.st.Committed)
		r.do(head, again)
		assert.Empty(t, r.st.Committed, "%s asks anew", again.Do)
	}
}
