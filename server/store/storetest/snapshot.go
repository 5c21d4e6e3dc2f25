package storetest

import (
	"slices"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store"
)

// replay folds records into the chain, the shortest state that knows them all.
func replay(from uint64, recs []store.Record) uint64 {
	for _, r := range recs {
		from = store.NextChain(from, r)
	}
	return from
}

func snapshotAndTail(b *bench) {
	w := b.writer("s")
	var all []store.Record
	for i := range 6 {
		all = append(all, b.write(w, 7, 30)...)
		snap := b.snapshot(w)
		all = append(all, b.write(w, i, 30)...)
		if i == 3 {
			b.reopen()
			w.Store = b.Store
		}
		l := b.load("s")
		require.NotNil(b, l.Snapshot)
		require.Equal(b, snap, *l.Snapshot)
		require.Equal(b, "epoch-s", l.Epoch)
		require.Len(b, l.Tail, i)
		require.Equal(b, replay(0, all), replay(l.Snapshot.Chain, l.Tail))
		if i > 0 {
			require.Equal(b, all[len(all)-i:], l.Tail)
		}
	}
}

func twoSnapshots(b *bench) {
	w := b.writer("s")
	var all []store.Record
	more := func() uint64 {
		all = append(all, b.write(w, 4, 10)...)
		b.snapshot(w)
		return w.Seq
	}
	kept := func(after uint64) {
		b.Helper()
		got, ok, err := b.Store.Tail(b.ctx, "s", after, 1000)
		require.NoError(b, err)
		require.True(b, ok, "the log after the older snapshot is kept")
		require.Equal(b, all[after:], got)
	}
	older := more()
	kept(0) // one snapshot alone lets nothing go
	for range 4 {
		newest := more()
		kept(older)
		require.Equal(b, newest, b.load("s").Snapshot.Seq)
		older = newest
	}
	// A snapshot taken again replaces itself, not its elder.
	again := store.Snapshot{Seq: w.Seq, Chain: w.Chain, Data: []byte("again")}
	require.NoError(b, b.Store.PutSnapshot(b.ctx, "s", w.Fence, again))
	kept(w.Seq - 4)
	require.Equal(b, again, *b.load("s").Snapshot)
	// One that comes late, for a seq between the two, takes the elder's place.
	late := all[w.Seq-3]
	require.NoError(b, b.Store.PutSnapshot(b.ctx, "s", w.Fence, store.Snapshot{Seq: late.Seq, Chain: late.Chain}))
	kept(late.Seq)
	require.Equal(b, again, *b.load("s").Snapshot)
}

func snapshotOfLog(b *bench) {
	w := b.writer("s")
	put := func(seq, chain uint64) error {
		return b.Store.PutSnapshot(b.ctx, "s", w.Fence, store.Snapshot{Seq: seq, Chain: chain, Data: []byte("x")})
	}
	require.ErrorIs(b, put(0, 1), store.ErrStale, "nothing has the chain 0")
	require.ErrorIs(b, put(1, 0), store.ErrStale, "ahead of an empty log")
	all := b.write(w, 6, 10)
	require.ErrorIs(b, put(7, w.Chain), store.ErrStale, "ahead of the log")
	require.ErrorIs(b, put(6, w.Chain+1), store.ErrStale, "chain of another history")
	require.ErrorIs(b, put(5, w.Chain), store.ErrStale, "chain of another record")
	require.Nil(b, b.load("s").Snapshot)
	b.holds("s", all)

	require.NoError(b, put(0, 0), "the state before all records")
	require.Equal(b, uint64(0), b.load("s").Snapshot.Seq)
	require.NoError(b, put(2, all[1].Chain), "inside the log")
	l := b.load("s")
	require.Equal(b, uint64(2), l.Snapshot.Seq)
	require.Equal(b, all[2:], l.Tail)
	require.NoError(b, put(6, w.Chain))
	require.ErrorIs(b, put(6, w.Chain+1), store.ErrStale, "over a snapshot, with another chain")
	require.ErrorIs(b, put(1, all[0].Chain), store.ErrStale, "of a record that is gone")
	require.NoError(b, put(2, all[1].Chain), "of the older snapshot's own record")
	require.Equal(b, uint64(6), b.load("s").Snapshot.Seq)

	old := *w
	require.NoError(b, w.Acquire(b.ctx))
	err := b.Store.PutSnapshot(b.ctx, "s", old.Fence, store.Snapshot{Seq: 6, Chain: w.Chain})
	require.ErrorIs(b, err, store.ErrStale, "from an earlier writer")
	b.write(w, 1, 10)
}

func tail(b *bench) {
	w := b.writer("s")
	ask := func(after uint64, limit int) []store.Record {
		b.Helper()
		recs, ok, err := b.Store.Tail(b.ctx, "s", after, limit)
		require.NoError(b, err)
		require.True(b, ok)
		return recs
	}
	require.Empty(b, ask(0, 10))
	all := b.write(w, 1300, 40)
	require.Equal(b, all, ask(0, 2000))
	require.Equal(b, all[:1], ask(0, 1))
	require.Equal(b, all[5:9], ask(5, 4))
	require.Equal(b, all[100:1200], ask(100, 1100), "over more than one page")
	require.Equal(b, all[1299:], ask(1299, 512))
	require.Empty(b, ask(1300, 512))
	require.Empty(b, ask(5000, 512), "after the end is not gone")
	require.Empty(b, ask(0, 0))
	require.Empty(b, ask(0, -1))
}

func tailGone(b *bench) {
	w := b.writer("s")
	all := b.write(w, 10, 10)
	b.snapshot(w)
	all = append(all, b.write(w, 10, 10)...)
	b.snapshot(w)
	for _, reopened := range []bool{false, true} {
		if reopened {
			b.reopen()
		}
		for after := range uint64(21) {
			got, ok, err := b.Store.Tail(b.ctx, "s", after, 100)
			require.NoError(b, err)
			require.Equal(b, after >= 10, ok, "after %d", after)
			if ok {
				require.True(b, slices.EqualFunc(all[after:], got, func(x, y store.Record) bool { return assert.ObjectsAreEqual(x, y) }))
			} else {
				require.Empty(b, got)
			}
		}
	}
}
