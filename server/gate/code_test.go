package gate

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCodesAreDrawnFromTheAlphabetEvenly(t *testing.T) {
	assert.Len(t, symbols, 28)
	for _, never := range "01LAEIOU" {
		assert.NotContains(t, symbols, string(never), "misread, or makes words")
	}
	counts := map[rune]int{}
	const codes, digits = 5000, 8
	for range codes {
		code, err := draw(digits)
		require.NoError(t, err)
		require.Len(t, code, digits)
		for _, r := range code {
			require.Contains(t, symbols, string(r))
			counts[r]++
		}
	}
	// Pearson's chi-squared over 28 classes: 27 degrees of freedom give more
	// than 90 once in 10 million draws (Wilson and Hilferty's approximation).
	want := float64(codes*digits) / 28
	chi := 0.0
	for _, r := range symbols {
		d := float64(counts[r]) - want
		chi += d * d / want
	}
	assert.Less(t, chi, 90.0)
}

func TestCodesHaveTheDigitsAskedFor(t *testing.T) {
	d := newDoor(t)
	assert.Len(t, d.draw("s1", false), 6)
	d.Gate, _ = New(d.store, d.clock.now, 8)
	assert.Len(t, d.draw("s1", false), 8)
}

func TestCodeHoweverItIsTyped(t *testing.T) {
	d := newDoor(t)
	code := d.draw("s1", false)
	rapid.Check(t, func(r *rapid.T) {
		var b strings.Builder
		for _, c := range code {
			b.WriteString(rapid.SampledFrom([]string{"", " ", "-", " - ", "  "}).Draw(r, "between"))
			if rapid.Bool().Draw(r, "small") {
				c += 'a' - 'A'
				if c < 'a' { // a digit has no small form
					c -= 'a' - 'A'
				}
			}
			b.WriteRune(c)
		}
		session, err := d.Code(d.ctx, "a", b.String())
		require.NoError(r, err)
		require.Equal(r, "s1", session)
	})
	d.shut(code + "2")
	d.shut(code[:5])
	d.shut("")
}

func TestCodeEndsAfterTwelveHours(t *testing.T) {
	d := newDoor(t)
	code := d.draw("s1", false)
	lasts := func() bool {
		ok, err := d.Lasts(d.ctx, code)
		require.NoError(t, err)
		return ok
	}
	assert.True(t, lasts())
	d.clock.pass(11 * time.Hour)
	assert.True(t, lasts())
	d.clock.pass(time.Second)
	assert.False(t, lasts(), "too short a time to be shown, though still good")
	d.clock.pass(time.Hour - time.Second)
	d.opens("s1", code)
	d.clock.pass(time.Second)
	d.shut(code)
	ok, err := d.Lasts(d.ctx, "ZZZZZZ")
	require.NoError(t, err)
	assert.False(t, ok)
}

func TestNewCodeEndsTheOldOneUnlessKept(t *testing.T) {
	d := newDoor(t)
	first, elsewhere := d.draw("s1", false), d.draw("s2", false)
	d.restart()
	second := d.draw("s1", true)
	d.opens("s1", first)
	d.opens("s1", second)
	third := d.draw("s1", false)
	d.shut(first)
	d.shut(second)
	d.opens("s1", third)
	d.opens("s2", elsewhere)
}

// TestFaultWhileDrawingShutsNoDoor: whatever goes wrong, some code of the
// session is good.
func TestFaultWhileDrawingShutsNoDoor(t *testing.T) {
	d := newDoor(t)
	old := d.draw("s1", false)
	d.store.noPut.Store(&errDisk)
	_, err := d.Draw(d.ctx, "s1", false)
	require.ErrorIs(t, err, errDisk)
	d.opens("s1", old)
	d.store.noPut.Store(nil)
	d.store.noDelete.Store(&errDisk)
	_, err = d.Draw(d.ctx, "s1", false)
	require.ErrorIs(t, err, errDisk)
	d.opens("s1", old)
}

func TestWhatHasEndedIsSweptAway(t *testing.T) {
	d := newDoor(t)
	for range 100 {
		d.player()
	}
	d.draw("s1", false)
	coach := d.coach()
	d.clock.pass(24 * time.Hour)
	_, err := d.Token(d.ctx, coach)
	require.NoError(t, err)
	player := d.player()
	d.draw("s2", false)
	assert.Len(t, d.kept(), 103-sweepMost+1, "one drawing takes off so many")
	code := d.draw("s2", false)
	assert.Len(t, d.kept(), 3, "coach, player, code")
	for _, token := range []string{coach, player} {
		_, err = d.Token(d.ctx, token)
		require.NoError(t, err)
	}
	d.opens("s2", code)
}
