package redisstore

import (
	"errors"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store"
	"halfline/server/store/storetest"
)

// The whole contract in cluster mode: a key outside of its session's slot would
// be refused.
func TestContractInCluster(t *testing.T) {
	p := redisproc.Start(t, "cluster-enabled yes", "cluster-node-timeout 2000")
	c := redis.NewClient(&redis.Options{Addr: p.Addr})
	require.NoError(t, c.ClusterAddSlotsRange(t.Context(), 0, 16383).Err())
	untilTrue(t, "cluster is up", func() bool {
		info, err := c.ClusterInfo(t.Context()).Result()
		return err == nil && infoFields(info)["cluster_state"] == "ok"
	})
	require.NoError(t, c.Close())
	suite(t, p.URL()+"?cluster=1")
}

// pair is a primary and a replica that has all of it.
func pair(t *testing.T) (primary, replica *redisproc.Proc) {
	t.Helper()
	primary = redisproc.Start(t, append([]string{"repl-diskless-sync-delay 0"}, durable...)...)
	replica = redisproc.Start(t, append([]string{"replicaof 127.0.0.1 " + primary.Port()}, durable...)...)
	c := redis.NewClient(&redis.Options{Addr: replica.Addr})
	untilTrue(t, "replica is in step", func() bool {
		return infoFields(c.Info(t.Context(), "replication").Val())["master_link_status"] == "up"
	})
	require.NoError(t, c.Close())
	return primary, replica
}

// With wait=1 an append is acknowledged only once a replica has it; until then
// its outcome is unknown, and a repeat waits in the same way.
func TestD1WaitForReplica(t *testing.T) {
	primary, replica := pair(t)
	s, w, recs := start(t, primary, "?wait=1")
	next := w.Next(2, 20)
	replica.Pause()
	for range 2 {
		err := w.Append(t.Context(), next)
		require.Error(t, err)
		assert.Contains(t, err.Error(), "outcome unknown: only 0 of 1 replicas have it")
		assert.False(t, errors.Is(err, store.ErrReadOnly) || errors.Is(err, store.ErrStale))
	}
	holds(t, s, "s", append(recs, next...)) // reading waits for nobody
	replica.Resume()
	require.NoError(t, w.Append(t.Context(), next))

	primary.Kill()
	promoted := connect(t, replica.URL())
	t.Cleanup(func() { require.NoError(t, promoted.Close()) })
	require.NoError(t, promoted.client.Do(t.Context(), "REPLICAOF", "NO", "ONE").Err())
	holds(t, promoted, "s", append(recs, next...))
}

// A fail-over to a replica that was cut off loses the end of the log. A hub
// that is still alive takes the session again and gives the rest back: the
// history is the same, chain and all, and fences still grow.
func TestD7ShorterLogIsGivenItsRest(t *testing.T) {
	primary, replica := pair(t)
	s, w, recs := start(t, primary, "")
	c := redis.NewClient(&redis.Options{Addr: replica.Addr})
	t.Cleanup(func() { require.NoError(t, c.Close()) })
	untilTrue(t, "replica has the first records", func() bool {
		n, err := c.XLen(t.Context(), keyLog("s")).Result()
		return err == nil && n == 3
	})
	// The link is cut: from here on the replica hears of nothing.
	require.NoError(t, c.Do(t.Context(), "REPLICAOF", "NO", "ONE").Err())
	for range 3 { // fences that the replica never hears of
		require.NoError(t, w.Acquire(t.Context()))
	}
	rest, err := w.Write(t.Context(), 4, 20)
	require.NoError(t, err)
	holds(t, s, "s", append(recs, rest...))
	primary.Kill()

	promoted := connect(t, replica.URL())
	t.Cleanup(func() { require.NoError(t, promoted.Close()) })
	holds(t, promoted, "s", recs)
	next := w.Next(1, 20)
	err = promoted.Append(t.Context(), "s", w.Fence, next)
	require.ErrorIs(t, err, store.ErrStale, "its log cannot go on here")

	again := &storetest.Writer{Store: promoted, ID: "s", Seq: 3, Chain: recs[2].Chain}
	require.NoError(t, again.Acquire(t.Context()))
	assert.NotEqual(t, w.Fence, again.Fence, "no fence is given to two")
	for i := range rest {
		rest[i].Fence = again.Fence
	}
	require.NoError(t, again.Append(t.Context(), rest))
	holds(t, promoted, "s", append(recs, rest...))
	assert.Equal(t, w.Chain, again.Chain)
}

// Two stores, as two hubs have them, remember where a log ends; what one of
// them remembers is out of date as soon as the other writes.
func TestI6RememberedHeadIsNotTrusted(t *testing.T) {
	p := redisproc.Start(t)
	s, w, recs := start(t, p, "")
	other := connect(t, p.URL())
	t.Cleanup(func() { require.NoError(t, other.Close()) })
	second := *w
	second.Store = other
	require.NoError(t, second.Acquire(t.Context()))
	more, err := second.Write(t.Context(), 2, 20)
	require.NoError(t, err)
	_, err = w.Write(t.Context(), 1, 20)
	require.ErrorIs(t, err, store.ErrStale)

	// The same length, another history: deleted and written anew elsewhere.
	require.NoError(t, other.Delete(t.Context(), "s"))
	fresh, err := storetest.NewWriter(t.Context(), other, "s")
	require.NoError(t, err)
	anew, err := fresh.Write(t.Context(), 5, 33)
	require.NoError(t, err)
	stale := second
	stale.Store, stale.Fence = s, fresh.Fence
	s.heads.put("s", head{second.Seq, second.Chain})
	_, err = stale.Write(t.Context(), 1, 20)
	require.ErrorIs(t, err, store.ErrStale, "right fence, right seq, another chain")
	// And the right writer is not held up by what is remembered wrongly.
	fresh.Store = s
	s.heads.put("s", head{fresh.Seq, 1})
	last, err := fresh.Write(t.Context(), 1, 20)
	require.NoError(t, err)
	holds(t, s, "s", append(anew, last...))
	assert.Len(t, append(recs, more...), 5)
}

// A log that is cut while it is read page by page is read again.
func TestD5LoadWhileCut(t *testing.T) {
	p := redisproc.Start(t)
	s, w, _ := start(t, p, "")
	stop := make(chan struct{})
	done := make(chan error, 1)
	go func() {
		for {
			select {
			case <-stop:
				done <- nil
				return
			default:
			}
			_, err := w.Write(t.Context(), 700, 10)
			if err == nil {
				_, err = w.Snapshot(t.Context())
			}
			if err != nil {
				done <- err
				return
			}
		}
	}()
	end := time.NewTimer(500 * time.Millisecond)
	defer end.Stop()
	for loads := 0; ; loads++ {
		select {
		case <-end.C:
			close(stop)
			require.NoError(t, <-done)
			assert.Positive(t, loads)
			return
		default:
		}
		l, err := s.Load(t.Context(), "s")
		require.NoError(t, err)
		if l.Snapshot != nil {
			require.NoError(t, store.CheckTail(l.Snapshot.Seq, l.Snapshot.Chain, l.Tail))
		}
		_, _, err = s.Tail(t.Context(), "s", tailFrom(l), 2000)
		require.NoError(t, err)
	}
}

// tailFrom is where a reader would ask to get the tail of l.
func tailFrom(l store.Loaded) uint64 {
	if l.Snapshot == nil {
		return 0
	}
	return l.Snapshot.Seq
}
