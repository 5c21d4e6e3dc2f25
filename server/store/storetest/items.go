package storetest

import (
	"strings"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store"
)

func items(b *bench) {
	for _, id := range []string{"a", "b", "aa"} {
		require.NoError(b, b.Store.Create(b.ctx, id, "e"))
	}
	put := func(table, key, value string) {
		b.Helper()
		require.NoError(b, b.Store.PutItem(b.ctx, table, key, []byte(value)))
	}
	has := func(table string, want map[string][]byte) {
		b.Helper()
		got, err := b.Store.Items(b.ctx, table)
		require.NoError(b, err)
		require.Equal(b, want, got)
	}
	put("", "k", "server")
	put("a", "k", "of a")
	put("aa", "k", "of aa")
	put("a", "a\x00 key: {}", "\x00\xff")
	put("a", strings.Repeat("k", store.MaxItemKey), "")
	put("a", "gone", "soon")
	put("a", "k", "of a, again")
	require.NoError(b, b.Store.DeleteItem(b.ctx, "a", "gone"))
	require.NoError(b, b.Store.DeleteItem(b.ctx, "a", "never there"))
	require.NoError(b, b.Store.DeleteItem(b.ctx, "b", "k"))

	wantA := map[string][]byte{"k": []byte("of a, again"), "a\x00 key: {}": {0, 255}, strings.Repeat("k", store.MaxItemKey): {}}
	for range 2 {
		has("", map[string][]byte{"k": []byte("server")})
		has("a", wantA)
		has("aa", map[string][]byte{"k": []byte("of aa")})
		has("b", map[string][]byte{})
		b.reopen()
	}
	require.NoError(b, b.Store.Delete(b.ctx, "a"))
	has("a", map[string][]byte{})
	has("aa", map[string][]byte{"k": []byte("of aa")})
	has("", map[string][]byte{"k": []byte("server")})
	require.NoError(b, b.Store.DeleteItem(b.ctx, "", "k"))
	has("", map[string][]byte{})
}

func deleteLeavesNothing(b *bench) {
	w, other := b.writer("s"), b.writer("t")
	for range 3 {
		b.write(w, 300, 20)
		b.snapshot(w)
	}
	kept := b.write(other, 5, 20)
	require.NoError(b, b.Store.PutItem(b.ctx, "s", "k", []byte("v")))
	require.NoError(b, b.Store.Delete(b.ctx, "s"))

	_, err := b.Store.Load(b.ctx, "s")
	require.ErrorIs(b, err, store.ErrNotFound)
	_, err = w.Write(b.ctx, 1, 1)
	require.ErrorIs(b, err, store.ErrNotFound)
	ids, err := b.Store.Sessions(b.ctx)
	require.NoError(b, err)
	assert.Equal(b, []string{"t"}, ids)

	require.NoError(b, b.Store.Create(b.ctx, "s", "new"))
	assert.Equal(b, store.Loaded{Epoch: "new"}, b.load("s"))
	left, err := b.Store.Items(b.ctx, "s")
	require.NoError(b, err)
	assert.Empty(b, left)
	again := &Writer{Store: b.Store, ID: "s"}
	require.NoError(b, again.Acquire(b.ctx))
	b.holds("s", b.write(again, 3, 20))
	b.holds("t", kept)
}
