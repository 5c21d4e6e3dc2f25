package boltstore

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

// written is the file of a closed store with two sessions of 100 records, one
// of them with snapshots, and what is in it.
func written(t *testing.T) (file []byte, want map[string]store.Loaded, items map[string][]byte) {
	t.Helper()
	folder := t.TempDir()
	s := open(t, folder)
	want = map[string]store.Loaded{}
	for _, id := range []string{"plain", "snapped"} {
		w, err := storetest.NewWriter(t.Context(), s, id)
		require.NoError(t, err)
		for i := range 4 {
			_, err = w.Write(t.Context(), 25, 60)
			require.NoError(t, err)
			if id == "snapped" && i > 0 && i < 3 {
				_, err := w.Snapshot(t.Context())
				require.NoError(t, err)
			}
		}
		require.NoError(t, s.PutItem(t.Context(), id, "jersey", []byte("54")))
	}
	// Two more commits, so that a damaged head page of bbolt, of which it keeps
	// two, falls back to one that knows all of the above.
	require.NoError(t, s.Ready(t.Context()))
	require.NoError(t, s.Ready(t.Context()))
	for _, id := range []string{"plain", "snapped"} {
		l, err := s.Load(t.Context(), id)
		require.NoError(t, err)
		want[id] = l
	}
	items, err := s.Items(t.Context(), "plain")
	require.NoError(t, err)
	require.NoError(t, s.Close())
	file, err = os.ReadFile(filepath.Join(folder, fileName))
	require.NoError(t, err)
	return file, want, items
}

// openBytes opens a store on a file with the given content.
func openBytes(t *testing.T, content []byte) (*Store, error) {
	t.Helper()
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, fileName), content, 0o600))
	return Open(folder)
}

// A file with one flipped bit is refused, or it reads as before: nobody is
// given other records than were stored, fewer of them, or no session.
func TestI2FlippedBitIsSeenOrHarmless(t *testing.T) {
	file, want, items := written(t)
	// Fixed draw; the used part of the file only, which is mostly records.
	draw := rand.New(rand.NewPCG(1, 2))
	used := len(bytes.TrimRight(file, "\x00"))
	refused, same := 0, 0
	for range 400 {
		bad := bytes.Clone(file)
		bit := draw.IntN(used * 8)
		bad[bit/8] ^= 1 << (bit % 8)
		s, err := openBytes(t, bad)
		if err != nil {
			require.ErrorIs(t, err, store.ErrDamaged, "bit %d", bit)
			oneLineError(t, err)
			refused++
			continue
		}
		damaged := false
		ids, err := s.Sessions(t.Context())
		if err == nil {
			require.Equal(t, []string{"plain", "snapped"}, ids)
		}
		for id, l := range want {
			got, err := s.Load(t.Context(), id)
			if err != nil {
				require.ErrorIs(t, err, store.ErrDamaged, "bit %d", bit)
				oneLineError(t, err)
				damaged = true
				continue
			}
			if l.Snapshot != nil && (got.Snapshot == nil || got.Snapshot.Seq < l.Snapshot.Seq) {
				damaged = true // gone back to the older one
				require.Equal(t, l.Tail, got.Tail[len(got.Tail)-len(l.Tail):], "bit %d", bit)
				continue
			}
			require.Equal(t, l, got, "bit %d", bit)
		}
		got, err := s.Items(t.Context(), "plain")
		if err != nil {
			require.ErrorIs(t, err, store.ErrDamaged, "bit %d", bit)
			damaged = true
		} else if len(got) > 0 { // side tables have no count: an entry may be missed, never changed
			require.Equal(t, items, got, "bit %d", bit)
		}
		require.NoError(t, s.Close())
		if damaged {
			refused++
		} else {
			same++
		}
	}
	t.Logf("%d refused or gone back to a snapshot, %d unharmed (free pages)", refused, same)
	assert.Greater(t, refused, 50, "the flips did hit records")
}

// A file that lost its end, as after a copy to a full disk, is refused and does
// not take the program down.
func TestI2ShortenedFileIsRefused(t *testing.T) {
	file, want, _ := written(t)
	for pages := range len(file) / 4096 {
		s, err := openBytes(t, file[:pages*4096+100])
		if err != nil {
			require.ErrorIs(t, err, store.ErrDamaged, "%d pages", pages)
			continue
		}
		for id, l := range want {
			if got, err := s.Load(t.Context(), id); err == nil {
				require.Equal(t, l, got, "%d pages", pages)
			} else {
				require.ErrorIs(t, err, store.ErrDamaged, "%d pages", pages)
			}
		}
		_ = s.Close()
	}
}

// A damaged snapshot costs nothing: the older one, or the whole log, takes its
// place. Only when the log does not reach back is there nothing to start from.
func TestD5DamagedSnapshotGoesBack(t *testing.T) {
	s, w, recs := start(t)
	spoil := func(seq uint64) {
		require.NoError(t, s.db.Update(func(tx *bolt.Tx) error {
			b := tx.Bucket(bucketSnapshots)
			v := bytes.Clone(b.Get(key(1, seq)))
			v[len(v)-1] ^= 1
			return b.Put(key(1, seq), v)
		}))
	}
	_, err := w.Snapshot(t.Context())
	require.NoError(t, err)
	spoil(3)
	l, err := s.Load(t.Context(), "s")
	require.NoError(t, err)
	assert.Nil(t, l.Snapshot)
	assert.Equal(t, recs, l.Tail)

	older, err := w.Snapshot(t.Context())
	require.NoError(t, err, "and it can be taken again")
	next, err := w.Write(t.Context(), 2, 20)
	require.NoError(t, err)
	_, err = w.Snapshot(t.Context())
	require.NoError(t, err)
	spoil(5)
	l, err = s.Load(t.Context(), "s")
	require.NoError(t, err)
	assert.Equal(t, &older, l.Snapshot)
	assert.Equal(t, next, l.Tail)

	spoil(3)
	_, err = s.Load(t.Context(), "s")
	require.ErrorIs(t, err, store.ErrDamaged)
	assert.Contains(t, oneLineError(t, err), "backup")
}
