package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
	"halfline/internal/look"
)

// at is a man off the line, line one on it; x in yards to the right.
func at(tag string, x, y float64) look.Man { return look.Man{Tag: tag, At: field.At(x, y)} }
func line(tag string, x, y float64) look.Man {
	return look.Man{Tag: tag, At: field.At(x, y), Line: true}
}

var middle = field.Ball{Rules: field.NFHS, Hash: field.MiddleHash, Yard: 40}

// spread is a look of the men given, with a snapper and a passer.
func spread(men ...look.Man) look.Look {
	return look.New(middle, append([]look.Man{line("SN", 0, 0), at("Q", 0, -5)}, men...))
}

func tags(ms []look.Man) []string {
	out := []string{}
	for _, m := range ms {
		out = append(out, m.Tag)
	}
	return out
}

// Numbers run from the sideline inwards by where the men stand, whatever they
// are called (trade brief section 1 after its source S3; stacks and bunches
// common practice, no source).
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		what        string
		men         []look.Man
		right, left []string
	}{
		{"2x1", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("B", 1, -5), line("X", -14, 0)}, []string{"Z", "H"}, []string{"X"}},
		{"2x2", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("Y", -8, -1), line("X", -16, 0)}, []string{"Z", "H"}, []string{"X", "Y"}},
		{"the slot on the line, the wide man off it", []look.Man{at("Z", 18, -1), line("H", 9, 0)}, []string{"Z", "H"}, []string{}},
		{"labels say nothing", []look.Man{line("H", 18, 0), at("Z", 9, -1)}, []string{"H", "Z"}, []string{}},
		{"trips", []look.Man{line("Z", 18, 0), at("H", 12, -1), at("Y", 7, -1), line("X", -12, 0)}, []string{"Z", "H", "Y"}, []string{"X"}},
		{"trips with an end", []look.Man{at("Z", 18, -1), at("H", 10, -1), line("Y", 4.5, -0.2)}, []string{"Z", "H", "Y"}, []string{}},
		{"four to a side", []look.Man{line("Z", 20, 0), at("H", 14, -1), at("Y", 9, -1), at("B", 6, -1)}, []string{"Z", "H", "Y", "B"}, []string{}},
		{"stack, Z in front", []look.Man{line("Z", 14, 0), at("H", 14, -2)}, []string{"Z", "H"}, []string{}},
		{"stack, H in front", []look.Man{at("Z", 14, -2), line("H", 14, 0)}, []string{"H", "Z"}, []string{}},
		{"half a yard across is a stack still", []look.Man{at("Z", 14.5, -2), line("H", 14, 0)}, []string{"H", "Z"}, []string{}},
		{"19 inches across is none", []look.Man{at("Z", 14.53, -2), line("H", 14, 0)}, []string{"Z", "H"}, []string{}},
		{"stack inside a wide man", []look.Man{line("Z", 20, 0), at("H", 9, -2), at("Y", 9.2, -1)}, []string{"Z", "Y", "H"}, []string{}},
		{"bunch, point man in the middle", []look.Man{at("Z", 11, -1), line("Y", 9.5, 0), at("H", 8, -1)}, []string{"Z", "Y", "H"}, []string{}},
		{"end and flanker", []look.Man{at("Z", 15, -1), line("Y", 4.5, -0.2)}, []string{"Z", "Y"}, []string{}},
		{"wing beside the tackle", []look.Man{line("X", 14, 0), at("W", 4, -1.5)}, []string{"X", "W"}, []string{}},
		{"wing outside an end", []look.Man{line("Y", 4.5, 0), at("W", 5.5, -1.5)}, []string{"W", "Y"}, []string{}},
		{"wing behind an end's inside leg", []look.Man{line("Y", 4.5, 0), at("W", 4.2, -1.5)}, []string{"Y", "W"}, []string{}},
		{"back in the box", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("B", 3.9, -5)}, []string{"Z", "H"}, []string{}},
		{"back at its edge", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("B", 4, -5)}, []string{"Z", "H", "B"}, []string{}},
		{"back out of the box, outside the slot", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("B", 13, -2)}, []string{"Z", "B", "H"}, []string{}},
		{"back widest", []look.Man{line("Z", 18, 0), at("H", 9, -1), at("B", 22, -1)}, []string{"B", "Z", "H"}, []string{}},
		{"an end makes the box wider", []look.Man{line("Z", 18, 0), line("Y", 4.5, 0), at("B", 5, -5)}, []string{"Z", "Y"}, []string{}},
		{"nobody out", []look.Man{at("B", 1, -5)}, []string{}, []string{}},
		{"linemen never", []look.Man{line("LG", -1.5, 0), line("RG", 1.5, 0), line("RT", 3, 0), line("LT", -3, 0), line("Z", 18, 0)}, []string{"Z"}, []string{}},
		{"a tackle who has pulled away", []look.Man{line("RT", 6, -1), line("Z", 18, 0)}, []string{"Z"}, []string{}},
		{"unknown tags in the line", []look.Man{line("74", 1.5, 0), line("75", 3, 0), line("86", 4.5, 0), line("Z", 18, 0)}, []string{"Z", "86"}, []string{}},
	} {
		for _, s := range []field.Side{field.Right, field.Left} {
			t.Run(c.what+" "+s.String(), func(t *testing.T) {
				l := spread(c.men...)
				if s == field.Left {
					l = l.Mirror()
				}
				assert.Equal(t, c.right, tags(l.Numbers(s)))
				assert.Equal(t, c.left, tags(l.Numbers(s.Other())))
			})
		}
	}
}

// Trade brief 3.3, A4 to A6: motion renumbers; the back counts once he leaves
// the box (common practice, no source).
func TestMotionRenumbers(t *testing.T) {
	before := spread(line("Z", 18, 0), at("H", 9, -1), at("B", 1.5, -5))
	for _, c := range []struct {
		what, who string
		to        field.Offset
		want      []string
	}{
		{"A4 back inside Z", "B", field.At(13, -2), []string{"Z", "B", "H"}},
		{"A5 back outside Z", "B", field.At(22, -1), []string{"B", "Z", "H"}},
		{"A6 slot goes across", "H", field.At(-5, -3), []string{"Z"}},
		{"slot outside Z", "H", field.At(21, -1), []string{"H", "Z"}},
		{"Z comes inside H", "Z", field.At(6, -5), []string{"H", "Z"}},
		{"back stays in the box", "B", field.At(3, -4), []string{"Z", "H"}},
	} {
		for _, s := range []field.Side{field.Right, field.Left} {
			l, to := before, c.to
			if s == field.Left {
				l, to = l.Mirror(), s.FlipOffset(to)
			}
			after := l.With(c.who, to)
			assert.Equal(t, c.want, tags(after.Numbers(s)), "%s %s", c.what, s)
			assert.Equal(t, []string{"Z", "H"}, tags(l.Numbers(s)), "the look before is not changed")
			m, ok := after.Find(c.who)
			assert.True(t, ok)
			assert.False(t, m.Line, "a man in motion is off the line")
		}
	}
	assert.Equal(t, before, before.With("nobody", field.At(1, 1)))
	_, ok := before.Find("nobody")
	assert.False(t, ok)
}

// Trade brief section 1: halfway between the last man on the line and #2; no
// apex when #2 is within 2 yd of the last lineman; over trips between #2 and #3
// (common practice, no source).
func TestApex(t *testing.T) {
	for _, c := range []struct {
		what string
		men  []look.Man
		x    float64
		ok   bool
	}{
		{"A1", []look.Man{line("RT", 3, 0), line("Z", 18, 0), at("H", 9, -1)}, 6, true},
		{"linemen left out", []look.Man{line("Z", 18, 0), at("H", 9, -1)}, 6, true},
		{"H at 8", []look.Man{line("Z", 18, 0), at("H", 8, -1)}, 5.5, true},
		{"over trips", []look.Man{line("Z", 18, 0), at("H", 11, -1), at("Y", 7, -1)}, 9, true},
		{"over trips with an end", []look.Man{at("Z", 18, -1), at("H", 10, -1), line("Y", 4.5, 0)}, 7.25, true},
		{"the end is #2", []look.Man{at("Z", 15, -1), line("Y", 4.5, 0)}, 0, false},
		{"2 yd from the tackle is attached", []look.Man{line("Z", 15, 0), at("H", 5, -1)}, 0, false},
		{"an inch more is not", []look.Man{line("Z", 15, 0), at("H", 5.03, -1)}, (3 + 5.0278) / 2, true},
		{"one receiver", []look.Man{line("Z", 18, 0)}, 0, false},
		{"nobody out", nil, 0, false},
	} {
		for _, s := range []field.Side{field.Right, field.Left} {
			l := spread(c.men...)
			if s == field.Left {
				l = l.Mirror()
			}
			x, ok := l.Apex(s)
			assert.Equal(t, c.ok, ok, "%s %s", c.what, s)
			assert.InDelta(t, c.x, x.Yards(), 1.0/36, "%s %s", c.what, s)
		}
	}
}

// Trade brief section 1: the box ends 1 yd outside the last man on the line;
// tackle about x = 3, tight end about 4.5 (common practice, no source).
func TestBoxEdge(t *testing.T) {
	for _, c := range []struct {
		what  string
		men   []look.Man
		right float64
		left  float64
	}{
		{"only a snapper", nil, 4, 4},
		{"tackles shown", []look.Man{line("RT", 3.2, 0), line("LT", -2.8, 0)}, 4.2, 3.8},
		{"a tight end", []look.Man{line("RT", 3, 0), line("Y", 4.5, 0)}, 5.5, 4},
		{"an end and another beside him", []look.Man{line("RT", 3, 0), line("Y", 4.5, 0), line("U", 6, 0)}, 7, 4},
		{"a split man does not widen it", []look.Man{line("RT", 3, 0), line("Z", 18, 0)}, 4, 4},
		{"2 yd is the widest gap in a line", []look.Man{line("Y", 5, 0)}, 6, 4},
		{"more is a split", []look.Man{line("Y", 5.1, 0)}, 4, 4},
		{"a man at the snapper's hip is no tackle", []look.Man{line("RG", 0.9, 0)}, 4, 4},
	} {
		for _, s := range []field.Side{field.Right, field.Left} {
			l := spread(c.men...)
			if s == field.Left {
				l = l.Mirror()
			}
			assert.InDelta(t, c.right, l.BoxEdge(s).Yards(), 0.5/36, "%s %s", c.what, s)
			assert.InDelta(t, c.left, l.BoxEdge(s.Other()).Yards(), 0.5/36, "%s %s", c.what, s)
			assert.Equal(t, l.BoxEdge(s)-field.Yard, l.LastOnLine(s))
		}
	}
	l := spread(line("Y", 4.5, 0))
	l.Box, l.BoxSide = 6*field.Yard, field.Right
	assert.Equal(t, 6*field.Yard, l.BoxEdge(field.Right), "a staff's own edge")
	assert.Equal(t, 4*field.Yard, l.BoxEdge(field.Left), "on its side only")
	assert.Equal(t, 6*field.Yard, l.Mirror().BoxEdge(field.Left))
}

func TestBackfield(t *testing.T) {
	l := spread(line("Z", 18, 0), at("H", 9, -1), at("B", 1.5, -5), at("F", -1.5, -5), at("U", 1.5, -7))
	assert.Equal(t, []string{"B", "U", "F"}, tags(l.Backfield(field.Right)), "nearest the side first, then the shallower")
	assert.Equal(t, []string{"F", "B", "U"}, tags(l.Backfield(field.Left)))
	assert.Equal(t, []string{"F", "U"}, tags(l.With("B", field.At(6, -5)).Backfield(field.Left)), "out of the box he is a number")
	assert.Empty(t, spread(at("W", 3.6, -2)).Backfield(field.Right), "a wing is no back")
	wide := spread(line("Y", -4.5, 0), at("B", 5, -5))
	assert.Empty(t, wide.Backfield(field.Right), "out of the box on the right, whatever its width on the left")
	assert.Equal(t, []string{"B"}, tags(wide.Numbers(field.Right)))
	assert.Equal(t, []string{"B"}, tags(wide.Mirror().Numbers(field.Left)))
	assert.Equal(t, []string{"W"}, tags(spread(at("W", 3.6, -2.5)).Backfield(field.Right)), "2½ deep he is a back")
	assert.Empty(t, spread(at("W", 3.6, -2.5)).Numbers(field.Right))
}
