package session_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
)

// doAt is an operation of the coach that comes at a time after hubTime.
func (r *room) doAt(ms int64, op session.Op) session.Change {
	r.t.Helper()
	a := actor(head, op)
	a.Now += ms
	c, refused := session.Decide(&r.st, r.b, a, op)
	require.Nil(r.t, refused, op.Do)
	r.st.Apply(c)
	return c
}

func TestRepRollsByTheHubsTime(t *testing.T) {
	r := begin(t)
	r.do(head, snap)
	rep := r.st.Rep
	assert.Zero(t, rep.From, "no motion: it begins at the snap")
	assert.Greater(t, rep.Until, 1500, "a toss takes longer than a second and a half to be run down")
	assert.EqualValues(t, hubTime+250, rep.Since, "a little ahead, so that everybody has heard of it")
	for after, want := range map[int64]int{0: 0, 250: 0, 251: 1, 1250: 1000, 60_000: rep.Until} {
		assert.Equal(t, want, rep.Now(hubTime+after), "%d ms after", after)
	}

	// Half speed, while it rolls: from where it is, without a pause.
	r.doAt(1250, session.Op{Do: "roll", Mode: "half"})
	rep = r.st.Rep
	assert.Equal(t, 1000, rep.At)
	assert.EqualValues(t, hubTime+1250, rep.Since)
	assert.Equal(t, 1200, rep.Now(hubTime+1650))
	assert.True(t, r.doAt(1300, session.Op{Do: "roll", Mode: "half"}).Empty(), "it does so already")

	// Stopped where the coach saw it, then at another time: scrubbed.
	r.doAt(1650, session.Op{Do: "stop"})
	assert.Equal(t, 1200, r.st.Rep.Now(hubTime+99_000))
	r.doAt(1700, session.Op{Do: "stop", Ms: ptr(700)})
	assert.Equal(t, 700, r.st.Rep.At)
	assert.True(t, r.doAt(1800, session.Op{Do: "stop"}).Empty())
	r.doAt(1900, session.Op{Do: "stop", Ms: ptr(-5)})
	assert.Equal(t, r.st.Rep.From, r.st.Rep.At, "not before its beginning")

	r.doAt(1950, session.Op{Do: "stop", Mode: "walk"})
	assert.Equal(t, session.Walk, r.st.Rep.Speed, "the speed of a rep that stands")

	// On from there; over, it begins again.
	r.doAt(2000, session.Op{Do: "roll", Mode: "full", Ms: ptr(500)})
	assert.Equal(t, 500, r.st.Rep.Now(hubTime+2250))
	assert.Equal(t, 501, r.st.Rep.Now(hubTime+2251))
	r.doAt(30_000, session.Op{Do: "roll"})
	assert.Equal(t, r.st.Rep.From, r.st.Rep.At)
	assert.EqualValues(t, hubTime+30_250, r.st.Rep.Since)
}

// A new speed before the rep has begun to roll lets it begin when it would have.
func TestNewSpeedBeforeTheSnap(t *testing.T) {
	r := begin(t)
	r.do(head, snap)
	since := r.st.Rep.Since
	r.doAt(100, session.Op{Do: "roll", Mode: "walk"})
	assert.Equal(t, since, r.st.Rep.Since)
	assert.Equal(t, 250, r.st.Rep.Now(since+1000), "a walk is a quarter of full speed")
}

// Whatever makes another board ends the rep; what does not, leaves it.
func TestAnotherBoardEndsTheRep(t *testing.T) {
	for name, op := range map[string]session.Op{
		"a man": put("H", 9, -1), "a spot": put("FS", 7, 12), "a look": {Do: "look", Look: "twins-left"},
		"a call": {Do: "call", Call: "quarters"}, "the side": toLeft, "the ball": ballAt("left", 30), "the line": {Do: "line", Who: "H", On: true},
		"a spot more": lbOn, "lined up": {Do: "lineup"}, "motion": send("B", 13, -2), "a moment": freeze, "set": {Do: "set"},
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			r.do(head, put("FS", 8, 12))
			r.do(head, snap)
			r.do(head, op)
			assert.Empty(t, r.st.Rep.Play)
			assert.Empty(t, valid(&r.st, r.b))
		})
	}
	for name, s := range map[string]step{
		"hidden answers": did(head, hide), "the door": did(head, session.Op{Do: "door", Mode: "closed"}), "the floor": did(head, floorTo("all")),
		"a title": did(head, session.Op{Do: "title", Text: "x"}), "let in": did(head, session.Op{Do: "admit", Member: late}),
		"a spot held by who plays like its usual man": did(bo, holdN), "nothing to thaw": did(head, session.Op{Do: "thaw"}),
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			r.do(head, snap)
			r.do(s.who, s.op)
			assert.Equal(t, "toss", r.st.Rep.Play)
		})
	}
}

// A finger that has gone does not end a rep; a hand that is there does.
func TestDragThatEndsByItselfLeavesTheRep(t *testing.T) {
	r := begin(t)
	r.do(head, snap)
	_, refused := session.Rest(&r.st, r.b, "FS", yards(7, 12))
	require.NotNil(t, refused)
	assert.Equal(t, session.CodeFloor, refused.Code)
}

// The same state gives the same track, and a rule broken another one.
func TestTrackFollowsFromTheState(t *testing.T) {
	r := begin(t)
	r.do(head, snap)
	one, err := r.st.Track(r.b)
	require.NoError(t, err)
	r.do(head, session.Op{Do: "roll", Mode: "walk", Ms: ptr(300)})
	two, err := r.st.Track(r.b)
	require.NoError(t, err)
	assert.Equal(t, one, two, "where it stands and how fast it rolls change nothing")
	r.do(head, broken("N", "over-the-top"))
	three, err := r.st.Track(r.b)
	require.NoError(t, err)
	assert.NotEqual(t, one.Keys, three.Keys)
	assert.Greater(t, three.End.Gain, one.End.Gain, "over the top opens the lane inside (trade fact, common practice, no source)")
}

// Who may be given which error: what his job makes possible (trade facts: the
// apex of two-read plays inside, the corner outside; common practice, no source).
func TestBreakable(t *testing.T) {
	r := begin(t)
	r.do(head, session.Op{Do: "call", Call: "two-read"})
	r.do(head, snap)
	got := r.st.Breakable(r.b)
	assert.Contains(t, got["N"], "over-the-top")
	assert.NotContains(t, got["C"], "over-the-top")
	assert.Contains(t, got["C"], "edge-lost")
	for label, rules := range got {
		for _, rule := range rules {
			r.do(head, broken(label, rule))
		}
	}
	assert.Contains(t, r.refused(head, broken("C", "over-the-top")), "cannot-run: C=over-the-top: ")
	r.st.Rep.Play = "none"
	assert.Empty(t, r.st.Breakable(r.b))
}
