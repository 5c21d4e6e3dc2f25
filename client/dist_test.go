package client_test

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"path"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/client"
	"halfline/client/build"
)

// firstLoadBudget is what the script and the style sheet may weigh together,
// compressed. A gym's shared mobile link gives a phone some 200 kB/s when a
// squad joins at once (common practice, no source): at that rate the budget
// is a third of a second, and half of a two-second first view stays free for
// the round trips.
const firstLoadBudget = 60 << 10

// embedded reads the files that the binary carries.
func embedded(t *testing.T) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := fs.WalkDir(client.Dist, "dist", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := client.Dist.ReadFile(name)
		files[name[len("dist/"):]] = content
		return err
	})
	require.NoError(t, err)
	return files
}

// TestDistIsFresh compares both ways: every embedded file is still produced,
// and every produced file is embedded.
func TestDistIsFresh(t *testing.T) {
	built, err := build.Build("..")
	require.NoError(t, err)
	have := embedded(t)
	for name, content := range built {
		kept, ok := have[name]
		if assert.True(t, ok, "dist/%s is missing: run go generate ./client", name) {
			assert.True(t, bytes.Equal(kept, content), "dist/%s is stale: run go generate ./client", name)
		}
	}
	for name := range have {
		assert.Contains(t, built, name, "dist/%s is no longer produced: run go generate ./client", name)
	}
}

func TestBuildGivesTheSameBytesTwice(t *testing.T) {
	first, err := build.Build("..")
	require.NoError(t, err)
	second, err := build.Build("..")
	require.NoError(t, err)
	assert.Equal(t, first, second)
}

func TestFirstLoadKeepsItsBudget(t *testing.T) {
	total := 0
	for name, content := range embedded(t) {
		if path.Dir(name) != "assets" {
			continue
		}
		var packed bytes.Buffer
		w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
		require.NoError(t, err)
		_, err = w.Write(content)
		require.NoError(t, err)
		require.NoError(t, w.Close())
		t.Logf("%s: %d bytes, %d compressed", name, len(content), packed.Len())
		total += packed.Len()
	}
	require.Positive(t, total, "no script and no style sheet are embedded")
	assert.LessOrEqual(t, total, firstLoadBudget,
		"script and style sheet weigh %d bytes compressed: leave something out, or raise the budget with a reason", total)
}
