package judge_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/judge"
)

// laneCase is one worked case: a frozen moment and what the trade says of it.
// Common practice, no source; the rows' ids are T01 to T44, m for mirrored.
type laneCase struct {
	ID     string          `json:"id"`
	What   string          `json:"what"`
	Scene  json.RawMessage `json:"scene"`
	Expect struct {
		Sound  bool              `json:"sound"`
		ShutBy map[string]string `json:"shut_by"`
		FitBy  map[string]string `json:"fit_by"`
		Faults []struct {
			Who  string `json:"who"`
			Kind string `json:"kind"`
		} `json:"faults"`
	} `json:"expect"`
}

func laneCases(t testing.TB) []laneCase {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "scenes", "lanes.json"))
	require.NoError(t, err)
	var cs []laneCase
	require.NoError(t, json.Unmarshal(data, &cs))
	require.Len(t, cs, 88)
	return cs
}

func TestWorkedLaneCases(t *testing.T) {
	for _, c := range laneCases(t) {
		t.Run(c.ID+" "+c.What, func(t *testing.T) {
			s, err := book.ReadScene(c.ID+".scene.yaml", c.Scene, book.Builtin())
			require.NoError(t, err)
			b := judge.FromScene(s, book.Builtin())
			r := judge.Run(&b)
			assert.Equal(t, c.Expect.Sound, r.Sound, "sound")
			for _, l := range r.Lanes {
				n := strconv.Itoa(l.N)
				assert.Equal(t, c.Expect.ShutBy[n], l.ShutBy, "lane %d shut by", l.N)
				assert.Equal(t, c.Expect.FitBy[n], l.FitBy, "lane %d fit by", l.N)
			}
			var got, want []string
			for i, f := range r.Faults {
				got = append(got, f.Who+" "+f.Kind)
				assert.NotEmpty(t, r.Because(i))
			}
			for _, f := range c.Expect.Faults {
				want = append(want, f.Who+" "+f.Kind)
			}
			assert.Equal(t, want, got, "faults, first cause first")
		})
	}
}
