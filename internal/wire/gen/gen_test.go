package gen

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the generated files")

const root = "../../.."

func TestGeneratedFilesAreFresh(t *testing.T) {
	files, err := Files(root)
	require.NoError(t, err)
	for _, name := range sortedKeys(files) {
		path := filepath.Join(root, filepath.FromSlash(name))
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
			require.NoError(t, os.WriteFile(path, files[name], 0o644))
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(files[name], got), "%s is stale: run go run ./cmd/dev gen", name)
	}
}
