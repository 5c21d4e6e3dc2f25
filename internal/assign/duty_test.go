package assign_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

var middle = field.Ball{Rules: field.NFHS, Hash: field.MiddleHash, Yard: 40}

func out(tag string, x, y float64) look.Man { return look.Man{Tag: tag, At: field.At(x, y)} }

func shown(b field.Ball, men ...look.Man) look.Look {
	return look.New(b, append(men, look.Man{Tag: "SN", Line: true}, out("Q", 0, -5)))
}

func stand(best, inner, outer call.Landmark, keep call.ShadeSide, of call.Off) *call.Stand {
	return &call.Stand{Best: best, Inner: inner, Outer: outer, Keep: call.Shade{Off: of, Side: keep},
		Depth: call.Depth{Best: 180, Least: 144, Most: 216}}
}

func off(o call.Off, yards float64) call.Landmark {
	return call.Landmark{Off: o, Out: field.FromYards(yards)}
}

// laid is a spot's duty on one side, the other mirrored.
func laid(t *testing.T, s *call.Spot, l look.Look, check func(d assign.Duty)) {
	check(assign.For(s, l, field.Right, nil))
	m := assign.For(s, l.Mirror(), field.Left, nil)
	r := assign.For(s, l, field.Right, nil)
	assert.Equal(t, r.Box, m.Box)
	assert.Equal(t, r.Best, m.Best)
	assert.Equal(t, r.KeepTag, m.KeepTag)
	assert.Equal(t, r.KeyTag, m.KeyTag)
}

// Which stand holds: alone, with #1 wide, with an attached #2, or the usual one;
// landmarks are counted out from the ball.
func TestStandsFollowTheLook(t *testing.T) {
	s := &call.Spot{Label: "N", Half: call.This, Key: "#2",
		Stand:    stand(off(call.OffApex, 0), off(call.OffApex, 0), off(call.Off2, -1), call.Inside, call.Off2),
		Attached: stand(off(call.Off2, 1), off(call.Off2, 0), off(call.Off2, 1), call.HeadUp, call.Off2),
		Alone:    stand(off(call.OffEnd, 2), off(call.OffEnd, 1), off(call.OffEnd, 4), call.Inside, call.Off1),
		Wide:     stand(off(call.OffBall, 7), off(call.OffBall, 5), off(call.OffBall, 8), call.HeadUp, call.OffBall),
	}
	for _, c := range []struct {
		what               string
		men                []look.Man
		inner, outer, best float64
		keep, key          string
	}{
		{"the usual one", []look.Man{out("Z", 15, -1), out("H", 9, -1)}, 6, 8, 6, "H", "H"},
		{"attached #2", []look.Man{out("Z", 15, -1), {Tag: "Y", At: field.At(4.5, 0), Line: true}}, 4.5, 5.5, 5.5, "Y", "Y"},
		{"alone", []look.Man{out("Z", 15, -1)}, 4, 7, 5, "Z", ""},
		{"#1 at the numbers", []look.Man{out("Z", 17.7, -1), out("H", 9, -1)}, 5, 8, 7, "", "H"},
	} {
		laid(t, s, shown(middle, c.men...), func(d assign.Duty) {
			assert.True(t, d.Placed, c.what)
			assert.InDelta(t, c.inner, d.Box.Inner.Yards(), 0.02, c.what)
			assert.InDelta(t, c.outer, d.Box.Outer.Yards(), 0.02, c.what)
			assert.InDelta(t, c.best, d.Best.X.Yards(), 0.02, c.what)
			assert.Equal(t, c.keep, d.KeepTag, c.what)
			assert.Equal(t, c.key, d.KeyTag, c.what)
		})
	}
	laid(t, s, shown(middle), func(d assign.Duty) {
		assert.False(t, d.Placed, "there is nothing to line up off")
		assert.Equal(t, assign.Result{Verdict: assign.Right}, d.At(field.At(9, 9)))
	})
}

// Landmarks of the field: the middle and the hash lie on the side they lie on.
func TestLandmarksOfTheField(t *testing.T) {
	s := &call.Spot{Half: call.This, Stand: stand(off(call.OffMiddle, 0), off(call.OffMiddle, -2), off(call.OffHash, 0), call.HeadUp, call.OffMiddle)}
	// The ball on the left high-school hash: the middle is 8 yd 2 ft 8 in to the
	// right, the right hash 17 yd 2 ft 4 in (NFHS 1-2-3: hashes 53 ft 4 in in).
	l := shown(field.Ball{Rules: field.NFHS, Hash: field.LeftHash, Yard: 40}, out("Z", 15, -1))
	laid(t, s, l, func(d assign.Duty) {
		assert.Equal(t, field.Inches(320-72), d.Box.Inner)
		assert.Equal(t, field.Inches(640), d.Box.Outer)
	})
}

// In a tight look the range and the side he keeps may cross: the side wins.
func TestRangeStaysOnTheSideHeKeeps(t *testing.T) {
	alone := &call.Spot{Half: call.This, Stand: stand(off(call.OffEnd, 2), off(call.OffEnd, 1), off(call.OffEnd, 4), call.Inside, call.Off1)}
	laid(t, alone, shown(middle, out("Z", 5, -1)), func(d assign.Duty) {
		assert.Equal(t, 4*field.Yard, d.Box.Inner)
		assert.Equal(t, 5*field.Yard+17, d.Box.Outer, "head up and no further out")
	})
	wide := &call.Spot{Half: call.This, Stand: stand(off(call.OffEnd, 2), off(call.OffEnd, 1), off(call.OffEnd, 2), call.Outside, call.Off1)}
	laid(t, wide, shown(middle, out("Z", 9, -1)), func(d assign.Duty) {
		assert.Equal(t, 9*field.Yard-17, d.Box.Inner)
		assert.Equal(t, d.Box.Inner, d.Box.Outer)
		assert.Equal(t, assign.Right, d.At(field.Offset{X: d.Half.OutInches(d.Box.Inner), Y: 180}).Verdict)
	})
}

// Three inches from a boundary nobody can tell.
func TestNearIsContested(t *testing.T) {
	s := &call.Spot{Half: call.This, Stand: stand(off(call.Off2, -2), off(call.Off2, -3), off(call.Off2, -1), call.Inside, call.Off2)}
	d := assign.For(s, shown(middle, out("Z", 15, -1), out("H", 9, -1)), field.Right, nil)
	for _, c := range []struct {
		x, y field.Inches
		want assign.Result
	}{
		{252, 180, assign.Result{Verdict: assign.Right}},
		{288, 216, assign.Result{Verdict: assign.Right}},
		{291, 180, assign.Result{Verdict: assign.Right, Near: true}},
		{292, 180, assign.Result{Verdict: assign.TooWide, Move: field.Offset{X: -4}}},
		{213, 141, assign.Result{Verdict: assign.Right, Near: true}},
		{212, 141, assign.Result{Verdict: assign.TooTight, Move: field.Offset{X: 4, Y: 3}}},
		{252, 220, assign.Result{Verdict: assign.TooDeep, Move: field.Offset{Y: -4}}},
		{252, 100, assign.Result{Verdict: assign.TooShallow, Move: field.Offset{Y: 44}}},
		{341, 180, assign.Result{Verdict: assign.TooWide, Move: field.Offset{X: -53}}},
		{342, 180, assign.Result{Verdict: assign.WrongSide, Move: field.Offset{X: -54}}},
	} {
		assert.Equal(t, c.want, d.At(field.Offset{X: c.x, Y: c.y}), "at %d, %d", c.x, c.y)
	}
}

func TestBackSideAndBack(t *testing.T) {
	s := &call.Spot{Half: call.Back, Key: "back", Stand: stand(off(call.Off1, 1), off(call.Off1, 0), off(call.Off1, 2), call.Outside, call.Off1)}
	l := shown(middle, out("Z", 15, -1), out("X", -12, -1), out("B", 1, -5))
	d := assign.For(s, l, field.Right, nil)
	assert.Equal(t, field.Left, d.Half)
	assert.Equal(t, "X", d.KeepTag)
	assert.Equal(t, "B", d.KeyTag)
	own := assign.For(s, l, field.Right, &call.Depth{Best: 400, Least: 396, Most: 432})
	assert.Equal(t, field.Inches(400), own.Best.Y, "his own depth")
	assert.Equal(t, field.Inches(432), own.Box.Most)
}
