package redisstore

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/redis/go-redis/v9"

	"halfline/server/store"
)

// waitTimeout is how long a write waits for replicas; a caller's earlier
// deadline ends the call all the same.
const waitTimeout = time.Second

// Store is an open connection pool to one Redis or cluster.
type Store struct {
	// fixed at construction
	client redis.UniversalClient
	name   string // where, for messages
	wait   int    // replicas to wait for
	single bool   // one server, so a call that could not dial was never sent

	heads heads
}

var _ store.Store = (*Store)(nil)

const (
	keySessions = "hl:sessions"
	keyServer   = "hl:server"
	keyReady    = "hl:ready"
)

func keyMeta(id string) string  { return "hl:{" + id + "}:meta" }
func keyLog(id string) string   { return "hl:{" + id + "}:log" }
func keySnap(id string) string  { return "hl:{" + id + "}:snap" }
func keyItems(id string) string { return "hl:{" + id + "}:items" }

// Close lets the connections go.
func (s *Store) Close() error {
	if err := s.client.Close(); err != nil && !errors.Is(err, redis.ErrClosed) {
		return fmt.Errorf("close redis at %s: %w", s.name, err)
	}
	return nil
}

// run runs a script that writes; its answer comes when the write is stable.
func (s *Store) run(ctx context.Context, script luaScript, keys []string, args ...any) (any, error) {
	return s.eval(ctx, s.write, script, keys, args)
}

// ask runs a script that only reads.
func (s *Store) ask(ctx context.Context, script luaScript, keys []string, args ...any) (any, error) {
	return s.eval(ctx, func(ctx context.Context, _ string, command ...any) (any, error) {
		return s.client.Do(ctx, command...).Result()
	}, script, keys, args)
}

type send func(ctx context.Context, key string, command ...any) (any, error)

// eval answers nil without an error where the script answers nothing.
func (s *Store) eval(ctx context.Context, by send, script luaScript, keys []string, args []any) (any, error) {
	call := func(verb, text string) []any {
		all := make([]any, 0, 3+len(keys)+len(args))
		all = append(all, verb, text, len(keys))
		for _, k := range keys {
			all = append(all, k)
		}
		return append(all, args...)
	}
	answer, err := by(ctx, keys[0], call("evalsha", script.hash)...)
	if err != nil && strings.HasPrefix(err.Error(), "NOSCRIPT ") {
		answer, err = by(ctx, keys[0], call("eval", script.text)...)
	}
	if err != nil && !isNil(err) {
		return nil, s.explain(ctx, err)
	}
	return answer, nil
}

// write sends one command and waits for as many replicas as are asked for.
func (s *Store) write(ctx context.Context, key string, command ...any) (any, error) {
	if s.wait == 0 {
		return s.client.Do(ctx, command...).Result()
	}
	node, err := s.node(ctx, key)
	if err != nil {
		return nil, err
	}
	// WAIT counts what went before it on the same connection.
	pipe := node.Pipeline()
	done := pipe.Do(ctx, command...)
	reached := pipe.Do(ctx, "wait", s.wait, waitTimeout.Milliseconds())
	_, pipeErr := pipe.Exec(ctx)
	answer, err := done.Result()
	if err != nil && !isNil(err) {
		return nil, err
	}
	n, err := reached.Int()
	switch {
	case err != nil:
		return nil, cmp.Or(pipeErr, err)
	case n < s.wait:
		return nil, fmt.Errorf("only %d of %d replicas have it", n, s.wait)
	}
	return answer, nil
}

// node is the master that holds a key.
func (s *Store) node(ctx context.Context, key string) (*redis.Client, error) {
	switch c := s.client.(type) {
	case *redis.ClusterClient:
		return c.MasterForKey(ctx, key)
	case *redis.Client:
		return c, nil
	}
	return nil, fmt.Errorf("client of kind %T", s.client)
}

// status turns a script's answer into the contract's refusals.
func status(answer any) error {
	switch answer {
	case "OK":
		return nil
	case "STALE":
		return store.ErrStale
	case "NOTFOUND":
		return store.ErrNotFound
	case "EXISTS":
		return store.ErrExists
	}
	return fmt.Errorf("script answered %v", answer)
}

// head is where a log ends.
type head struct{ seq, chain uint64 }

// maxHeads is far above the sessions that one server can own.
const maxHeads = 4096

// heads remembers where logs ended when this process last looked. It may be
// out of date at any time; the scripts do not trust it.
type heads struct {
	mu sync.Mutex
	of map[string]head // guarded by mu
}

func (h *heads) get(id string) (head, bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	got, ok := h.of[id]
	return got, ok
}

func (h *heads) put(id string, now head) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if len(h.of) >= maxHeads {
		clear(h.of) // each is one short call to get again
	}
	h.of[id] = now
}

func (h *heads) forget(id string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.of, id)
}
