package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
)

// A call names its spots as it likes: who holds the apex of one call holds the
// apex of the next, and coming back brings back what was there.
func TestAHolderKeepsHisPartOverACall(t *testing.T) {
	b, err := book.Shipped("herons")
	require.NoError(t, err)
	s := New("Walk", b)
	s.Members["m"] = Member{Role: Player, In: true}
	n := s.Spots["N"]
	n.By = "m"
	s.Spots["N"] = n
	for _, step := range []struct {
		call, holds string
		spots       []string
	}{
		{"3-sky", "SS", []string{"C", "FS", "SS"}},
		{"3-cloud", "N", []string{"C", "N", "SS"}},
		{"2", "N", []string{"C", "FS", "N"}},
		{"man-free", "N", []string{"C", "FS", "N"}},
		{"two-read", "N", []string{"C", "FS", "N"}},
	} {
		c, ok := b.Call(step.call)
		require.True(t, ok)
		s.Apply(changeCall(&s, b, c))
		assert.Equal(t, step.spots, s.labels(), step.call)
		assert.Equal(t, step.holds, s.SpotOf("m"), step.call)
	}
}
