package boltstore

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"halfline/server/store/storetest"
)

// A writing process is killed at a random acknowledgement, again and again on
// the same folder. Every acknowledged record is there, as it was, and the file
// is sound.
func TestI1KilledWriterLosesNothingAcked(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	draw := rand.New(rand.NewPCG(seed, 0))
	folder := t.TempDir()
	s := open(t, folder)
	for i := range childWriters {
		require.NoError(t, s.Create(t.Context(), fmt.Sprintf("s%d", i), "e"))
	}
	acked := map[string]uint64{}
	total := uint64(0)
	for range 10 {
		require.NoError(t, s.Close())
		c := startChild(t, "writers", folder)
		for range 1 + draw.IntN(300) {
			ok, err := c.read(acked)
			require.NoError(t, err)
			require.True(t, ok, "the child ended by itself")
		}
		require.NoError(t, c.cmd.Process.Kill())
		for { // what it had printed before it died
			if ok, err := c.read(acked); err != nil || !ok {
				break
			}
		}
		require.Error(t, c.cmd.Wait())

		s = open(t, folder)
		total = 0
		for i := range childWriters {
			id := fmt.Sprintf("s%d", i)
			total += acked[id]
			l, err := s.Load(t.Context(), id)
			require.NoError(t, err)
			end := uint64(len(l.Tail))
			if l.Snapshot != nil {
				end += l.Snapshot.Seq
			}
			require.GreaterOrEqual(t, end, acked[id], "session %s", id)
			acked[id] = end // what was on its way when it died is stored now
			for _, r := range l.Tail {
				require.Equal(t, storetest.Data(id, r.Seq, 100*(i+1)), r.Data)
			}
		}
		require.NoError(t, s.db.View(func(tx *bolt.Tx) error {
			for err := range tx.Check() {
				return err
			}
			return nil
		}))
	}
	require.NoError(t, s.Close())
	t.Logf("%d records acknowledged over 10 kills", total)
}
