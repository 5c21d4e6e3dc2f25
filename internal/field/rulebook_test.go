package field

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var allHashes = []Hash{LeftHash, MiddleHash, RightHash}

// The marks across the field of three rulebooks, in yards: NFHS 1-2-3 with the
// field diagram (53 ft 4 in; status R2, several pages agree), NCAA 2-12-7 (60 ft;
// R), NFL Rule 1-1 (70 ft 9 in, 18 ft 6 in between; R). A ball on the left hash:
// arithmetic on them (RC). Sidelines: NFHS 1-1-2, NCAA 1-2-1, NFL 1-1-1 (R).
func TestMarksAcrossTheField(t *testing.T) {
	for _, c := range []struct {
		r                                Rules
		hash, between, short, wide, half float64
	}{
		{NFHS, 17.7778, 17.7778, 17.7778, 35.5556, 26.6667},
		{NCAA, 20, 13.3333, 20, 33.3333, 26.6667},
		{Pro, 23.5833, 6.1667, 23.5833, 29.75, 26.6667},
	} {
		hash := c.r.HashFromSideline()
		assert.InDelta(t, c.hash, hash.Yards(), 5e-5, c.r)
		assert.InDelta(t, c.between, (Width - 2*hash).Yards(), 5e-5, c.r)
		for _, s := range []Side{Left, Right} {
			on, off := Ball{c.r, LeftHash, 40}, Ball{c.r, RightHash, 40}
			if s == Right {
				on, off = off, on
			}
			assert.InDelta(t, c.short, on.Sideline(s).Yards(), 5e-5, "%s, ball on the %s hash", c.r, s)
			assert.InDelta(t, c.wide, off.Sideline(s).Yards(), 5e-5, "%s, ball on the other hash", c.r)
			assert.InDelta(t, c.half, Ball{c.r, MiddleHash, 40}.Sideline(s).Yards(), 5e-5)
			wide, ok := on.FieldSide()
			assert.True(t, ok)
			assert.Equal(t, s.Other(), wide, "the wide side is away from the hash")
		}
		for _, h := range allHashes {
			b := Ball{c.r, h, 40}
			assert.Equal(t, Width, b.Sideline(Left)+b.Sideline(Right))
		}
	}
	high := Ball{NFHS, LeftHash, 40}
	assert.Equal(t, 2*high.Sideline(Left), high.Sideline(Right), "high school: exactly two to one")
}

// Animation code that circulates with open tracking data has the pro hashes 6.6
// yd apart, at 23.3667 and 29.9667; the rule says 6.1667.
func TestProHashesAreTheRules(t *testing.T) {
	b := Ball{Pro, LeftHash, 40}
	assert.NotEqual(t, FromYards(23.3667), b.Sideline(Left))
	assert.Equal(t, FromYards(23.5833), b.Sideline(Left))
	assert.Equal(t, Inches(18*12+6), Width-2*Pro.HashFromSideline())
}

// The top of the numbers is 9 yd from the sideline in NCAA (1-2-1-i, status R)
// and at the nine-yard marks in NFHS (7-2-1, R2). The pro rule puts their bottoms
// 12 yd in (NFL Rule 1, R2), and they are 2 yd tall: it is not 9 everywhere.
func TestNumbersOfThreeRulebooks(t *testing.T) {
	for r, top := range map[Rules]Inches{NFHS: 9 * Yard, NCAA: 9 * Yard, Pro: 14 * Yard} {
		assert.Equal(t, top, r.NumbersFromSideline(), r)
		for _, h := range allHashes {
			for _, s := range []Side{Left, Right} {
				b := Ball{r, h, 40}
				assert.Equal(t, b.Sideline(s)-top, b.Numbers(s), "%s %s %s", r, h, s)
				assert.Positive(t, b.Numbers(s), "a ball on the hashes lies inside of the numbers")
			}
		}
	}
}

// All three codes share the outer bounds, 360 ft by 160 ft (120 by 53.3333 yd),
// with end zones 10 yd deep (NFHS 1-1-2; NCAA 1-2-1, 2-12-2/3; NFL 1-1-1; status
// R): whatever place is asked for, the one kept lies on the field, measured from
// its left sideline and its own end line.
func TestNobodyLeavesTheField(t *testing.T) {
	for _, r := range AllRules {
		for _, h := range allHashes {
			for _, yard := range []int{1, 50, 99} {
				b := Ball{r, h, yard}
				require.NoError(t, b.Validate())
				own := float64(yard) + 10 // the ball, from the own end line
				for x := Inches(-2500); x <= 2500; x += 7 {
					for _, y := range []Inches{-9000, -361, -1, 0, 1, 900, 9000} {
						o := b.Clamp(Offset{x, y})
						across, along := (o.X + b.Sideline(Left)).Yards(), own+o.Y.Yards()
						if across < 0 || across > 160./3+1e-9 || along < 0 || along > 120 {
							t.Fatalf("%v: (%d, %d) is kept as %v", b, x, y, o)
						}
					}
				}
				assert.InDelta(t, 120, own+b.Deepest().Yards(), 1e-9)
				assert.InDelta(t, 0, own+b.Behind().Yards(), 1e-9)
			}
		}
	}
}
