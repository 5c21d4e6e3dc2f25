package field

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// NFHS 1-2-3 (53 ft 4 in), NCAA 2-12-7 (60 ft), NFL Rule 1-1 (70 ft 9 in);
// short and wide side of a ball on the left hash follow by arithmetic.
func TestHashesOfThreeRulebooks(t *testing.T) {
	for _, c := range []struct {
		r           Rules
		hashIn      Inches
		short, wide float64 // yards
	}{
		{NFHS, 53*12 + 4, 17.7778, 35.5556},
		{NCAA, 60 * 12, 20, 33.3333},
		{Pro, 70*12 + 9, 23.5833, 29.75},
	} {
		b := Ball{c.r, LeftHash, 40}
		require.NoError(t, b.Validate())
		assert.Equal(t, c.hashIn, b.Sideline(Left), c.r)
		assert.InDelta(t, c.short, b.Sideline(Left).Yards(), 5e-5, c.r)
		assert.InDelta(t, c.wide, b.Sideline(Right).Yards(), 5e-5, c.r)
	}
	// The high-school hashes cut the field into exact thirds.
	assert.Equal(t, Width, 3*NFHS.HashFromSideline())
}

// NCAA 1-2-1 and NFHS 1-1-2: 360 ft x 160 ft, end zones of 10 yd.
func TestOuterBounds(t *testing.T) {
	assert.Equal(t, Inches(160*12), Width)
	assert.Equal(t, Inches(360*12), Goals+2*EndZone)
	for _, r := range AllRules {
		for y := 1; y <= 99; y++ {
			b := Ball{r, MiddleHash, y}
			assert.Equal(t, Goals+2*EndZone, b.Deepest()-b.Behind())
		}
	}
}

func TestFieldAndBoundary(t *testing.T) {
	s, ok := Ball{NFHS, LeftHash, 40}.FieldSide()
	assert.True(t, ok)
	assert.Equal(t, Right, s)
	_, ok = Ball{NFHS, MiddleHash, 40}.FieldSide()
	assert.False(t, ok)
}

func TestMirrorLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Ball{rapid.SampledFrom(AllRules).Draw(t, "rules"),
			rapid.SampledFrom([]Hash{LeftHash, MiddleHash, RightHash}).Draw(t, "hash"), rapid.IntRange(1, 99).Draw(t, "yard")}
		m := Ball{b.Rules, b.Hash.Mirror(), b.Yard}
		o := Offset{Inches(rapid.IntRange(-3000, 3000).Draw(t, "x")), Inches(rapid.IntRange(-5000, 5000).Draw(t, "y"))}
		if b.Sideline(Left) != m.Sideline(Right) || b.Numbers(Left) != m.Numbers(Right) {
			t.Fatal("sidelines do not mirror")
		}
		if b.Inside(o) != m.Inside(Left.FlipOffset(o)) {
			t.Fatal("inside does not mirror")
		}
		c := b.Clamp(o)
		if !b.Inside(c) || b.Clamp(c) != c || (b.Inside(o) && c != o) {
			t.Fatal("clamp must land inside and leave a good place alone")
		}
		y := rapid.Float64Range(-60, 60).Draw(t, "yards")
		if FromYards(-y) != -FromYards(y) {
			t.Fatal("rounding must mirror")
		}
	})
}

func TestRefusals(t *testing.T) {
	assert.ErrorContains(t, Ball{"nba", LeftHash, 40}.Validate(), "want nfhs, ncaa or pro")
	assert.ErrorContains(t, Ball{NFHS, "centre", 40}.Validate(), "want left, middle or right")
	assert.ErrorContains(t, Ball{NFHS, LeftHash, 100}.Validate(), "1 to 99")
	_, err := ParseSide("rigth")
	assert.ErrorContains(t, err, "want left or right")
}
