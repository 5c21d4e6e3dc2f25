package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// twins is the look of the worked cases, with a passer in the gun.
func twins() look.Look {
	return spread(line("Z", 18, 0), at("H", 9, -1), at("B", 1.5, -5), line("X", -14, 0))
}

// both gives a look and a motion as they are on a side, drawn for the right.
func both(l look.Look, m look.Motion, s field.Side) (look.Look, look.Motion) {
	if s == field.Right {
		return l, m
	}
	out := m
	out.Path = nil
	for _, p := range m.Path {
		out.Path = append(out.Path, s.FlipOffset(p))
	}
	return l.Mirror(), out
}

var sidesOf = []field.Side{field.Right, field.Left}

func path(xy ...float64) []field.Offset {
	var out []field.Offset
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, field.At(xy[i], xy[i+1]))
	}
	return out
}

// The way of a kind where only the place is said. That a jet is flat in front
// of the passer, an orbit goes round behind him and a return comes back is the
// meaning of the words; how far off is common practice, no source.
func TestUsualWays(t *testing.T) {
	gun := twins()
	under := spread(line("Z", 18, 0), at("H", 9, -1), at("B", 1.5, -5))
	under = under.With("Q", field.At(0, -0.5))
	for _, c := range []struct {
		what string
		l    look.Look
		kind look.MotionKind
		who  string
		to   field.Offset
		want []field.Offset
	}{
		{"straight at his depth", gun, look.Straight, "B", field.At(13, -5), path(13, -5)},
		{"comes up first, flat at the end", gun, look.Straight, "B", field.At(13, -2), path(4.5, -2, 13, -2)},
		{"little room: flat for the last yard", gun, look.Push, "B", field.At(4.5, -1), path(3.5, -1, 4.5, -1)},
		{"no room", gun, look.Push, "B", field.At(2, -3), path(2, -3)},
		{"backward", gun, look.Push, "H", field.At(14, -2), path(14, -2)},
		{"jet, flat at his depth", gun, look.Jet, "H", field.At(-6, -1), path(0, -1, -6, -1)},
		{"jet, in front of the passer though he ends deep", gun, look.Jet, "H", field.At(-6, -6), path(0, -4, -6, -6)},
		{"jet, not yet at the passer", gun, look.Jet, "H", field.At(3, -3), path(3, -3)},
		{"jet behind a passer under the snapper", under, look.Jet, "H", field.At(-6, -1), path(0, -2, -1, -1, -6, -1)},
		{"orbit, to the passer's back", gun, look.Orbit, "H", field.At(0, -7), path(2, -6.5, 0, -7)},
		{"orbit, round to the other side", gun, look.Orbit, "H", field.At(-8, -5), path(2, -6.5, 0, -7, -2, -6.5, -3.5, -5, -8, -5)},
		{"orbit of the passer's neighbour", gun, look.Orbit, "B", field.At(-8, -7), path(0, -7, -2, -6.5, -8, -7)},
		{"return, back where he was", gun, look.Return, "H", field.At(9, -1), path(4, -1, 9, -1)},
		{"return, still on his way back", gun, look.Return, "H", field.At(7, -1), path(4, -1, 7, -1)},
		{"return of a man on the line: off it", gun, look.Return, "Z", field.At(18, 0), path(13, -1, 18, 0)},
		{"return of the back: outwards, for the ball is near", gun, look.Return, "B", field.At(1.5, -5), path(6.5, -5, 1.5, -5)},
		{"shift, straight there", gun, look.Shift, "B", field.At(7, -1), path(7, -1)},
	} {
		for _, s := range sidesOf {
			l, want := both(c.l, look.Motion{Path: c.want}, s)
			m := l.Usual(c.kind, c.who, s.FlipOffset(c.to))
			assert.Equal(t, want.Path, m.Path, "%s %s", c.what, s)
			assert.Equal(t, c.kind, m.Kind)
			assert.Equal(t, c.who, m.Who)
			assert.Zero(t, m.Speed)
		}
	}
	bare := look.New(middle, []look.Man{line("SN", 0, 0), at("H", 9, -1)})
	assert.Equal(t, path(2, -6.5, 0, -7), bare.Usual(look.Orbit, "H", field.At(0, -7)).Path, "no passer shown: where one in the gun would be")
	assert.Equal(t, path(3, -3), gun.Usual(look.Jet, "K", field.At(3, -3)).Path, "nobody")
}

// Times by hand: way over speed, ending at the snap.
func TestTimelineInTime(t *testing.T) {
	for _, s := range sidesOf {
		l, m := both(twins(), look.Motion{Who: "H", Kind: look.Jet, Path: path(-5, -1)}, s)
		x := float64(s)
		tl := l.Timeline(m)
		assert.Equal(t, "H", tl.Who())
		assert.InDelta(t, -2.0, tl.Start, 1e-12, "14 yd at 7 yd/s")
		assert.Zero(t, tl.Set)
		assert.True(t, tl.Moving())
		assert.Equal(t, field.Vec{}, tl.Velocity(-2.1))
		assert.InDelta(t, -7*x, tl.Velocity(-2).X, 1e-9)
		assert.InDelta(t, -7*x, tl.Velocity(0).X, 1e-9, "he keeps it at the snap")
		assert.Equal(t, tl.Velocity(0), tl.Velocity(0.3))
		assert.Equal(t, l, tl.At(-2.1))
		assert.InDelta(t, 2*x, tl.Place(-1).X, 1e-9)
		h, _ := tl.At(-1).Find("H")
		assert.Equal(t, s.FlipOffset(field.At(2, -1)), h.At)
		assert.Equal(t, l.With("H", s.FlipOffset(field.At(-5, -1))), tl.At(0))
		assert.Equal(t, tl.At(0), tl.At(1), "what follows the snap is the play")

		m.Speed = 5.6
		assert.InDelta(t, -2.5, l.Timeline(m).Start, 1e-12, "14 yd at his own 5.6")

		l, m = both(twins(), look.Motion{Who: "H", Kind: look.Orbit, Path: path(9, -5, 6, -9, 0, -9)}, s)
		tl = l.Timeline(m)
		assert.InDelta(t, -(4.0+5+6)/5, tl.Start, 1e-12, "three parts of 4, 5 and 6 yd at 5 yd/s")
		assert.InDelta(t, -5, tl.Velocity(-2.5).Y, 1e-9)
		assert.InDelta(t, -3*x, tl.Velocity(-2.2).X, 1e-9)
		assert.InDelta(t, -4, tl.Velocity(-2.2).Y, 1e-9)
		assert.InDelta(t, -5*x, tl.Velocity(0).X, 1e-9)
	}
}

// NFHS 7-2-6: set for a second before the snap. A man who is set again may be on
// the line; a return that has come back is as it was.
func TestSetAgain(t *testing.T) {
	for _, s := range sidesOf {
		l, m := both(twins(), look.Motion{Who: "H", Kind: look.Shift, Path: path(12, -1)}, s)
		tl := l.Timeline(m)
		assert.InDelta(t, -1.0, tl.Set, 1e-12)
		assert.InDelta(t, -2.0, tl.Start, 1e-12, "3 yd at 3 yd/s before he is set")
		assert.False(t, tl.Moving())
		assert.Equal(t, field.Vec{}, tl.Velocity(-1), "set")
		assert.Equal(t, field.Vec{}, tl.Velocity(0))
		assert.NotEqual(t, field.Vec{}, tl.Velocity(-1.01))
		assert.Equal(t, tl.At(-1), tl.At(0))

		on := func(who string, kind look.MotionKind, p ...float64) bool {
			l, m := both(twins(), look.Motion{Who: who, Kind: kind, Path: path(p...)}, s)
			tl := l.Timeline(m)
			o, ok := tl.At((tl.Start + tl.Set) / 2).Find(who)
			require.True(t, ok)
			assert.False(t, o.Line, "%s on the way", who)
			o, _ = tl.At(0).Find(who)
			return o.Line
		}
		assert.False(t, on("H", look.Shift, 12, -1))
		assert.True(t, on("H", look.Shift, 12, -0.3), "up on the line")
		assert.True(t, on("Z", look.Shift, 14, 0), "along the line")
		assert.False(t, on("Z", look.Shift, 14, -1), "off the line")
		assert.True(t, on("Z", look.Return, 14, -1, 18, 0), "back where he was")
		assert.False(t, on("Z", look.Return, 12, -6, 14, -6), "on his way back")

		l, m = both(twins(), look.Motion{Who: "H", Kind: look.Return, Path: path(4, -1, 9, -1)}, s)
		tl = l.Timeline(m)
		assert.InDelta(t, -3.0, tl.Start, 1e-12, "10 yd at 5 yd/s, then a second")
		assert.Equal(t, l, tl.At(0))
		assert.Equal(t, field.Vec{}, tl.Velocity(0))
		m.Path[1] = s.FlipOffset(field.At(7, -1))
		tl = l.Timeline(m)
		assert.True(t, tl.Moving(), "snapped on the way back")
		assert.InDelta(t, 5*float64(s), tl.Velocity(0).X, 1e-9)
	}
}

func TestNobodyMoves(t *testing.T) {
	l := twins()
	for _, m := range []look.Motion{{}, {Who: "K", Path: path(3, -3)}, {Who: "H"}, {Who: "H", Path: path(9, -1, 9, -1)}} {
		tl := l.Timeline(m)
		assert.Empty(t, tl.Who())
		assert.False(t, tl.Moving())
		assert.Zero(t, tl.Start)
		assert.Equal(t, l, tl.At(0))
		assert.Equal(t, l, tl.At(-1))
		assert.Equal(t, field.Vec{}, tl.Velocity(0))
		assert.Equal(t, field.Vec{}, tl.Place(0))
		assert.Empty(t, tl.Renumberings())
	}
}

// anyMotion draws a motion of a man of the look, legal or not.
func anyMotion(t *rapid.T, l look.Look) look.Motion {
	who := rapid.SampledFrom(l.Men).Draw(t, "who").Tag
	kind := rapid.SampledFrom(look.MotionKinds).Draw(t, "kind")
	place := func() field.Offset {
		return l.Ball.Clamp(field.Offset{X: field.Inches(rapid.IntRange(-700, 700).Draw(t, "x")), Y: -field.Inches(rapid.IntRange(0, 300).Draw(t, "y"))})
	}
	m := l.Usual(kind, who, place())
	if rapid.Bool().Draw(t, "own way") {
		m.Path = nil
		for range rapid.IntRange(1, 4).Draw(t, "places") {
			m.Path = append(m.Path, place())
		}
	}
	if rapid.Bool().Draw(t, "own speed") {
		m.Speed = rapid.Float64Range(look.Slowest, look.Fastest).Draw(t, "speed")
	}
	return m
}

// The motion mirrors with the look: every time the same, every place turned.
func TestMotionMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := anyMotion(t, l)
		a, b := l.Timeline(m), l.Mirror().Timeline(mirrorOf(m))
		assert.Equal(t, a.Start, b.Start)
		assert.Equal(t, a.Set, b.Set)
		when := rapid.Float64Range(a.Start-0.5, 0.5).Draw(t, "when")
		assert.Equal(t, a.At(when), b.At(when).Mirror())
		assert.Equal(t, field.Left.Flip(a.Velocity(when)).Norm(), b.Velocity(when).Norm())
		ra, rb := a.Renumberings(), b.Renumberings()
		require.Len(t, rb, len(ra))
		for i := range ra {
			assert.Equal(t, ra[i].T, rb[i].T)
			assert.Equal(t, ra[i].Right, rb[i].Left)
			assert.Equal(t, ra[i].Left, rb[i].Right)
			assert.Equal(t, ra[i].Look, rb[i].Look.Mirror())
		}
		to := m.Path[len(m.Path)-1]
		if o, _ := l.Find(m.Who); o.At.X != 0 || to.X != 0 { // behind the ball neither side is nearer
			assert.Equal(t, mirrorOf(l.Usual(m.Kind, m.Who, to)), l.Mirror().Usual(m.Kind, m.Who, field.Left.FlipOffset(to)))
		}
	})
}

func mirrorOf(m look.Motion) look.Motion {
	m.Speed, m.Path = 0+m.Speed, append([]field.Offset(nil), m.Path...)
	for i := range m.Path {
		m.Path[i] = field.Left.FlipOffset(m.Path[i])
	}
	return m
}

// A man runs at one speed all the way, ends in time, and never leaves his way.
func TestTimelineLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := anyMotion(t, l)
		tl := l.Timeline(m)
		if tl.Who() == "" {
			return
		}
		speed := m.Speed
		if speed == 0 {
			speed = m.Kind.Usual()
		}
		assert.Less(t, tl.Start, 0.0)
		if tl.Moving() {
			assert.InDelta(t, speed, tl.Velocity(0).Norm(), 1e-9)
		} else {
			assert.LessOrEqual(t, tl.Set, -1.0, "NFHS 7-2-6")
			assert.Zero(t, tl.Velocity(0).Norm())
			for _, when := range []float64{tl.Set, tl.Set / 2, 0} {
				assert.Equal(t, tl.At(0), tl.At(when))
			}
		}
		when := rapid.Float64Range(tl.Start-0.1, 0).Draw(t, "when")
		step := tl.Place(when + 1.0/64).Dist(tl.Place(when))
		assert.LessOrEqual(t, step, speed/64+1e-9)
		now, _ := tl.At(when).Find(m.Who)
		assert.LessOrEqual(t, now.At.Vec().Dist(tl.Place(when)), 0.5/36*1.42)
		for _, o := range tl.At(when).Men {
			if was, _ := l.Find(o.Tag); o.Tag != m.Who && o != was {
				t.Fatalf("%s moved too", o.Tag)
			}
		}
		end, _ := tl.At(0).Find(m.Who)
		assert.Equal(t, m.Path[len(m.Path)-1], end.At)
	})
}
