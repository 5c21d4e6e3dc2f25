package assign_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

// The perimeter of two-read as trade brief 2.1 has it: corner outside of #1,
// apex between the box and #2, safety inside of #2 (common practice, no source).
func twoRead() (c, n, fs *call.Spot) {
	c = &call.Spot{Label: "C", Half: call.This, Key: "#2", Stand: stand(off(call.Off1, 1), off(call.Off1, 0), off(call.Off1, 1.5), call.Outside, call.Off1)}
	n = &call.Spot{Label: "N", Half: call.This, Key: "#2",
		Stand: stand(off(call.OffApex, 0), off(call.OffApex, 0), off(call.Off2, -1), call.Inside, call.Off2),
		Alone: stand(off(call.OffEnd, 2), off(call.OffEnd, 1), off(call.OffEnd, 4), call.Inside, call.Off1)}
	fs = &call.Spot{Label: "FS", Half: call.This, Key: "#2",
		Stand: stand(off(call.Off2, -1), off(call.Off2, -4), off(call.Off2, 0), call.Inside, call.Off2),
		Alone: stand(off(call.Off1, -4), off(call.Off1, -8), off(call.Off1, -1), call.Inside, call.Off1)}
	return c, n, fs
}

// Trade brief 3.3, A4 to A6 (common practice, no source), told in time: who is
// wrong at the snap if he stays, when the numbers tell him to go, and that he is
// right where he goes. Times by hand, at 5 and 7 yd/s.
func TestBumpsOfTheWorkedCases(t *testing.T) {
	const inch = 1.0 / 36
	type bump struct {
		spot int
		t    float64
		to   field.Offset
	}
	for _, c := range []struct {
		what, who string
		kind      look.MotionKind
		to        field.Offset
		wrong     map[int]assign.Verdict // at the snap, where they stood
		bumps     []bump
	}{
		{"A4", "B", look.Push, field.At(13, -5), map[int]assign.Verdict{1: assign.TooTight, 2: assign.TooTight}, []bump{
			{1, -(13 - (9.5 + inch/2)) / 5, field.At(11, 5)},
			{2, -(13 - (9.5 + inch/2)) / 5, field.At(9, 5)},
		}},
		{"A5", "B", look.Push, field.At(22, -5), map[int]assign.Verdict{0: assign.WrongSide, 1: assign.TooTight, 2: assign.TooTight}, []bump{
			{1, -(22 - (9.5 + inch/2)) / 5, field.At(13.5, 5)},
			{2, -(22 - (9.5 + inch/2)) / 5, field.At(14, 5)},
			{0, -(22 - (18.5 + inch/2)) / 5, field.At(22, 5)},
		}},
		{"A6", "H", look.Jet, field.At(-5, -1), map[int]assign.Verdict{1: assign.TooWide, 2: assign.TooTight}, []bump{
			{1, -(5 + 3.5 + inch/2) / 7, field.At(7, 5)},
			{2, -(5 + 3.5 + inch/2) / 7, field.At(10, 5)},
		}},
		{"#1 goes wider: nobody counts anew, the corner goes with him", "Z", look.Shift, field.At(21, 0), map[int]assign.Verdict{0: assign.WrongSide}, []bump{
			{0, -1 - 3.0/3, field.At(21, 5)},
		}},
		{"a return is no reason to move", "H", look.Return, field.At(9, -1), nil, nil},
	} {
		for _, s := range []field.Side{field.Right, field.Left} {
			l := shown(middle, look.Man{Tag: "Z", At: field.At(18, 0), Line: true}, out("H", 9, -1), out("B", 1.5, -5))
			cs, n, fs := twoRead()
			men := []assign.Standing{{Spot: cs, At: field.At(19, 5)}, {Spot: n, At: field.At(8, 5)}, {Spot: fs, At: field.At(8, 5)}}
			if s == field.Left {
				l = l.Mirror()
				for i := range men {
					men[i].At = s.FlipOffset(men[i].At)
				}
			}
			m := l.Usual(c.kind, c.who, s.FlipOffset(c.to))
			require.Empty(t, l.MotionViolation(m), c.what)
			tl := l.Timeline(m)
			for i, m := range men {
				before := assign.For(m.Spot, l, s, nil).At(m.At)
				assert.Equal(t, assign.Right, before.Verdict, "%s: %s before", c.what, m.Spot.Label)
				want, bad := c.wrong[i]
				if !bad {
					want = assign.Right
				}
				assert.Equal(t, want, assign.For(m.Spot, tl.At(0), s, nil).At(m.At).Verdict, "%s: %s at the snap", c.what, m.Spot.Label)
			}
			got := assign.Bumps(tl, men, s)
			require.Len(t, got, len(c.bumps), "%s %s: %v", c.what, s, got)
			for i, b := range c.bumps {
				assert.Equal(t, b.spot, got[i].Spot, "%s %s", c.what, s)
				assert.InDelta(t, b.t, got[i].T, 1e-9, "%s %s: %s", c.what, s, men[b.spot].Spot.Label)
				assert.Equal(t, s.FlipOffset(b.to), got[i].To, "%s %s: %s", c.what, s, men[b.spot].Spot.Label)
				assert.Equal(t, assign.Right, assign.For(men[b.spot].Spot, tl.At(0), s, nil).At(got[i].To).Verdict)
			}
		}
	}
	assert.Empty(t, assign.Bumps(look.Timeline{}, nil, field.Right), "nobody moves")
}

// Who was wrong before the motion is not sent anywhere by it; his own depth is
// kept by who goes.
func TestBumpsOfOthers(t *testing.T) {
	l := shown(middle, look.Man{Tag: "Z", At: field.At(18, 0), Line: true}, out("H", 9, -1), out("B", 1.5, -5))
	cs, _, fs := twoRead()
	tl := l.Timeline(l.Usual(look.Push, "B", field.At(22, -5)))
	own := &call.Depth{Best: 400, Least: 396, Most: 432}
	got := assign.Bumps(tl, []assign.Standing{{Spot: cs, At: field.At(16, 5)}, {Spot: fs, At: field.At(8, 11), Own: own}}, field.Right)
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Spot)
	assert.Equal(t, field.At(14, 11), got[0].To)
}

// Whatever moves: who was right before is right at the snap after the bumps,
// nobody goes who need not, nobody before the motion, and both sides alike.
func TestBumpsMakeRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := func(what string, least, most int) field.Inches {
			return field.Inches(rapid.IntRange(least, most).Draw(t, what))
		}
		l := shown(middle, look.Man{Tag: "Z", At: field.Offset{X: in("Z", 300, 800)}, Line: true},
			look.Man{Tag: "H", At: field.Offset{X: in("H", 150, 700), Y: -36}}, out("B", 1.5, -5), look.Man{Tag: "X", At: field.At(-14, 0), Line: true})
		kind := rapid.SampledFrom(look.MotionKinds).Draw(t, "kind")
		who := rapid.SampledFrom([]string{"Z", "H", "B", "X"}).Draw(t, "who")
		m := l.Usual(kind, who, field.Offset{X: in("to", -800, 800), Y: -in("deep", 18, 250)})
		tl := l.Timeline(m)
		cs, n, fs := twoRead()
		var men []assign.Standing
		for _, sp := range []*call.Spot{cs, n, fs} {
			d := assign.For(sp, l, field.Right, nil)
			men = append(men, assign.Standing{Spot: sp, At: d.Best.Add(field.Offset{X: in("off", -60, 60)})})
		}
		got := assign.Bumps(tl, men, field.Right)
		to := map[int]field.Offset{}
		for i, b := range got {
			if b.T < tl.Start || b.T > 0 || i > 0 && b.T < got[i-1].T {
				t.Fatalf("bump at %v, motion from %v", b.T, tl.Start)
			}
			to[b.Spot] = b.To
		}
		for i, m := range men {
			after := assign.For(m.Spot, tl.At(0), field.Right, nil)
			at, goes := to[i]
			switch {
			case assign.For(m.Spot, l, field.Right, nil).At(m.At).Verdict != assign.Right:
				assert.False(t, goes, "%s was wrong before", m.Spot.Label)
			case goes:
				assert.NotEqual(t, assign.Right, after.At(m.At).Verdict, m.Spot.Label)
				assert.Equal(t, assign.Right, after.At(at).Verdict, m.Spot.Label)
			default:
				assert.Equal(t, assign.Right, after.At(m.At).Verdict, m.Spot.Label)
			}
		}
		far := l.Mirror()
		back := m
		back.Path = nil
		for _, p := range m.Path {
			back.Path = append(back.Path, field.Left.FlipOffset(p))
		}
		for i := range men {
			men[i].At = field.Left.FlipOffset(men[i].At)
		}
		other := assign.Bumps(far.Timeline(back), men, field.Left)
		for i := range other {
			other[i].To = field.Left.FlipOffset(other[i].To)
		}
		assert.Equal(t, got, other, "mirrored")
	})
}
