package redisstore

import (
	"io"
	"net"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store"
	"halfline/server/store/storetest"
)

// forgetful passes bytes between clients and a server. Armed, it lets the next
// requests through and, when their reply comes, drops it and the connection.
type forgetful struct {
	addr  string
	armed atomic.Int32 // how many replies are still to be lost
	lost  atomic.Int32
}

func forget(t *testing.T, server string) *forgetful {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	f := &forgetful{addr: l.Addr().String()}
	var wg sync.WaitGroup
	wg.Go(func() {
		for {
			client, err := l.Accept()
			if err != nil {
				return
			}
			up, err := net.Dial("tcp", server)
			if err != nil {
				client.Close()
				continue
			}
			wg.Go(func() { _, _ = io.Copy(up, client); up.Close() })
			wg.Go(func() { f.replies(client, up); client.Close(); up.Close() })
		}
	})
	t.Cleanup(func() { l.Close(); wg.Wait() }) // clients are closed by then
	return f
}

func (f *forgetful) replies(client, up net.Conn) {
	b := make([]byte, 64<<10)
	for {
		n, err := up.Read(b)
		if err != nil {
			return
		}
		if f.armed.Load() > 0 {
			f.armed.Add(-1)
			f.lost.Add(1)
			return
		}
		if _, err := client.Write(b[:n]); err != nil {
			return
		}
	}
}

// An append whose reply is lost has happened. Its caller hears that the outcome
// is unknown, repeats it, and it is there once.
func TestI5LostReplyIsRepeatedOnce(t *testing.T) {
	p := redisproc.Start(t)
	f := forget(t, p.Addr)
	s := connect(t, "redis://"+f.addr)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	w, err := storetest.NewWriter(t.Context(), s, "s")
	require.NoError(t, err)
	all, err := w.Write(t.Context(), 1, 30) // from here on the server knows the script
	require.NoError(t, err)
	for round := range 3 {
		next := w.Next(1+round, 30)
		f.armed.Store(1)
		err := w.Append(t.Context(), next)
		require.Error(t, err)
		require.Contains(t, err.Error(), "outcome unknown")
		require.NotErrorIs(t, err, store.ErrReadOnly)
		require.NotErrorIs(t, err, store.ErrStale)
		require.Equal(t, int32(round+1), f.lost.Load())
		all = append(all, next...)
		holds(t, s, "s", all)
		require.NoError(t, w.Append(t.Context(), next))
		holds(t, s, "s", all)
		more, err := w.Write(t.Context(), 1, 30)
		require.NoError(t, err)
		all = append(all, more...)
	}
	holds(t, s, "s", all)
}

// go-redis repeats calls by itself where it is told to, and in a cluster: each
// write must bear that. Every kind is sent with its first two replies lost.
func TestI5EveryWriteMayBeSentTwice(t *testing.T) {
	p := redisproc.Start(t)
	f := forget(t, p.Addr)
	target, err := parseURL("redis://" + f.addr)
	require.NoError(t, err)
	target.options.MaxRetries = 3
	s, _, err := open(t.Context(), target)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	losing := func(what string, call func() error) {
		t.Helper()
		before := f.lost.Load()
		f.armed.Store(2)
		require.NoError(t, call(), what)
		require.Equal(t, before+2, f.lost.Load(), what)
	}
	losing("create", func() error { return s.Create(t.Context(), "s", "e") })
	w := &storetest.Writer{Store: s, ID: "s"}
	losing("acquire", func() error { return w.Acquire(t.Context()) })
	var all []store.Record
	losing("append", func() error {
		recs, err := w.Write(t.Context(), 3, 30)
		all = recs
		return err
	})
	holds(t, s, "s", all)
	losing("snapshot", func() error { _, err := w.Snapshot(t.Context()); return err })
	losing("put", func() error { return s.PutItem(t.Context(), "s", "k", []byte("v")) })
	items, err := s.Items(t.Context(), "s")
	require.NoError(t, err)
	assert.Equal(t, map[string][]byte{"k": []byte("v")}, items)
	losing("forget", func() error { return s.DeleteItem(t.Context(), "s", "k") })
	losing("delete", func() error { return s.Delete(t.Context(), "s") })
	ids, err := s.Sessions(t.Context())
	require.NoError(t, err)
	assert.Empty(t, ids)
}
