package redisstore

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store"
	"halfline/server/store/storetest"
)

// start makes a session of three records on a Redis of the test's own.
func start(t *testing.T, p *redisproc.Proc, query string) (*Store, *storetest.Writer, []store.Record) {
	t.Helper()
	s := connect(t, p.URL()+query)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	w, err := storetest.NewWriter(t.Context(), s, "s")
	require.NoError(t, err)
	recs, err := w.Write(t.Context(), 3, 20)
	require.NoError(t, err)
	return s, w, recs
}

func holds(t *testing.T, s *Store, id string, want []store.Record) {
	t.Helper()
	l, err := s.Load(t.Context(), id)
	require.NoError(t, err)
	require.Equal(t, want, l.Tail)
}

func config(t *testing.T, s *Store, key, value string) {
	t.Helper()
	require.NoError(t, s.client.ConfigSet(t.Context(), key, value).Err())
}

// until polls a condition of the server.
func untilTrue(t *testing.T, what string, ask func() bool) {
	t.Helper()
	require.Eventually(t, ask, 10*time.Second, 10*time.Millisecond, what)
}

// Each trouble of the server's storage refuses all writes, writes nothing,
// leaves reading as it was, and passes.
func TestD13ServerThatTakesNoWrites(t *testing.T) {
	troubles := map[string]struct {
		begin, end func(*testing.T, *Store, *redisproc.Proc)
	}{
		"READONLY": {
			func(t *testing.T, s *Store, p *redisproc.Proc) {
				// A replica of itself never finds its master, and is one all the same.
				require.NoError(t, s.client.Do(t.Context(), "REPLICAOF", "127.0.0.1", p.Port()).Err())
			},
			func(t *testing.T, s *Store, _ *redisproc.Proc) {
				require.NoError(t, s.client.Do(t.Context(), "REPLICAOF", "NO", "ONE").Err())
			},
		},
		"OOM": {
			func(t *testing.T, s *Store, _ *redisproc.Proc) { config(t, s, "maxmemory", "1") },
			func(t *testing.T, s *Store, _ *redisproc.Proc) { config(t, s, "maxmemory", "0") },
		},
		"NOREPLICAS": {
			func(t *testing.T, s *Store, _ *redisproc.Proc) { config(t, s, "min-replicas-to-write", "1") },
			func(t *testing.T, s *Store, _ *redisproc.Proc) { config(t, s, "min-replicas-to-write", "0") },
		},
		"MISCONF": {
			func(t *testing.T, s *Store, p *redisproc.Proc) {
				// Its save fails for real: the folder is gone under its feet.
				folder := filepath.Join(p.Folder(), "gone")
				require.NoError(t, os.Mkdir(folder, 0o700))
				config(t, s, "save", "3600 1000000")
				config(t, s, "dir", folder)
				require.NoError(t, os.Remove(folder))
				require.NoError(t, s.client.BgSave(t.Context()).Err())
				untilTrue(t, "save fails", func() bool {
					return infoFields(s.client.Info(t.Context(), "persistence").Val())["rdb_last_bgsave_status"] == "err"
				})
			},
			func(t *testing.T, s *Store, _ *redisproc.Proc) {
				config(t, s, "stop-writes-on-bgsave-error", "no")
			},
		},
	}
	for code, trouble := range troubles {
		t.Run(code, func(t *testing.T) {
			p := redisproc.Start(t, "enable-protected-configs yes") // for dir
			s, w, recs := start(t, p, "")
			require.NoError(t, s.PutItem(t.Context(), "s", "k", []byte("v")))
			trouble.begin(t, s, p)
			next := w.Next(2, 20)
			_, acquire := s.Acquire(t.Context(), "s")
			_, snapshot := w.Snapshot(t.Context())
			for what, err := range map[string]error{
				"append": w.Append(t.Context(), next), "create": s.Create(t.Context(), "new", "e"),
				"put": s.PutItem(t.Context(), "s", "k", []byte("other")), "ready": s.Ready(t.Context()),
				"acquire": acquire, "snapshot": snapshot,
			} {
				if code == "OOM" && what == "acquire" {
					continue // HINCRBY of a few bytes may be let through
				}
				require.ErrorIs(t, err, store.ErrReadOnly, what)
				assert.Contains(t, err.Error(), code, what)
				assert.NotContains(t, err.Error(), "\n", what)
			}
			holds(t, s, "s", recs)
			got, ok, err := s.Tail(t.Context(), "s", 1, 9)
			require.NoError(t, err)
			require.True(t, ok)
			require.Equal(t, recs[1:], got)
			items, err := s.Items(t.Context(), "s")
			require.NoError(t, err)
			require.Equal(t, map[string][]byte{"k": []byte("v")}, items)

			trouble.end(t, s, p)
			require.NoError(t, s.Ready(t.Context()))
			if code == "OOM" {
				require.NoError(t, w.Acquire(t.Context()))
				next = w.Next(2, 20)
			}
			require.NoError(t, w.Append(t.Context(), next), "the same writer goes on")
			holds(t, s, "s", append(recs, next...))
			ids, err := s.Sessions(t.Context())
			require.NoError(t, err)
			assert.Equal(t, []string{"s"}, ids)
		})
	}
}

type reply string

func (r reply) Error() string { return string(r) }
func (r reply) RedisError()   {}

var _ redis.Error = reply("")

// Texts as Redis 7.0 and 6.2 give them from a command and from a script.
func TestD13RefusalsAreTold(t *testing.T) {
	s := &Store{name: "here", single: true}
	for _, text := range []string{
		"READONLY You can't write against a read only replica.",
		"READONLY You can't write against a read only replica. script: 5c1d, on @user_script:9.",
		"ERR Error running script (call to f_5c1d): @user_script:9: @user_script: 9: -READONLY You can't write against a read only replica.",
		"ERR Error running script (call to f_5c1d): @user_script:9: @user_script: 9: -OOM command not allowed when used memory > 'maxmemory'.",
		"MISCONF Errors writing to the AOF file: No space left on device",
		"NOREPLICAS Not enough good replicas to write.",
		"LOADING Redis is loading the dataset in memory",
		"MASTERDOWN Link with MASTER is down and replica-serve-stale-data is set to 'no'.",
		"BUSY Redis is busy running a script. You can only call SCRIPT KILL or SHUTDOWN NOSAVE.",
		"CLUSTERDOWN The cluster is down",
	} {
		assert.ErrorIs(t, s.explain(t.Context(), reply(text)), store.ErrReadOnly, text)
	}
	for _, text := range []string{
		"ERR unknown command 'EVALSHA'", "WRONGTYPE Operation against a key holding the wrong kind of value",
		"OOMPH", "ERR something about READONLY in the middle",
	} {
		assert.NotErrorIs(t, s.explain(t.Context(), reply(text)), store.ErrReadOnly, text)
	}
	// A refusal counts as such only from the server itself.
	assert.NotErrorIs(t, s.explain(t.Context(), fmt.Errorf("READONLY by chance")), store.ErrReadOnly)

	dial := &net.OpError{Op: "dial", Err: os.ErrDeadlineExceeded}
	read := &net.OpError{Op: "read", Err: os.ErrDeadlineExceeded}
	assert.ErrorIs(t, s.explain(t.Context(), dial), store.ErrReadOnly, "never sent")
	assert.NotErrorIs(t, s.explain(t.Context(), read), store.ErrReadOnly, "perhaps done")
	s.single = false
	assert.NotErrorIs(t, s.explain(t.Context(), dial), store.ErrReadOnly, "a cluster client may have sent it before")
}

// While Redis hangs, an append ends with its deadline and nobody knows whether
// it is done. It is repeated until there is an answer, and is there once.
func TestI1HungServerIsUnknown(t *testing.T) {
	p := redisproc.Start(t)
	s, w, recs := start(t, p, "")
	next := w.Next(2, 20)
	p.Pause()
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	began := time.Now()
	err := w.Append(ctx, next)
	require.ErrorIs(t, err, context.DeadlineExceeded)
	assert.Contains(t, err.Error(), "outcome unknown")
	assert.NotErrorIs(t, err, store.ErrReadOnly)
	assert.Less(t, time.Since(began), 2*time.Second, "the deadline holds on the wire")
	p.Resume()
	require.NoError(t, w.Append(t.Context(), next))
	holds(t, s, "s", append(recs, next...))
}

// Without a server nothing is written and the caller knows it; when it is back
// he goes on, with nothing opened anew.
func TestD13ServerGoneAndBack(t *testing.T) {
	p := redisproc.Start(t, durable...)
	s, w, recs := start(t, p, "")
	p.Kill()
	next := w.Next(2, 20)
	require.Error(t, w.Append(t.Context(), next), "on a connection of before it may be anything")
	require.Eventually(t, func() bool {
		err := w.Append(t.Context(), next)
		require.Error(t, err)
		return assert.ErrorIs(&quietT{}, err, store.ErrReadOnly)
	}, 10*time.Second, time.Millisecond)
	_, err := s.Load(t.Context(), "s")
	require.Error(t, err)
	require.Error(t, s.Ready(t.Context()))
	p.Restart()
	require.Eventually(t, func() bool { return w.Append(t.Context(), next) == nil }, 10*time.Second, 10*time.Millisecond)
	holds(t, s, "s", append(recs, next...))
}

type quietT struct{}

func (*quietT) Errorf(string, ...any) {}

// Scripts are known again after the server forgot them.
func TestScriptsSurviveFlush(t *testing.T) {
	for _, query := range []string{"", "?wait=0"} {
		p := redisproc.Start(t)
		s, w, recs := start(t, p, query)
		require.NoError(t, s.client.ScriptFlush(t.Context()).Err())
		more, err := w.Write(t.Context(), 2, 20)
		require.NoError(t, err)
		require.NoError(t, s.client.ScriptFlush(t.Context()).Err())
		holds(t, s, "s", append(recs, more...))
	}
}
