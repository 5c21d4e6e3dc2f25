package look_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// anyLook draws a look, legal or not: men anywhere on their side of the line.
func anyLook(t *rapid.T) look.Look {
	b := field.Ball{Rules: rapid.SampledFrom(field.AllRules).Draw(t, "rules"),
		Hash: rapid.SampledFrom([]field.Hash{field.LeftHash, field.MiddleHash, field.RightHash}).Draw(t, "hash"),
		Yard: rapid.IntRange(1, 99).Draw(t, "yard")}
	men := []look.Man{line("SN", 0, 0)}
	for _, tag := range []string{"Q", "B", "F", "H", "X", "Y", "Z", "RT", "LT", "77"} {
		if !rapid.Bool().Draw(t, "with "+tag) {
			continue
		}
		o := field.Offset{X: field.Inches(rapid.IntRange(-26*36, 26*36).Draw(t, "x")), Y: -field.Inches(rapid.IntRange(0, 8*36).Draw(t, "y"))}
		men = append(men, look.Man{Tag: tag, At: b.Clamp(o), Line: rapid.Bool().Draw(t, "line")})
	}
	l := look.New(b, men)
	if rapid.IntRange(0, 3).Draw(t, "own box") == 0 {
		l.Box, l.BoxSide = field.Inches(rapid.IntRange(36, 300).Draw(t, "box")), rapid.SampledFrom([]field.Side{field.Left, field.Right}).Draw(t, "box side")
	}
	return l
}

// facts is everything that a look tells of a side.
func facts(l look.Look, s field.Side) string {
	x, ok := l.Apex(s)
	return fmt.Sprint(tags(l.Numbers(s)), tags(l.Backfield(s)), x, ok, l.BoxEdge(s), l.LastOnLine(s), l.Tackle(s))
}

func TestMirrorLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := l.Mirror()
		for _, s := range []field.Side{field.Left, field.Right} {
			if facts(l, s) != facts(m, s.Other()) {
				t.Fatalf("%s: %s; mirrored %s", s, facts(l, s), facts(m, s.Other()))
			}
		}
		assert.Equal(t, l.Violations(), m.Violations())
		assert.ElementsMatch(t, l.Notes(), m.Notes()) // left side first: the order follows the side
		assert.Equal(t, l, m.Mirror(), "mirrored twice")
	})
}

func TestListingOrderSaysNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		men := rapid.Permutation(slices.Clone(l.Men)).Draw(t, "men")
		again := look.New(l.Ball, men)
		again.Box, again.BoxSide = l.Box, l.BoxSide
		assert.Equal(t, l, again)
		assert.Equal(t, l.Violations(), again.Violations())
	})
}

func TestYardLineSaysNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		m := l
		m.Ball.Yard = rapid.IntRange(1, 99).Draw(t, "other yard")
		for _, s := range []field.Side{field.Left, field.Right} {
			assert.Equal(t, facts(l, s), facts(m, s))
		}
		assert.Equal(t, l.Violations(), m.Violations())
	})
}

// Every man is counted once at most, on one side at most; a man is never
// numbered and in the backfield at once; numbers run inwards, but for stacks.
func TestNobodyIsCountedTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		seen := map[string]bool{}
		for _, s := range []field.Side{field.Left, field.Right} {
			n := l.Numbers(s)
			for i, m := range n {
				if seen[m.Tag] {
					t.Fatalf("%s twice", m.Tag)
				}
				seen[m.Tag] = true
				if s.OutInches(m.At.X) <= 0 || l.Interior(m) {
					t.Fatalf("%s is no receiver of the %s", m.Tag, s)
				}
				if i > 0 && s.OutInches(m.At.X)-s.OutInches(n[i-1].At.X) > field.Yard/2 {
					t.Fatalf("%s is outside of %s", m.Tag, n[i-1].Tag)
				}
			}
		}
		for _, m := range l.Backfield(field.Right) {
			if seen[m.Tag] {
				t.Fatalf("%s is a number and in the backfield", m.Tag)
			}
		}
		assert.ElementsMatch(t, tags(l.Backfield(field.Right)), tags(l.Backfield(field.Left)))
	})
}

// Moving a man along the field within his side never changes who is out there,
// unless it takes him in or out of a line or the backfield.
func TestDepthOfASplitManOnlyOrdersStacks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		for _, s := range []field.Side{field.Left, field.Right} {
			for _, m := range l.Numbers(s) {
				if m.Line || s.OutInches(m.At.X) < l.BoxEdge(s) {
					continue
				}
				moved := l.With(m.Tag, field.Offset{X: m.At.X, Y: -field.Inches(rapid.IntRange(0, 300).Draw(t, "y"))})
				assert.ElementsMatch(t, tags(l.Numbers(s)), tags(moved.Numbers(s)))
			}
		}
	})
}
