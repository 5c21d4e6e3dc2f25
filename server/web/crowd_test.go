package web

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestHostsThatNoBrowserSends(t *testing.T) {
	s := &Server{names: map[string]bool{"localhost": true}}
	for _, host := range []string{"", ":", "localhost:", ":80", "[fe80::1%a]:80", "[fe80::1%a; script-src *]:80", "localhost:80:80", "[localhost",
		"localhost/", "localhost\x00"} {
		assert.False(t, s.hostOK(host), host)
	}
}

// enterAll lets guests in until there is no room.
func enterAll(c *crowd, addr string, most int) (in []*guest) {
	for range most {
		g, ok := c.enter(addr)
		if !ok {
			break
		}
		in = append(in, g)
	}
	return in
}

func TestCrowdOfOneAddress(t *testing.T) {
	c := newCrowd()
	silent := enterAll(c, "203.0.113.7", 5000)
	require.Len(t, silent, 100, "so many may stand there without a word")
	assert.Len(t, enterAll(c, "203.0.113.8", 1), 1, "others come in meanwhile")
	for i, g := range silent {
		require.True(t, g.greet(fmt.Sprint(i)))
	}
	more := enterAll(c, "203.0.113.7", 5000)
	require.Len(t, more, 100, "200 in all")
	for i, g := range more {
		require.True(t, g.greet(fmt.Sprint(i+100)))
	}
	_, ok := c.enter("203.0.113.7")
	require.False(t, ok)
	more[0].leave()
	_, ok = c.enter("203.0.113.7")
	require.True(t, ok)
}

func TestCrowdInAll(t *testing.T) {
	c := newCrowd()
	for i := range 15 {
		for j, g := range enterAll(c, fmt.Sprintf("203.0.113.%d", i), 100) {
			require.True(t, g.greet(fmt.Sprint(i, j)))
		}
	}
	own := enterAll(c, "127.0.0.1", 5000)
	assert.Len(t, own, 500, "this machine's own fill the rest: behind a proxy on it they are everybody")
	assert.Empty(t, enterAll(c, "::1", 1))
	own[0].leave()
	assert.Len(t, enterAll(c, "::1", 5), 1)
}

func TestCrowdOfOneToken(t *testing.T) {
	c := newCrowd()
	in := enterAll(c, "127.0.0.1", 8)
	for i, g := range in {
		require.Equal(t, i < 6, g.greet("m1"))
	}
	in[0].leave()
	require.True(t, in[7].greet("m1"))
	require.False(t, in[6].greet("m1"))
	require.True(t, in[6].greet("m2"))
}

// TestCrowdForgetsWhoHasGone: whatever comes and goes, nothing is left.
func TestCrowdForgetsWhoHasGone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := newCrowd()
		var in []*guest
		for range rapid.IntRange(1, 300).Draw(r, "steps") {
			switch i := rapid.IntRange(-2, len(in)-1).Draw(r, "who"); {
			case i < 0:
				if g, ok := c.enter(rapid.SampledFrom([]string{"a", "b", "::1"}).Draw(r, "addr")); ok {
					in = append(in, g)
				}
			case !in[i].greeted && rapid.Bool().Draw(r, "greet"):
				in[i].greet(rapid.SampledFrom([]string{"m", "n"}).Draw(r, "member"))
			default:
				in[i].leave()
				in = append(in[:i], in[i+1:]...)
			}
			require.Equal(r, len(in), c.all)
		}
		for _, g := range in {
			g.leave()
		}
		require.Zero(r, c.all)
		require.Empty(r, c.byAddr)
		require.Empty(r, c.newAddr)
		require.Empty(r, c.byToken)
	})
}
