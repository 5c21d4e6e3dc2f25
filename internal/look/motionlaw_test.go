package look_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// NFHS 7-2-7 as quoted, NCAA 7-1-4-b alike: one man, not towards the line; who
// started on the line and is not set again must be 5 yd deep.
func TestMotion(t *testing.T) {
	l := eleven(field.NFHS, nil)
	for _, c := range []struct {
		what, who string
		kind      look.MotionKind
		to        field.Offset
		want      string
	}{
		{"the back goes out", "B", look.Push, field.At(13, -2), ""},
		{"the slot goes across", "H", look.Jet, field.At(-6, -1), ""},
		{"the slot goes round", "H", look.Orbit, field.At(-6, -4), ""},
		{"the slot comes back", "H", look.Return, field.At(9, -1.4), ""},
		{"half a yard behind the line", "H", look.Straight, field.At(6, -0.5), ""},
		{"on the line", "H", look.Straight, field.At(6, -0.4), "H would be on the line at the snap: at least half a yard behind it"},
		{"on the line, set again", "H", look.Shift, field.At(6, -0.4), ""},
		{"over the line", "H", look.Straight, field.At(6, 1), "H would be beyond the line at the snap: keep him behind it"},
		{"over the line, set again", "H", look.Shift, field.At(6, 1), "H would be beyond the line at the snap: keep him behind it"},
		{"no room to come up before", "B", look.Straight, field.At(2, -3),
			"B would move towards the line at the snap: let him come up before and end flat or going back, or be set again (a shift)"},
		{"straight up, set again", "B", look.Shift, field.At(2, -3), ""},
		{"from the line, not deep enough", "Z", look.Straight, field.At(12, -4.9), "Z starts on the line: 5 yd deep at the snap, or let him be set again as a back"},
		{"from the line, deep enough", "Z", look.Straight, field.At(12, -5), ""},
		{"from the line, set again as a back", "Z", look.Shift, field.At(12, -1), ""},
		{"from the line and back to it", "Z", look.Return, field.At(18, -0.3), ""},
		{"from the line, still coming back", "Z", look.Return, field.At(16, -1), "Z starts on the line: 5 yd deep at the snap, or let him be set again as a back"},
		{"a lineman", "RT", look.Straight, field.At(6, -3), "RT is a lineman: he may not be in motion"},
		{"a lineman, set again", "RT", look.Shift, field.At(6, -3), "RT is a lineman: he may not be in motion"},
		{"the snapper", "SN", look.Straight, field.At(2, -3), "SN is a lineman: he may not be in motion"},
		{"nobody", "K", look.Straight, field.At(2, -3), `no man "K" in this look`},
		{"off the field", "H", look.Push, field.At(27, -2), "H would end off the field at (27, -2): x from -26.67 to 26.67, y from -50 to 0"},
		{"no such kind", "H", "zoom", field.At(12, -1), `no motion is called "zoom": straight, push, jet, orbit, return or shift`},
	} {
		for _, s := range sidesOf {
			of := l
			to := c.to
			want := c.want
			if s == field.Left {
				of, to = l.Mirror(), s.FlipOffset(c.to)
			}
			if c.what == "off the field" && s == field.Left {
				want = "H would end off the field at (-27, -2): x from -26.67 to 26.67, y from -50 to 0"
			}
			assert.Equal(t, want, of.MotionViolation(of.Usual(c.kind, c.who, to)), "%s %s", c.what, s)
		}
	}
}

// The way there: behind the line, on the field, and not up at the end of it.
func TestMotionOnTheWay(t *testing.T) {
	l := eleven(field.NFHS, nil)
	for _, c := range []struct {
		what  string
		m     look.Motion
		wants string
	}{
		{"across the line", look.Motion{Who: "H", Path: path(6, 0.5, 3, -3)}, "H crosses the line of scrimmage at (6, 0.5): keep all of his way behind it"},
		{"over the sideline", look.Motion{Who: "H", Path: path(28, -3, 14, -3)}, "H leaves the field at (28, -3): x from -26.67 to 26.67, y from -50 to 0"},
		{"up the way, flat at the end", look.Motion{Who: "B", Path: path(4, -2, 13, -2)}, ""},
		{"up at the end", look.Motion{Who: "B", Path: path(13, -5, 14, -4)},
			"B would move towards the line at the snap: let him come up before and end flat or going back, or be set again (a shift)"},
		{"back at the end", look.Motion{Who: "B", Path: path(4, -2, 13, -3)}, ""},
		{"nowhere", look.Motion{Who: "B"}, "B goes nowhere: give the place where he is at the snap"},
		{"too slow", look.Motion{Who: "B", Path: path(13, -5), Speed: 0.9}, "B at 0.9 yd/s: 1 to 10, or none for the usual"},
		{"too fast", look.Motion{Who: "B", Path: path(13, -5), Speed: 10.1}, "B at 10.1 yd/s: 1 to 10, or none for the usual"},
		{"no speed at all", look.Motion{Who: "B", Path: path(13, -5), Speed: math.NaN()}, "B at NaN yd/s: 1 to 10, or none for the usual"},
		{"his own speed", look.Motion{Who: "B", Path: path(13, -5), Speed: 8}, ""},
		{"the passer may go", look.Motion{Who: "Q", Path: path(6, -5)}, ""},
		{"he stays", look.Motion{Who: "H", Path: path(9, -1.4)}, ""},
	} {
		assert.Equal(t, c.wants, l.MotionViolation(c.m), c.what)
	}
}

// Whatever is let through is within the rules, judged from the timeline itself
// (NFHS 7-2-6, 7-2-7).
func TestLegalMotionsAreLegal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := anyMotion(t, l)
		assert.Equal(t, l.MotionViolation(m) == "", l.Mirror().MotionViolation(mirrorOf(m)) == "")
		tl := l.Timeline(m)
		if l.MotionViolation(m) != "" || tl.Who() == "" {
			return
		}
		was, _ := l.Find(m.Who)
		assert.False(t, l.Interior(was))
		for k := range 101 {
			p := tl.Place(tl.Start * float64(k) / 100)
			assert.True(t, l.Ball.Inside(p.Offset()))
			if k > 0 && k < 100 {
				assert.LessOrEqual(t, p.Y, max(0, was.At.Y.Yards()))
			}
		}
		if !tl.Moving() {
			assert.LessOrEqual(t, tl.Set, -1.0)
			return
		}
		assert.LessOrEqual(t, tl.Velocity(0).Y, 0.0)
		at := tl.Place(0)
		assert.LessOrEqual(t, at.Y, -0.5)
		if was.Line {
			assert.LessOrEqual(t, at.Y, -5.0)
		}
	})
}
