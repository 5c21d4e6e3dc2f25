package boltstore

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store/storetest"
)

// bytesOf is everything in the data folder.
func bytesOf(t *testing.T, folder string) (all []byte) {
	t.Helper()
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, f := range files {
		b, err := os.ReadFile(filepath.Join(folder, f.Name()))
		require.NoError(t, err)
		all = append(all, b...)
	}
	return all
}

// What was deleted, or written over, cannot be read from the folder any more.
func TestI13CompactForgets(t *testing.T) {
	s, w, recs := start(t)
	canary := func(n int) []byte { return fmt.Appendf(nil, "canary-number-%d", n) }
	require.NoError(t, s.PutItem(t.Context(), "", "name", canary(1)))
	require.NoError(t, s.PutItem(t.Context(), "s", "name", canary(2)))
	require.NoError(t, s.PutItem(t.Context(), "s", "other", canary(3)))
	require.NoError(t, s.Create(t.Context(), "gone", "e"))
	require.NoError(t, s.PutItem(t.Context(), "gone", "name", canary(4)))
	require.NoError(t, s.PutItem(t.Context(), "s", "kept", canary(5)))
	for n := 1; n <= 5; n++ {
		require.True(t, bytes.Contains(bytesOf(t, s.folder), canary(n)), "the scan sees it")
	}

	require.NoError(t, s.DeleteItem(t.Context(), "", "name"))
	require.NoError(t, s.DeleteItem(t.Context(), "s", "name"))
	require.NoError(t, s.PutItem(t.Context(), "s", "other", []byte("short")))
	require.NoError(t, s.Delete(t.Context(), "gone"))
	require.NoError(t, s.Compact(t.Context()))
	all := bytesOf(t, s.folder)
	for n := 1; n <= 4; n++ {
		assert.False(t, bytes.Contains(all, canary(n)), "canary %d", n)
	}
	assert.True(t, bytes.Contains(all, canary(5)))

	holds(t, s, "s", recs)
	next, err := w.Write(t.Context(), 3, 10)
	require.NoError(t, err, "the same writer goes on")
	folder := s.folder
	require.NoError(t, s.Close())
	s = open(t, folder)
	holds(t, s, "s", append(recs, next...))
	// Numbers of sessions are not given out again after a compact either.
	require.NoError(t, s.Create(t.Context(), "new", "e"))
	items, err := s.Items(t.Context(), "new")
	require.NoError(t, err)
	assert.Empty(t, items)
	require.NoError(t, s.Close())
}

func TestCompactGivesRoomBackUnderWrites(t *testing.T) {
	s, _, _ := start(t)
	w, err := storetest.NewWriter(t.Context(), s, "large")
	require.NoError(t, err)
	for range 20 {
		_, err := w.Write(t.Context(), 8, 32<<10)
		require.NoError(t, err)
	}
	require.NoError(t, s.Delete(t.Context(), "large"))
	before := len(bytesOf(t, s.folder))

	var wg sync.WaitGroup
	for i := range 4 {
		wg.Go(func() {
			w, err := storetest.NewWriter(t.Context(), s, fmt.Sprintf("w%d", i))
			if !assert.NoError(t, err) {
				return
			}
			for range 30 {
				_, err := w.Write(t.Context(), 1, 50)
				assert.NoError(t, err)
				_, err = s.Load(t.Context(), w.ID)
				assert.NoError(t, err)
			}
		})
	}
	require.NoError(t, s.Compact(t.Context()))
	require.NoError(t, s.Compact(t.Context()))
	wg.Wait()
	assert.Less(t, len(bytesOf(t, s.folder)), before/2)
	for i := range 4 {
		l, err := s.Load(t.Context(), fmt.Sprintf("w%d", i))
		require.NoError(t, err)
		assert.Len(t, l.Tail, 30)
	}
}

func TestCompactThatFailsChangesNothing(t *testing.T) {
	s, w, recs := start(t)
	require.NoError(t, os.Mkdir(filepath.Join(s.folder, fileName+".new"), 0o700))
	require.NoError(t, s.Compact(t.Context()), "what an earlier try left is cleared away")

	gone := filepath.Join(s.folder, "elsewhere")
	kept := s.folder
	s.folder = gone // no such folder: the copy cannot be made
	require.Error(t, s.Compact(t.Context()))
	s.folder = kept
	holds(t, s, "s", recs)
	_, err := w.Write(t.Context(), 1, 10)
	require.NoError(t, err)
}
