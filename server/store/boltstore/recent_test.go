package boltstore

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

// held counts what stands in the log and what in recent.
func held(t *testing.T, s *Store) (log, recent, values int) {
	t.Helper()
	require.NoError(t, s.db.View(func(tx *bolt.Tx) error {
		b := tablesOf(tx)
		log, values = b.log.Inspect().KeyN, b.recent.Inspect().KeyN
		return b.eachRecent(func(uint64, []byte) error { recent++; return nil })
	}))
	return log, recent, values
}

// Wherever a session's records stand, they read as one log.
func TestD3LogAndRecentReadAsOne(t *testing.T) {
	s, w, all := start(t)
	other, err := storetest.NewWriter(t.Context(), s, "other")
	require.NoError(t, err)
	both, most := 0, 0
	for n := range 3 * maxRecent {
		size := 20
		if n%50 == 49 {
			size = maxRecentValue // too large to stay in recent
		}
		recs, err := w.Write(t.Context(), 1, size)
		require.NoError(t, err)
		all = append(all, recs...)
		_, err = other.Write(t.Context(), 1, 20)
		require.NoError(t, err)

		log, recent, values := held(t, s)
		require.Equal(t, len(all)+n+1, log+recent, "each record stands in one place")
		if log > 0 && recent > 0 {
			both++
		}
		most = max(most, values)
		if n%7 == 0 {
			holds(t, s, "s", all)
			for after := max(0, len(all)-80); after < len(all); after += 9 {
				got, ok, err := s.Tail(t.Context(), "s", uint64(after), 40)
				require.NoError(t, err)
				require.True(t, ok)
				require.Equal(t, all[after:min(after+40, len(all))], got)
			}
		}
	}
	assert.Positive(t, both, "the test saw both at once")
	assert.LessOrEqual(t, most, maxRecent, "readers go through no more than that")

	// A repeat of records, some here and some there, is seen as one.
	require.NoError(t, s.Append(t.Context(), "s", w.Fence, all[len(all)-5:]))
	bad := append([]store.Record{}, all[len(all)-5:]...)
	bad[4].Data = []byte("other")
	bad[4].Chain = store.NextChain(bad[3].Chain, bad[4])
	require.ErrorIs(t, s.Append(t.Context(), "s", w.Fence, bad), store.ErrStale)
	folder := s.folder
	require.NoError(t, s.Close())
	s = open(t, folder)
	holds(t, s, "s", all)
	require.NoError(t, s.Delete(t.Context(), "s"))
	log, recent, _ := held(t, s)
	assert.Equal(t, 3*maxRecent, log+recent, "nothing of it is left, the other is whole")
	require.NoError(t, s.Close())
}
