package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// A count says what the look says, whatever it counted before.
func TestCountIsTheLook(t *testing.T) {
	var c look.Count
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		c.Of(&l)
		for _, s := range []field.Side{field.Left, field.Right} {
			assert.Equal(t, tags(l.Numbers(s)), tags(c.Numbers(s)))
			assert.Equal(t, tags(l.Backfield(s)), tags(c.Backfield(s)))
			assert.Equal(t, l.BoxEdge(s), c.BoxEdge(s))
			assert.Equal(t, l.LastOnLine(s), c.LastOnLine(s))
			x, ok := l.Apex(s)
			y, has := c.Apex(s)
			assert.Equal(t, ok, has)
			assert.Equal(t, x, y)
			for _, m := range l.Men {
				assert.Equal(t, l.Attached(s, m), c.Attached(s, m))
			}
		}
	})
	l := eleven(field.NFHS, nil)
	c.Of(&l)
	assert.Zero(t, testing.AllocsPerRun(100, func() { c.Of(&l) }))
}
