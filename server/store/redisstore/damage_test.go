package redisstore

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store"
)

func TestI2DamagedLogIsRefused(t *testing.T) {
	spoil := map[string]func(t *testing.T, s *Store){
		"missing record": func(t *testing.T, s *Store) {
			require.NoError(t, s.client.XDel(t.Context(), keyLog("s"), "0-2").Err())
		},
		"missing end": func(t *testing.T, s *Store) {
			require.NoError(t, s.client.XDel(t.Context(), keyLog("s"), "0-3").Err())
		},
		"missing log": func(t *testing.T, s *Store) {
			require.NoError(t, s.client.Del(t.Context(), keyLog("s")).Err())
		},
		"flipped bit": func(t *testing.T, s *Store) {
			all, err := s.client.XRange(t.Context(), keyLog("s"), "-", "+").Result()
			require.NoError(t, err)
			require.NoError(t, s.client.Del(t.Context(), keyLog("s")).Err())
			for i, e := range all {
				b := []byte(e.Values["r"].(string))
				if i == 1 {
					b[len(b)-1] ^= 1
				}
				require.NoError(t, s.client.Do(t.Context(), "xadd", keyLog("s"), e.ID, "r", b).Err())
			}
		},
		"head": func(t *testing.T, s *Store) {
			require.NoError(t, s.client.HSet(t.Context(), keyMeta("s"), "chain", "00").Err())
		},
		"no head": func(t *testing.T, s *Store) {
			require.NoError(t, s.client.HSet(t.Context(), keyMeta("s"), "seq", "many").Err())
		},
	}
	for name, change := range spoil {
		t.Run(name, func(t *testing.T) {
			s, _, _ := start(t, redisproc.Start(t), "")
			change(t, s)
			_, err := s.Load(t.Context(), "s")
			require.ErrorIs(t, err, store.ErrDamaged)
			assert.Contains(t, err.Error(), "backup")
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

// A damaged snapshot costs nothing as long as the log reaches back behind it.
func TestD5DamagedSnapshotGoesBack(t *testing.T) {
	s, w, recs := start(t, redisproc.Start(t), "")
	spoil := func(seq string) {
		b, err := s.client.HGet(t.Context(), keySnap("s"), seq).Bytes()
		require.NoError(t, err)
		b[len(b)-1] ^= 1
		require.NoError(t, s.client.HSet(t.Context(), keySnap("s"), seq, b).Err())
	}
	_, err := w.Snapshot(t.Context())
	require.NoError(t, err)
	spoil("3")
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
	spoil("5")
	l, err = s.Load(t.Context(), "s")
	require.NoError(t, err)
	assert.Equal(t, &older, l.Snapshot)
	assert.Equal(t, next, l.Tail)

	spoil("3")
	_, err = s.Load(t.Context(), "s")
	require.ErrorIs(t, err, store.ErrDamaged)
	assert.NotContains(t, err.Error(), "\n")
}

// What was deleted, or written over, cannot be read from Redis's files any more.
func TestI13CompactForgets(t *testing.T) {
	p := redisproc.Start(t, append([]string{"save 3600 1000000"}, durable...)...)
	s, w, recs := start(t, p, "")
	scan := func() (all []byte) {
		require.NoError(t, filepath.WalkDir(p.Folder(), func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			b, err := os.ReadFile(path)
			all = append(all, b...)
			return err
		}))
		return all
	}
	canary := func(n int) []byte { return fmt.Appendf(nil, "canary-number-%d", n) }
	for n := 1; n <= 3; n++ {
		require.NoError(t, s.PutItem(t.Context(), "s", fmt.Sprint(n), canary(n)))
		require.True(t, bytes.Contains(scan(), canary(n)), "the scan sees it")
	}
	require.NoError(t, s.DeleteItem(t.Context(), "s", "1"))
	require.NoError(t, s.PutItem(t.Context(), "s", "2", []byte("short")))
	require.NoError(t, s.Compact(t.Context()))
	all := scan()
	assert.False(t, bytes.Contains(all, canary(1)))
	assert.False(t, bytes.Contains(all, canary(2)))
	assert.True(t, bytes.Contains(all, canary(3)))
	next, err := w.Write(t.Context(), 1, 10)
	require.NoError(t, err)
	p.Restart()
	untilTrue(t, "reconnected", func() bool { return s.Ready(t.Context()) == nil })
	holds(t, s, "s", append(recs, next...))
}
