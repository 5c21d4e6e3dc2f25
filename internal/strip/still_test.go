package strip_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/strip"
)

// frozen is a board at the moment when the carrier of a play commits.
func frozen(t testing.TB, b judge.Board, id string) judge.Board {
	for _, pl := range plays() {
		if pl.ID != id {
			continue
		}
		f, ok := judge.Freeze(&b, pl)
		require.True(t, ok)
		before := b.Shown()
		b.Before, b.Moment, b.Play = &before, &f.Moment, pl
		for i := range b.Men {
			b.Men[i].At = f.Places[b.Men[i].Tag]
		}
		for i := range b.Spots {
			b.Spots[i].At = f.Places[b.Spots[i].Label]
		}
	}
	require.NotNil(t, b.Moment, id)
	return b
}

func TestGoldenStills(t *testing.T) {
	right := board(t, "two-read", field.Right, field.MiddleHash)
	left := board(t, "quarters", field.Left, field.MiddleHash)
	for name, b := range map[string]judge.Board{"still-right": right, "moment-left": frozen(t, left, "toss")} {
		t.Run(name, func(t *testing.T) {
			r := judge.Run(&b)
			got := strip.Still(&b, &r, caution, "a name", strip.Offense)
			golden := filepath.Join("testdata", name+".svg")
			if *update {
				require.NoError(t, os.WriteFile(golden, got, 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), string(got), "run the test with -update and look at what changed")
		})
	}
}

// A still says in words and in signs what the answer is: every man with his sign,
// every lane of a moment, the cautions; and nothing comes from elsewhere.
func TestStillsSayTheAnswer(t *testing.T) {
	for _, side := range []field.Side{field.Right, field.Left} {
		b := board(t, "two-read", side, field.MiddleHash)
		b.Spots[0].At.Y += 4 * field.Yard // off his rule
		m := frozen(t, b, "toss")
		for _, b := range []*judge.Board{&b, &m} {
			r := judge.Run(b)
			var marks, lanes int
			var all strings.Builder
			for _, e := range parsed(t, strip.Still(b, &r, caution, "", strip.Defense)) {
				assert.NotContains(t, []string{"script", "image", "foreignObject", "a", "use", "animate"}, e.name)
				assert.NotContains(t, e.attrs, "style", "a page's policy lets no attribute of style through")
				assert.NotContains(t, e.attrs, "href")
				switch {
				case e.attrs["class"] == "ring":
					marks++
				case strings.HasPrefix(e.attrs["class"], "lane of-"):
					lanes++
				}
				all.WriteString(e.text + "\n")
			}
			for _, say := range append(strip.Told(b, &r), strip.Model, caution) {
				for _, word := range strings.Fields(say) {
					assert.Contains(t, all.String(), word)
				}
			}
			if b.Moment == nil {
				assert.Equal(t, len(b.Spots), marks, "each man of the defense has his sign")
				assert.Contains(t, all.String(), "; go ", "who is off his rule is told the way")
			} else {
				assert.Equal(t, len(r.Lanes), lanes, "each lane has its name")
			}
			assert.NotContains(t, all.String(), "%!")
		}
	}
}

// The picture of the mirrored board is the mirrored picture.
func TestMirroredFigures(t *testing.T) {
	for _, hash := range []field.Hash{field.MiddleHash, field.RightHash, field.LeftHash} {
		for _, eyes := range []strip.Eyes{strip.Offense, strip.Defense} {
			for _, moment := range []bool{false, true} {
				name := fmt.Sprintf("%s eyes %d moment %t", hash, eyes, moment)
				var docs [2][]element
				for i, side := range []field.Side{field.Right, field.Left} {
					b := board(t, "two-read", side, hash)
					if moment {
						b = frozen(t, b, "toss")
					}
					r := judge.Run(&b)
					docs[i] = parsed(t, []byte(strip.Figure(&b, &r, "a board", strip.Signs{Boxes: true, Keeps: true, Eyes: eyes, Pocket: "N"})))
				}
				require.Len(t, docs[1], len(docs[0]), name)
				for i := range docs[0] {
					r, l := &docs[0][i], &docs[1][i]
					require.Equal(t, r.name, l.name, name)
					require.Equal(t, r.attrs["class"], l.attrs["class"], name)
					require.Equal(t, r.text, l.text, name)
					switch r.attrs["class"] {
					case "pocket", "mark-of": // a loop begins at its left end; a tick is not turned
					case "frame", "tie":
					default:
						if r.depth > 1 {
							mirrors(t, name, r, l)
						}
					}
				}
			}
		}
	}
}

// On a plan who blocks has a bar, who carries the heavy way, and no answer of the
// defense is given away to the scout team.
func TestPlansShowWhoDoesWhat(t *testing.T) {
	b := board(t, "two-read", field.Right, field.MiddleHash)
	r := judge.Run(&b)
	tr := replay(t, &b, "toss", nil)
	count := map[string]int{}
	for _, e := range parsed(t, []byte(strip.Figure(&b, &r, "a plan", strip.Signs{Full: true, Play: tr, Carrier: "B",
		Blocks: []strip.Meets{{By: "Z", On: "C"}, {By: "H", On: "N"}}}))) {
		count[e.attrs["class"]]++
	}
	assert.Equal(t, 2, count["blocks"])
	assert.Equal(t, 1, count["runs"])
	assert.Zero(t, count["ring"])
	assert.Zero(t, count["hat"])
	assert.Equal(t, len(b.Men), count["square"]+count["square has-ball"], "the whole offense is on it")
}
