package boltstore

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

func oneLineError(t *testing.T, err error) string {
	t.Helper()
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "\n")
	return err.Error()
}

func TestD8FolderIsHeldByOneProcess(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new", "data")
	s := open(t, folder)
	info, err := os.Stat(folder)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), info.Mode().Perm())

	_, err = Open(folder)
	require.ErrorIs(t, err, ErrLocked)
	text := oneLineError(t, err)
	assert.Contains(t, text, filepath.Join(folder, "halfline.db"))
	assert.Contains(t, text, fmt.Sprintf("process %d", os.Getpid()))
	assert.Contains(t, text, "--data")

	require.NoError(t, s.Ready(t.Context()), "the holder is not disturbed")
	require.NoError(t, s.Close())
	require.NoError(t, s.Close(), "closing twice is no error")
	assert.NoFileExists(t, filepath.Join(folder, "halfline.pid"))
	s = open(t, folder)
	require.NoError(t, s.Close())
}

// What stands in the pid file is for people only.
func TestPidFileDecidesNothing(t *testing.T) {
	folder := t.TempDir()
	pid := filepath.Join(folder, "halfline.pid")
	require.NoError(t, os.WriteFile(pid, []byte("1\n"), 0o600))
	s := open(t, folder)
	require.NoError(t, os.WriteFile(pid, []byte("not\na number"), 0o600))
	_, err := Open(folder)
	require.ErrorIs(t, err, ErrLocked)
	assert.Contains(t, oneLineError(t, err), "process unknown")
	require.NoError(t, os.Remove(pid))
	_, err = Open(folder)
	require.ErrorIs(t, err, ErrLocked)
	require.NoError(t, s.Close())
}

func TestFolderThatCannotBeUsed(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err := Open(file)
	text := oneLineError(t, err)
	assert.Contains(t, text, fmt.Sprintf("%q", file))
	assert.Contains(t, text, "not a directory")
	assert.Contains(t, text, "--data")
	_, err = Open(filepath.Join(file, "below"))
	assert.Contains(t, oneLineError(t, err), "not a directory")
}

func TestFileOfAnotherKindIsRefused(t *testing.T) {
	for name, content := range map[string]string{
		"text":  strings.Repeat("not a data file\n", 1000),
		"short": "x",
		"zeros": string(make([]byte, 1<<16)),
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			file := filepath.Join(folder, "halfline.db")
			require.NoError(t, os.WriteFile(file, []byte(content), 0o600))
			_, err := Open(folder)
			require.ErrorIs(t, err, store.ErrDamaged)
			assert.Contains(t, oneLineError(t, err), "backup")
			left, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, content, string(left), "nothing is overwritten")
		})
	}
}

func TestNewerFormatIsRefused(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	require.NoError(t, s.db.Update(func(tx *bolt.Tx) error {
		return tablesOf(tx).putNumber(keyFormat, format+1)
	}))
	require.NoError(t, s.Close())
	_, err := Open(folder)
	require.ErrorIs(t, err, errNewer)
	assert.Contains(t, oneLineError(t, err), "newer version")
}

func TestClosedStoreAnswers(t *testing.T) {
	s := open(t, t.TempDir())
	w, err := storetest.NewWriter(t.Context(), s, "s")
	require.NoError(t, err)
	require.NoError(t, s.Close())
	_, err = w.Write(t.Context(), 1, 1)
	assert.ErrorIs(t, err, errClosed)
	_, err = s.Load(t.Context(), "s")
	assert.ErrorIs(t, err, errClosed)
	assert.ErrorIs(t, s.Ready(t.Context()), errClosed)
}
