package wire_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
	"halfline/internal/wire/gen"
	"halfline/internal/wire/wiretest"
)

const golden = "../../testdata/wire/v1"

// A published frame never changes (W32). A field that may be absent can be added
// without touching one; if this fails, the change is of another kind and
// needs a new version of the protocol. Only before the first release may the
// files be deleted and written anew by go generate.
func TestPublishedFramesStayAsTheyAre(t *testing.T) {
	for name, want := range gen.Golden() {
		got, err := os.ReadFile(filepath.Join("../..", filepath.FromSlash(name)))
		require.NoError(t, err, "go generate ./internal/wire writes what is missing")
		assert.Equal(t, string(want), string(got), name)
	}
}

// No frame that was published goes away, and each is still read as what it was.
func TestPublishedFramesAreStillRead(t *testing.T) {
	byName := map[string]example.Frame{}
	for _, f := range example.Frames() {
		byName[f.Name] = f
	}
	paths, err := filepath.Glob(golden + "/*.json")
	require.NoError(t, err)
	require.Len(t, paths, len(byName))
	v := wiretest.Validator()
	for _, path := range paths {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		frame := []byte(strings.TrimSuffix(string(text), "\n"))
		want, ok := byName[strings.TrimSuffix(filepath.Base(path), ".json")]
		require.True(t, ok, "%s: its example is gone", path)
		if want.Up != nil {
			v.Up(t, frame)
			got, err := wire.DecodeUp(frame)
			require.NoError(t, err, path)
			assert.Equal(t, *want.Up, got, path)
			continue
		}
		v.Down(t, frame)
		got, err := wire.DecodeDown(frame)
		require.NoError(t, err, path)
		again, err := wire.Encode(got)
		require.NoError(t, err)
		assert.Equal(t, string(frame), string(again), path)
	}
}

// The frames that PROTOCOL.md shows in full are good ones. Those it cuts short
// have three dots.
func TestFramesInTheTextAreGood(t *testing.T) {
	text, err := os.ReadFile("PROTOCOL.md")
	require.NoError(t, err)
	var frames []string
	for _, line := range strings.Split(string(text), "\n") {
		code := strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(code, "-> {"), strings.HasPrefix(code, "<- {"):
			frames = append(frames, code)
		case strings.HasPrefix(line, "        ") && len(frames) > 0:
			frames[len(frames)-1] += code
		}
	}
	whole := 0
	for _, f := range frames {
		if strings.Contains(f, "...") {
			continue
		}
		whole++
		if frame, up := strings.CutPrefix(f, "-> "); up {
			_, err := wire.DecodeUp([]byte(frame))
			assert.NoError(t, err, f)
			wiretest.Validator().Up(t, []byte(frame))
		} else {
			wiretest.Validator().Down(t, []byte(f[len("<- "):]))
		}
	}
	assert.Equal(t, 2, whole)
}
