package look_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// Times by hand for the back who runs flat to the sideline at 5 yd/s: he counts
// when he leaves the box, 4 yd out, and is #2 when he is more than half a man
// outside of the slot (common practice, no source). A place belongs to the inch
// it is nearest to, so the change comes half an inch before.
func TestRenumberingsInTime(t *testing.T) {
	const inch = 1.0 / 36
	for _, s := range sidesOf {
		l, m := both(twins(), look.Motion{Who: "B", Kind: look.Push, Path: path(22, -5)}, s)
		got := l.Timeline(m).Renumberings()
		want := []struct {
			t    float64
			tags []string
		}{
			{-(22 - (4 - inch/2)) / 5, []string{"Z", "H", "B"}},
			{-(22 - (9.5 + inch/2)) / 5, []string{"Z", "B", "H"}},
			{-(22 - (18.5 + inch/2)) / 5, []string{"B", "Z", "H"}},
		}
		require.Len(t, got, len(want))
		for i, w := range want {
			near, far := got[i].Right, got[i].Left
			if s == field.Left {
				near, far = far, near
			}
			assert.InDelta(t, w.t, got[i].T, 1e-9)
			assert.Equal(t, w.tags, near)
			assert.Equal(t, []string{"X"}, far)
			assert.Equal(t, w.tags, tags(got[i].Look.Numbers(s)))
		}
	}
}

// The slot goes across: no number while he is behind the line, #2 of the other
// side once he is out there (trade brief 3.3, A6).
func TestJetRenumbersBothSides(t *testing.T) {
	for _, s := range sidesOf {
		l, m := both(twins(), look.Motion{Who: "H", Kind: look.Jet, Path: path(-7, -1)}, s)
		r := l.Timeline(m).Renumberings()
		require.NotEmpty(t, r)
		near, far := func(i int) []string { return r[i].Right }, func(i int) []string { return r[i].Left }
		if s == field.Left {
			near, far = far, near
		}
		assert.Equal(t, []string{"Z"}, near(0))
		assert.Equal(t, []string{"X"}, far(0))
		assert.Equal(t, []string{"X", "H"}, far(len(r)-1))
	}
}

// An end who leaves the line narrows the box behind him: the numbering changes as
// he sets off, not as he moves (common practice, no source).
func TestSettingOffRenumbers(t *testing.T) {
	for _, s := range sidesOf {
		l, m := both(spread(line("Y", 4.5, 0), line("Z", 16, 0), at("B", 4.7, -5)), look.Motion{Who: "Y", Kind: look.Shift, Path: path(4.5, -5)}, s)
		tl := l.Timeline(m)
		r := tl.Renumberings()
		require.NotEmpty(t, r)
		assert.Equal(t, tl.Start, r[0].T)
		assert.Contains(t, tags(r[0].Look.Numbers(s)), "B")
	}
}

// Against brute force: every four milliseconds the numbering is that of the last
// renumbering before, and each renumbering is a change.
func TestRenumberingsAreAllThereAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := anyMotion(t, l)
		m.Speed = rapid.Float64Range(6, look.Fastest).Draw(t, "fast") // fewer samples
		tl := l.Timeline(m)
		rs := tl.Renumberings()
		right, left := tags(l.Numbers(field.Right)), tags(l.Numbers(field.Left))
		next, last := 0, tl.Start-1
		check := func(when float64) {
			for next < len(rs) && rs[next].T <= when {
				if slices.Equal(rs[next].Right, right) && slices.Equal(rs[next].Left, left) {
					t.Fatalf("%+v changes nothing", rs[next])
				}
				if rs[next].T < last {
					t.Fatal("out of order")
				}
				right, left, last = rs[next].Right, rs[next].Left, rs[next].T
				next++
			}
			now := tl.At(when)
			if r := tags(now.Numbers(field.Right)); !slices.Equal(r, right) {
				t.Fatalf("at %v right is %v, last renumbering says %v", when, r, right)
			}
			if r := tags(now.Numbers(field.Left)); !slices.Equal(r, left) {
				t.Fatalf("at %v left is %v, last renumbering says %v", when, r, left)
			}
		}
		var when []float64
		for ms := 0; float64(ms) <= -tl.Start*1000+5; ms += 4 {
			when = append(when, tl.Start+float64(ms)/1000)
		}
		for i := range rs {
			if rs[i].T != tl.Start && rs[i].T != tl.Set {
				when = append(when, rs[i].T-1e-9)
			}
			when = append(when, rs[i].T+1e-9)
		}
		slices.Sort(when)
		for _, w := range when {
			if !slices.ContainsFunc(rs, func(r look.Renumbering) bool { return w != r.T && math.Abs(w-r.T) < 1e-10 }) {
				check(w) // nearer than that, rounding decides
			}
		}
		assert.Equal(t, len(rs), next)
	})
}
