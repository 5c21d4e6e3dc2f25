package storetest

import (
	"errors"
	"fmt"
	"sync"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store"
)

func earlierWriter(b *bench) {
	first := b.writer("s")
	all := b.write(first, 3, 10)
	second := *first
	require.NoError(b, second.Acquire(b.ctx))
	require.Greater(b, second.Fence, first.Fence)

	_, err := first.Write(b.ctx, 1, 10)
	require.ErrorIs(b, err, store.ErrStale)
	require.ErrorIs(b, first.Append(b.ctx, nil), store.ErrStale)
	_, err = first.Snapshot(b.ctx)
	require.ErrorIs(b, err, store.ErrStale)
	b.holds("s", all)

	all = append(all, b.write(&second, 2, 10)...)
	b.holds("s", all)
	future := second
	future.Fence++
	_, err = future.Write(b.ctx, 1, 10)
	require.ErrorIs(b, err, store.ErrStale, "a fence that nobody was given")
	b.reopen()
	second.Store = b.Store
	all = append(all, b.write(&second, 1, 10)...)
	b.holds("s", all)
}

func fencesGrow(b *bench) {
	w := b.writer("s")
	last := w.Fence
	require.NotZero(b, last)
	grows := func() {
		b.Helper()
		require.NoError(b, w.Acquire(b.ctx))
		require.Greater(b, w.Fence, last)
		last = w.Fence
	}
	for range 5 {
		grows()
	}
	b.reopen()
	w.Store = b.Store
	grows()
	require.NoError(b, b.Store.Delete(b.ctx, "s"))
	old := *w
	require.NoError(b, b.Store.Create(b.ctx, "s", "new"))
	_, err := old.Write(b.ctx, 1, 1)
	require.ErrorIs(b, err, store.ErrStale, "a writer of the deleted session")
	require.NoError(b, w.Acquire(b.ctx))
	require.NotEqual(b, last, w.Fence)
	_, err = old.Write(b.ctx, 1, 1)
	require.ErrorIs(b, err, store.ErrStale, "a writer of the deleted session")
}

// manySessions has 32 writers at once, some of whom are refused now and then:
// one's refusal must not touch another's records.
func manySessions(b *bench) {
	const writers, rounds = 32, 12
	logs := make([][]store.Record, writers)
	var wg sync.WaitGroup
	for i := range writers {
		wg.Go(func() {
			w, err := NewWriter(b.ctx, b.Store, fmt.Sprintf("s%02d", i))
			if !assert.NoError(b, err) {
				return
			}
			for round := range rounds {
				if (i+round)%3 == 0 {
					bad := *w
					bad.Seq++
					_, err := bad.Write(b.ctx, 2, 50)
					assert.ErrorIs(b, err, store.ErrStale)
				}
				recs, err := w.Write(b.ctx, 1+(i+round)%4, 50)
				if !assert.NoError(b, err) {
					return
				}
				logs[i] = append(logs[i], recs...)
				if _, err := b.Store.Load(b.ctx, w.ID); !assert.NoError(b, err) {
					return
				}
			}
		})
	}
	wg.Wait()
	for i, want := range logs {
		b.holds(fmt.Sprintf("s%02d", i), want)
	}
}

// twoWriters take one session from each other. Whatever the order, the log is
// gapless, fences never fall along it and it is exactly what was acknowledged.
func twoWriters(b *bench) {
	require.NoError(b, b.Store.Create(b.ctx, "s", "e"))
	const turns = 25
	acked := make([]map[uint64]store.Record, 2)
	var wg sync.WaitGroup
	for i := range acked {
		acked[i] = map[uint64]store.Record{}
		wg.Go(func() {
			for range turns {
				w := &Writer{Store: b.Store, ID: "s"}
				if !assert.NoError(b, w.Acquire(b.ctx)) {
					return
				}
				l, err := b.Store.Load(b.ctx, "s")
				if !assert.NoError(b, err) {
					return
				}
				if n := len(l.Tail); n > 0 {
					w.Seq, w.Chain = l.Tail[n-1].Seq, l.Tail[n-1].Chain
				}
				for range 3 {
					recs, err := w.Write(b.ctx, 2, 20+i)
					if errors.Is(err, store.ErrStale) {
						break
					}
					if !assert.NoError(b, err) {
						return
					}
					for _, r := range recs {
						acked[i][r.Seq] = r
					}
				}
			}
		})
	}
	wg.Wait()
	l := b.load("s")
	require.NoError(b, store.CheckTail(0, 0, l.Tail))
	require.Len(b, l.Tail, len(acked[0])+len(acked[1]), "all that was acknowledged and nothing else")
	owner := map[uint64]int{}
	var fence uint64
	for _, r := range l.Tail {
		i := 0
		if _, his := acked[1][r.Seq]; his {
			i = 1
		}
		require.Equal(b, acked[i][r.Seq], r)
		require.GreaterOrEqual(b, r.Fence, fence, "fences never fall")
		fence = r.Fence
		if o, known := owner[r.Fence]; known {
			require.Equal(b, o, i, "one writer a fence")
		}
		owner[r.Fence] = i
	}
}
