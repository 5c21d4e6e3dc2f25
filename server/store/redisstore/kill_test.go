package redisstore

import (
	"context"
	"fmt"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store/storetest"
)

// Redis is killed under writers at a random acknowledgement, again and again on
// the same files. Every acknowledged record is there, once, as it was.
func TestI1KilledServerLosesNothingAcked(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	draw := rand.New(rand.NewPCG(seed, 0))
	p := redisproc.Start(t, durable...)
	s := connect(t, p.URL())
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	const writers = 8
	all := make([]*storetest.Writer, writers)
	for i := range all {
		w, err := storetest.NewWriter(t.Context(), s, fmt.Sprintf("s%d", i))
		require.NoError(t, err)
		all[i] = w
	}
	for range 8 {
		var acks, limit atomic.Int64
		limit.Store(int64(1 + draw.IntN(400)))
		reached := make(chan struct{})
		var wg sync.WaitGroup
		for _, w := range all {
			wg.Go(func() {
				for n := 0; ; n++ {
					if _, err := w.Write(context.Background(), 1+n%3, 200); err != nil {
						return // killed: whether this one is stored nobody knows
					}
					if acks.Add(1) == limit.Load() {
						close(reached)
					}
				}
			})
		}
		<-reached
		p.Kill()
		wg.Wait()
		p.Restart()
		for _, w := range all {
			l, err := s.Load(t.Context(), w.ID)
			require.NoError(t, err)
			end := len(l.Tail)
			require.GreaterOrEqual(t, end, int(w.Seq), "session %s", w.ID)
			for i, r := range l.Tail {
				require.Equal(t, uint64(i+1), r.Seq)
				require.Equal(t, storetest.Data(w.ID, r.Seq, 200), r.Data)
			}
			w.Seq, w.Chain = l.Tail[end-1].Seq, l.Tail[end-1].Chain
		}
	}
	total := uint64(0)
	for _, w := range all {
		total += w.Seq
	}
	assert.NotZero(t, total)
	t.Logf("%d records stored over 8 kills", total)
}
