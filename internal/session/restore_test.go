package session_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/book"
	"halfline/internal/session"
)

// pictureOf is the whole picture that a state shows, sharing nothing with it.
func pictureOf(st *session.State) *session.Picture {
	s := st.Clone()
	return &session.Picture{Ball: &s.Ball, Side: s.Side, Look: s.Look, Call: s.Call, Men: s.Men, Spots: s.Spots, Motion: &s.Motion, Moment: &s.Moment}
}

func back(p *session.Picture) session.Op { return session.Op{Do: "board", Picture: p} }

// Whatever the coach does to a board, one operation puts it back to the inch, and
// who holds what with it.
func TestAPictureIsPutBackExactly(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := begin(rt)
		r.do(ty, holdFS)
		r.do(bo, holdN)
		for range rapid.IntRange(0, 12).Draw(rt, "before") {
			r.try(head, pictureOp(rt, r.b))
		}
		before := r.st.Clone()
		for range rapid.IntRange(1, 4).Draw(rt, "since") {
			r.try(head, pictureOp(rt, r.b))
		}
		r.do(head, back(pictureOf(&before)))
		require.Empty(rt, valid(&r.st, r.b))
		if before.Call == r.st.Call && holders(&before) == holders(&r.st) {
			before.Committed, before.Rep = r.st.Committed, r.st.Rep
			require.Equal(rt, before, r.st)
		}
		before.Spots, r.st.Spots = nil, nil // who is on them is asked below
		before.Committed, before.Rep = r.st.Committed, r.st.Rep
		require.Equal(rt, before, r.st)
	})
}

func holders(s *session.State) (out string) {
	for _, m := range []string{ty, bo} {
		out += m + " " + s.SpotOf(m) + "; "
	}
	return out
}

// pictureOp draws an operation on the board that a coach undoes.
func pictureOp(t *rapid.T, b *book.Book) session.Op {
	return rapid.Custom(func(t *rapid.T) session.Op { return anyOp(t, b) }).Filter(func(op session.Op) bool {
		switch op.Do {
		case "look", "call", "side", "ball", "place", "line", "spot", "lineup", "motion", "freeze", "thaw", "late", "blocks":
			return true
		}
		return false
	}).Draw(t, "operation")
}

// try does an operation if it may be done.
func (r *room) try(who string, op session.Op) {
	if c, refused := r.decide(who, op); refused == nil {
		r.st.Apply(c)
	}
}

// One look, one call, the other side: each is undone in one change, held spots
// included.
func TestLookCallAndSideAreUndoneInOneChange(t *testing.T) {
	for name, op := range map[string]session.Op{
		"look": {Do: "look", Look: "twins-left"}, "call": {Do: "call", Call: "quarters"},
		"side": toLeft, "ball": ballAt("left", 4), "freeze": freeze, "spot": lbOn,
		"a held spot off": {Do: "spot", Spot: "FS"},
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			r.do(ty, holdFS)
			r.do(head, put("FS", 6.5, 11))
			r.do(head, put("H", 11, -2))
			r.do(head, send("B", 9, -5))
			before := r.st.Clone()
			r.do(head, op)
			require.NotEqual(t, before, r.st)
			r.do(head, back(pictureOf(&before)))
			assert.Equal(t, before, r.st)
		})
	}
}

// The picture in a mirror, twice, is the picture.
func TestTheOtherSideTwiceIsTheSame(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := begin(rt)
		r.do(ty, holdFS)
		for range rapid.IntRange(0, 12).Draw(rt, "before") {
			r.try(head, pictureOp(rt, r.b))
		}
		r.try(head, session.Op{Do: "thaw"})
		before := r.st.Clone()
		flip := map[string]string{"left": "right", "right": "left"}
		r.do(head, session.Op{Do: "side", Side: flip[before.Side]})
		require.Empty(rt, valid(&r.st, r.b))
		for label, sp := range r.st.Spots {
			require.Equal(rt, -before.Spots[label].At[0], sp.At[0])
			require.Equal(rt, before.Spots[label].By, sp.By)
		}
		r.do(head, session.Op{Do: "side", Side: before.Side})
		require.Equal(rt, before, r.st)
	})
}

// People are no part of a picture: who has come since keeps his spot, who has
// moved on stays where he is, who has left holds nothing.
func TestPeopleSinceThePicture(t *testing.T) {
	r := begin(t)
	r.do(ty, holdFS)
	before := pictureOf(&r.st)
	r.do(head, session.Op{Do: "look", Look: "twins-left"})
	r.do(bo, holdN)
	r.do(ty, session.Op{Do: "hold", Spot: "C"})
	r.do(head, back(before))
	assert.Equal(t, bo, r.st.Spots["N"].By)
	assert.Equal(t, ty, r.st.Spots["C"].By)
	assert.Empty(t, r.st.Spots["FS"].By)
	assert.Empty(t, valid(&r.st, r.b))

	r = begin(t)
	r.do(ty, holdFS)
	before = pictureOf(&r.st)
	r.do(head, session.Op{Do: "remove", Member: ty})
	r.do(head, back(before))
	assert.Empty(t, r.st.Spots["FS"].By)
	assert.Equal(t, before.Spots["FS"].At, r.st.Spots["FS"].At)
}

// Parts of a picture leave the others as they are.
func TestPartsOfAPicture(t *testing.T) {
	r := begin(t)
	r.do(head, freeze)
	moment := r.st.Clone().Moment
	r.do(head, session.Op{Do: "thaw"})
	before := r.st.Clone()
	c := r.do(head, back(&session.Picture{Moment: &moment}))
	assert.Equal(t, moment, r.st.Moment)
	assert.Empty(t, c.Men)
	assert.Empty(t, c.Spots)
	assert.Nil(t, c.Ball)
	r.st.Moment = before.Moment
	assert.Equal(t, before, r.st)
}

// What no other operation can make is refused, and says what of it.
func TestPicturesThatCannotBe(t *testing.T) {
	far := yards(60, 0)
	for name, c := range map[string]struct {
		spoil   func(*session.Picture)
		refused string
	}{
		"a look nobody has drawn": {func(p *session.Picture) { p.Look = "wishbone" }, "unknown: wishbone"},
		"another look's men":      {func(p *session.Picture) { delete(p.Men, "H") }, "bad-value: men"},
		"a man nobody knows":      {func(p *session.Picture) { p.Men["K"] = p.Men["H"]; delete(p.Men, "H") }, "bad-value: men"},
		"a man off the field":     {func(p *session.Picture) { p.Men["H"] = session.Man{At: far} }, "off-field: H"},
		"offense beyond the line": {func(p *session.Picture) { p.Men["H"] = session.Man{At: yards(9, 1)} }, "illegal-move: H beyond the line"},
		"a call nobody has":       {func(p *session.Picture) { p.Call = "prevent" }, "unknown: prevent"},
		"a spot of no call":       {func(p *session.Picture) { p.Spots["XX"] = p.Spots["N"] }, "unknown: XX"},
		"a spot off the field":    {func(p *session.Picture) { p.Spots["N"] = session.Spot{At: far} }, "off-field: N"},
		"no such side":            {func(p *session.Picture) { p.Side = "top" }, "bad-value: side"},
		"no such yard":            {func(p *session.Picture) { p.Ball.Yard = 0 }, "bad-value: ball"},
		"motion of nobody":        {func(p *session.Picture) { p.Motion = &session.Motion{To: yards(1, -1)} }, "bad-value: motion"},
		"motion to elsewhere":     {func(p *session.Picture) { p.Motion = &session.Motion{Who: "B", To: yards(1, -1)} }, "bad-value: motion"},
		"motion of no kind": {func(p *session.Picture) { p.Motion = &session.Motion{Who: "B", To: p.Men["B"].At, Kind: "zoom"} },
			"bad-value: motion"},
		"no such play":      {func(p *session.Picture) { p.Moment.Play = "punt" }, "unknown: punt"},
		"a stranger's ball": {func(p *session.Picture) { p.Moment.Play = "toss"; p.Moment.Carrier = "K" }, "bad-value: carrier"},
		"half a moment":     {func(p *session.Picture) { p.Moment.Late = []string{"N"} }, "bad-value: moment"},
		"a moment of others": {func(p *session.Picture) {
			p.Moment.Play, p.Moment.Carrier, p.Moment.Places = "toss", "B", map[string]session.Place{"XX": yards(1, 1)}
		}, "bad-value: places"},
		"a block of nobody": {func(p *session.Picture) {
			p.Moment.Play, p.Moment.Carrier, p.Moment.Blocks = "toss", "B", []session.Block{{By: "B", On: "N"}}
		}, "bad-value: blocks"},
		"late twice": {func(p *session.Picture) {
			p.Moment.Play, p.Moment.Carrier, p.Moment.Late = "toss", "B", []string{"N", "N"}
		}, "bad-value: late"},
		"to no lane": {func(p *session.Picture) {
			p.Moment.Play, p.Moment.Carrier, p.Moment.Makes = "toss", "B", map[string]session.Way{"N": {Lane: 99}}
		}, "bad-value: makes"},
	} {
		t.Run(name, func(t *testing.T) {
			r := begin(t)
			p := pictureOf(&r.st)
			c.spoil(p)
			assert.Equal(t, c.refused, r.refused(head, back(p)))
		})
	}
	assert.Equal(t, "bad-value: picture", begin(t).refused(head, back(nil)))
}
