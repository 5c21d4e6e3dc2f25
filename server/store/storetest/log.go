package storetest

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store"
)

func createdOnce(b *bench) {
	require.NoError(b, b.Store.Create(b.ctx, "s", "first"))
	require.ErrorIs(b, b.Store.Create(b.ctx, "s", "second"), store.ErrExists)
	require.ErrorIs(b, b.Store.Create(b.ctx, "s", "first"), store.ErrExists)
	assert.Equal(b, store.Loaded{Epoch: "first"}, b.load("s"))
}

func listed(b *bench) {
	none, err := b.Store.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Empty(b, none)

	ids := []string{"b", "B", "a.1", "a-1", "a_1", "10", "9", "a", strings.Repeat("z", store.MaxID)}
	for _, id := range ids {
		require.NoError(b, b.Store.Create(b.ctx, id, "e"))
	}
	sort.Strings(ids)
	got, err := b.Store.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Equal(b, ids, got)
}

func notFound(b *bench) {
	w := &Writer{Store: b.Store, ID: "none", Fence: 1}
	_, err := b.Store.Load(b.ctx, "none")
	assert.ErrorIs(b, err, store.ErrNotFound)
	_, _, err = b.Store.Tail(b.ctx, "none", 0, 1)
	assert.ErrorIs(b, err, store.ErrNotFound)
	_, err = b.Store.Acquire(b.ctx, "none")
	assert.ErrorIs(b, err, store.ErrNotFound)
	_, err = w.Write(b.ctx, 1, 1)
	assert.ErrorIs(b, err, store.ErrNotFound)
	assert.ErrorIs(b, w.Append(b.ctx, nil), store.ErrNotFound)
	_, err = w.Snapshot(b.ctx)
	assert.ErrorIs(b, err, store.ErrNotFound)
	assert.ErrorIs(b, b.Store.PutItem(b.ctx, "none", "k", nil), store.ErrNotFound)

	assert.NoError(b, b.Store.Delete(b.ctx, "none"))
	assert.NoError(b, b.Store.DeleteItem(b.ctx, "none", "k"))
	items, err := b.Store.Items(b.ctx, "none")
	assert.NoError(b, err)
	assert.Empty(b, items)
	all, err := b.Store.Sessions(b.ctx)
	assert.NoError(b, err)
	assert.Empty(b, all, "asking for a session does not make one")
}

func gapless(b *bench) {
	w := b.writer("s")
	all := b.write(w, 3, 20)
	skipped := *w
	skipped.Seq++
	_, err := skipped.Write(b.ctx, 1, 5)
	require.ErrorIs(b, err, store.ErrStale, "a gap")
	again := *w
	again.Seq--
	_, err = again.Write(b.ctx, 1, 5)
	require.ErrorIs(b, err, store.ErrStale, "a seq that is taken")
	first := Writer{Store: b.Store, ID: w.ID, Fence: w.Fence}
	_, err = first.Write(b.ctx, 1, 7)
	require.ErrorIs(b, err, store.ErrStale, "the first seq again, with other data")
	recs := w.Next(4, 5)
	require.ErrorIs(b, b.Store.Append(b.ctx, "s", w.Fence, slices.Delete(recs, 1, 2)), store.ErrStale, "a gap inside")
	b.holds("s", all)
	all = append(all, b.write(w, 2, 20)...)
	b.holds("s", all)
	for i, r := range all {
		assert.Equal(b, uint64(i+1), r.Seq)
	}
}

func chainMustFit(b *bench) {
	w := b.writer("s")
	all := b.write(w, 2, 9)
	for name, change := range map[string]func([]store.Record){
		"first chain":       func(r []store.Record) { r[0].Chain++ },
		"last chain":        func(r []store.Record) { r[2].Chain++ },
		"first data":        func(r []store.Record) { r[0].Data[0]++ },
		"last client":       func(r []store.Record) { r[2].Client++ },
		"fence of a record": func(r []store.Record) { r[1].Fence++ },
	} {
		recs := w.Next(3, 9)
		change(recs)
		require.ErrorIs(b, b.Store.Append(b.ctx, "s", w.Fence, recs), store.ErrStale, name)
	}
	other := *w
	other.Chain++
	_, err := other.Write(b.ctx, 1, 9)
	require.ErrorIs(b, err, store.ErrStale, "another history of the same length")
	b.holds("s", all)
	all = append(all, b.write(w, 3, 9)...)
	b.holds("s", all)
}

func asTheyWere(b *bench) {
	w := b.writer("s")
	every := make([]byte, 256)
	for i := range every {
		every[i] = byte(i)
	}
	const most = ^uint64(0)
	odd := []store.Record{
		{Client: most, Counter: most, Kind: "", Data: every},
		{Kind: strings.Repeat("k", store.MaxKind), Data: nil},
		{Client: 1 << 63, Counter: 1<<53 + 1, Kind: "ä\x00\n", Data: []byte{0}},
	}
	chain := uint64(0)
	for i := range odd {
		odd[i].Seq, odd[i].Fence = uint64(i+1), w.Fence
		odd[i].Chain = store.NextChain(chain, odd[i])
		chain = odd[i].Chain
	}
	given := copied(odd)
	require.NoError(b, w.Append(b.ctx, given))
	for i := range given {
		for j := range given[i].Data {
			given[i].Data[j] = 0xee // the caller may use his memory again
		}
	}
	b.holds("s", odd)
	got := b.load("s")
	got.Tail[0].Data[0] = 0xee
	b.holds("s", odd)
}

func large(b *bench) {
	w := b.writer("s")
	var all []store.Record
	for range 8 {
		all = append(all, b.write(w, 5, 32<<10)...)
	}
	all = append(all, b.write(w, 1, 1<<20)...)
	b.holds("s", all)
	b.reopen()
	b.holds("s", all)
}

func thousand(b *bench) {
	w := b.writer("s")
	all := b.write(w, 1024, 100)
	all = append(all, b.write(w, 1024, 100)...)
	b.holds("s", all)
}

func allOrNone(b *bench) {
	w := b.writer("s")
	all := b.write(w, 1, 10)
	recs := w.Next(20, 10)
	recs[19].Chain++
	require.ErrorIs(b, b.Store.Append(b.ctx, "s", w.Fence, recs), store.ErrStale)
	b.holds("s", all)
	require.NoError(b, w.Append(b.ctx, nil), "nothing to store is no error")
	b.holds("s", all)
	// Half of it is stored, half is not: neither a repeat nor a continuation.
	next := w.Next(4, 10)
	require.NoError(b, w.Append(b.ctx, next[:2]))
	require.ErrorIs(b, b.Store.Append(b.ctx, "s", w.Fence, next), store.ErrStale)
	b.holds("s", append(all, next[:2]...))
}

func allBack(b *bench) {
	var want []store.Loaded
	for i := range 5 {
		w := b.writer(fmt.Sprintf("s%d", i))
		b.write(w, 10*i, 64)
		if i%2 == 1 {
			b.snapshot(w)
			b.write(w, i, 64)
		}
		require.NoError(b, b.Store.PutItem(b.ctx, w.ID, "k", []byte{byte(i)}))
		want = append(want, b.load(w.ID))
	}
	require.NoError(b, b.Store.PutItem(b.ctx, "", "k", []byte("server")))
	b.reopen()
	ids, err := b.Store.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Equal(b, []string{"s0", "s1", "s2", "s3", "s4"}, ids)
	for i, id := range ids {
		assert.Equal(b, want[i], b.load(id))
		items, err := b.Store.Items(b.ctx, id)
		require.NoError(b, err)
		assert.Equal(b, map[string][]byte{"k": {byte(i)}}, items)
	}
	items, err := b.Store.Items(b.ctx, "")
	require.NoError(b, err)
	assert.Equal(b, map[string][]byte{"k": []byte("server")}, items)
}

func canceled(b *bench) {
	w := b.writer("s")
	all := b.write(w, 2, 10)
	require.NoError(b, b.Store.PutItem(b.ctx, "s", "k", []byte("v")))
	ctx, cancel := context.WithCancel(b.ctx)
	cancel()
	s := b.Store
	_, sessions := s.Sessions(ctx)
	_, acquire := s.Acquire(ctx, "s")
	_, load := s.Load(ctx, "s")
	_, _, tail := s.Tail(ctx, "s", 0, 1)
	_, items := s.Items(ctx, "s")
	for name, err := range map[string]error{
		"sessions": sessions, "acquire": acquire, "load": load, "tail": tail, "items": items,
		"create":   s.Create(ctx, "s2", "e"),
		"delete":   s.Delete(ctx, "s"),
		"append":   s.Append(ctx, "s", w.Fence, w.Next(1, 1)),
		"snapshot": s.PutSnapshot(ctx, "s", w.Fence, store.Snapshot{Seq: w.Seq, Chain: w.Chain}),
		"put":      s.PutItem(ctx, "s", "k", []byte("other")),
		"forget":   s.DeleteItem(ctx, "s", "k"),
		"ready":    s.Ready(ctx),
	} {
		assert.ErrorIs(b, err, context.Canceled, name)
	}
	b.holds("s", all)
	b.write(w, 1, 1) // still the writer
	kept, err := s.Items(b.ctx, "s")
	require.NoError(b, err)
	assert.Equal(b, map[string][]byte{"k": []byte("v")}, kept)
	ids, err := s.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Equal(b, []string{"s"}, ids)
}

func repeated(b *bench) {
	w := b.writer("s")
	one := b.write(w, 3, 10)
	two := b.write(w, 2, 10)
	all := slices.Concat(one, two)
	again := func(recs []store.Record) error { return b.Store.Append(b.ctx, "s", w.Fence, recs) }
	require.NoError(b, again(two))
	require.NoError(b, again(two))
	require.NoError(b, again(one), "also when more came after")
	require.NoError(b, again(all), "also cut in another way")
	b.holds("s", all)

	// The same history under another fence is not the same records.
	next := *w
	require.NoError(b, next.Acquire(b.ctx))
	require.ErrorIs(b, again(two), store.ErrStale)
	for i := range two {
		two[i].Fence = next.Fence
	}
	require.ErrorIs(b, b.Store.Append(b.ctx, "s", next.Fence, two), store.ErrStale)
	b.holds("s", all)
	all = append(all, b.write(&next, 1, 10)...)
	b.holds("s", all)
}

func ready(b *bench) {
	require.NoError(b, b.Store.Ready(b.ctx))
	all, err := b.Store.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Empty(b, all)
	items, err := b.Store.Items(b.ctx, "")
	require.NoError(b, err)
	assert.Empty(b, items)
}

func invalid(b *bench) {
	s, bad := b.Store, "no } id"
	_, acquire := s.Acquire(b.ctx, bad)
	_, load := s.Load(b.ctx, bad)
	_, _, tail := s.Tail(b.ctx, "", 0, 1)
	_, items := s.Items(b.ctx, bad)
	w := b.writer("s")
	for name, err := range map[string]error{
		"acquire": acquire, "load": load, "tail": tail, "items": items,
		"create":      s.Create(b.ctx, bad, "e"),
		"delete":      s.Delete(b.ctx, ""),
		"append":      s.Append(b.ctx, bad, 1, nil),
		"large":       s.Append(b.ctx, "s", w.Fence, w.Next(1, store.MaxData+1)),
		"snapshot":    s.PutSnapshot(b.ctx, bad, 1, store.Snapshot{}),
		"large state": s.PutSnapshot(b.ctx, "s", w.Fence, store.Snapshot{Data: make([]byte, store.MaxData+1)}),
		"put":         s.PutItem(b.ctx, bad, "k", nil),
		"put no key":  s.PutItem(b.ctx, "", "", nil),
		"large item":  s.PutItem(b.ctx, "", "k", make([]byte, store.MaxItem+1)),
		"forget":      s.DeleteItem(b.ctx, bad, "k"),
	} {
		assert.ErrorIs(b, err, store.ErrInvalid, name)
	}
}
