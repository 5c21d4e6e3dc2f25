package book_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/look"
)

// What a scene may say of a motion: a man and a place, a kind whose usual way he
// goes, places of his own to pass, his own speed.
func TestMotionOfAScene(t *testing.T) {
	at := func(xy ...float64) []field.Offset {
		var out []field.Offset
		for i := 0; i+1 < len(xy); i += 2 {
			out = append(out, field.At(xy[i], xy[i+1]))
		}
		return out
	}
	for _, c := range []struct {
		what string
		want look.Motion
	}{
		{"{who: B, to: [13, -2]}", look.Motion{Who: "B", Kind: look.Straight, Path: at(4.5, -2, 13, -2)}},
		{"{who: B, to: [13, -2], kind: push, speed: 6}", look.Motion{Who: "B", Kind: look.Push, Path: at(4.5, -2, 13, -2), Speed: 6}},
		{"{who: B, to: [13, -2], via: [[5, -3], [11, -2]]}", look.Motion{Who: "B", Kind: look.Straight, Path: at(5, -3, 11, -2, 13, -2)}},
		{"{who: H, to: [8, -1], kind: return}", look.Motion{Who: "H", Kind: look.Return, Path: at(3, -1, 8, -1)}},
		{"{who: H, to: [8, -1], kind: return, via: [[5, -1]]}", look.Motion{Who: "H", Kind: look.Return, Path: at(5, -1, 8, -1)}},
		{"{who: H, to: [-6, -1], kind: jet}", look.Motion{Who: "H", Kind: look.Jet, Path: at(0, -1, -6, -1)}},
		{"{who: H, to: [0, -7], kind: orbit}", look.Motion{Who: "H", Kind: look.Orbit, Path: at(2, -6.5, 0, -7)}},
		{"{who: Z, to: [12, -1], kind: shift}", look.Motion{Who: "Z", Kind: look.Shift, Path: at(12, -1)}},
	} {
		s, err := book.ReadScene("a.scene.yaml", []byte(strings.Replace(goodScene, "{who: B, to: [9, -5]}", c.what, 1)), book.Builtin())
		require.NoError(t, err, c.what)
		assert.Equal(t, c.want, s.Motion.Motion, c.what)
	}
}
