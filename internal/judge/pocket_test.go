package judge_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/assign"
	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// threeOnThree is the half-line drill at its default places: slot at 9, #1 at
// 18, ball in the middle.
func threeOnThree(t testing.TB, call string) judge.Board {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "scenes", "three-on-three.scene.yaml"))
	require.NoError(t, err)
	s, err := book.ReadScene("three-on-three.scene.yaml", data, book.Builtin())
	require.NoError(t, err)
	s.Call, _ = book.Builtin().Call(call)
	return judge.FromScene(s, book.Builtin())
}

func inside(loops [][]field.Offset, o field.Offset) bool {
	in := false
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.Y > o.Y) != (b.Y > o.Y) &&
				float64(o.X) < float64(b.X-a.X)*float64(o.Y-a.Y)/float64(b.Y-a.Y)+float64(a.X) {
				in = !in
			}
		}
	}
	return in
}

// The pocket and the answer on the phone are one function: whoever stands in
// the outline keeps leverage, whoever stands out of it does not.
func TestPocketAgreesWithTheAnswer(t *testing.T) {
	const label = "FS" // nobody blocks him, so moving him alone changes no lane
	for _, call := range []string{"two-read", "quarters"} {
		b := threeOnThree(t, call)
		p, ok := judge.Pocket(&b, label)
		require.True(t, ok)
		require.NotEmpty(t, p.Keeps, call)
		for x := field.Inches(3 * 36); x < 22*36; x += 36 {
			for y := field.Inches(0); y < 14*36; y += 36 {
				at := field.Offset{X: x, Y: y}
				moved := b
				moved.Spots = append([]judge.Spot(nil), b.Spots...)
				for i := range moved.Spots {
					if moved.Spots[i].Label == label {
						moved.Spots[i].At = at
					}
				}
				r := judge.Run(&moved)
				for _, s := range r.Spots {
					if s.Label == label && s.Rule.Verdict == assign.Right {
						assert.Equal(t, s.Keeps == leverage.Yes, inside(p.Keeps, at), "%s at %v", call, at)
					}
				}
			}
		}
	}
}

// A trial gave these windows for the safety at #2-1, alley on toss and the top:
// the quick man's is wider at both ends. Derived; sign and order only.
func TestDepthWindowNarrowsFromBothEnds(t *testing.T) {
	var last judge.DepthResult
	for i, top := range []float64{9.25, 8.66, 7.95} {
		b := threeOnThree(t, "two-read")
		b.Menu = book.Builtin().MenuPlays([]string{"toss", "verticals", "wheel"})
		for k := range b.Spots {
			if b.Spots[k].Label == "FS" {
				b.Spots[k].Athlete.Top = top
			}
		}
		r, ok := judge.Depth(&b, "FS")
		require.True(t, ok)
		require.True(t, r.OK, "speed %g", top)
		assert.Contains(t, r.Deep, "alley")
		assert.Contains(t, r.Short, "top")
		assert.GreaterOrEqual(t, r.Window.Least, 4.0)
		assert.LessOrEqual(t, r.Window.Most, 14.5) // the trade's 8 to 14 (common practice)
		if i > 0 {
			assert.Greater(t, r.Window.Least, last.Window.Least)
			assert.Less(t, r.Window.Most, last.Window.Most)
		}
		last = r
	}
}

func BenchmarkPocket(b *testing.B) {
	board := threeOnThree(b, "two-read")
	board.Menu = append(board.Menu, book.Builtin().MenuPlays([]string{"wheel", "bubble-and-go", "verticals", "toss"})...)
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := judge.Pocket(&board, "FS"); !ok {
			b.Fatal("no pocket")
		}
	}
}
