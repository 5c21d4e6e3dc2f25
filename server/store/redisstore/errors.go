package redisstore

import (
	"context"
	"errors"
	"fmt"
	"net"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"

	"halfline/server/store"
)

// refusals are the first words of Redis's errors after which nothing was
// written and a later try may go well. Sources: the error table of Redis 7.0
// (server.c, createSharedObjects) and the cluster specification.
var refusals = []string{
	"READONLY",    // a replica
	"MISCONF",     // cannot save to its disk
	"OOM",         // no memory left
	"NOREPLICAS",  // fewer than min-replicas-to-write
	"LOADING",     // reads its files after a start
	"MASTERDOWN",  // a replica without its master
	"BUSY",        // another script runs too long
	"CLUSTERDOWN", // slots without an owner
	"TRYAGAIN",    // slot on the move
	"MOVED", "ASK",
}

// isRefusal also looks inside: up to version 6 Redis wraps what a script's
// command said, "ERR Error running script ...: -OOM command not allowed ...".
func isRefusal(err error) bool {
	var r redis.Error
	if !errors.As(err, &r) {
		return false
	}
	text := r.Error()
	for _, word := range refusals {
		if strings.HasPrefix(text, word+" ") || strings.Contains(text, ": -"+word+" ") {
			return true
		}
	}
	return false
}

// explain puts an error of a call into the words of the contract. That the
// outcome is unknown means nothing where the call only reads.
func (s *Store) explain(ctx context.Context, err error) error {
	var op *net.OpError
	switch {
	case err == nil:
		return nil
	case isRefusal(err):
		return fmt.Errorf("%w: redis at %s: %v", store.ErrReadOnly, s.name, err)
	case s.single && errors.As(err, &op) && op.Op == "dial":
		// Never sent. A cluster client may have sent it before it dialed again.
		return fmt.Errorf("%w: redis at %s: %v", store.ErrReadOnly, s.name, err)
	}
	if ended := ending(ctx, err); ended != nil && !errors.Is(err, ended) {
		return fmt.Errorf("redis at %s: outcome unknown: %w: %v", s.name, ended, err)
	}
	return fmt.Errorf("redis at %s: outcome unknown: %w", s.name, err)
}

// ending is why the caller's context ended this call, if it did. On the wire its
// deadline shows as a time-out of the socket, which may be the first to notice:
// then the context has a moment to follow.
func ending(ctx context.Context, err error) error {
	var n net.Error
	if _, ok := ctx.Deadline(); !ok || !errors.As(err, &n) || !n.Timeout() {
		return ctx.Err()
	}
	const slack = 10 * time.Millisecond
	moment := time.NewTimer(slack)
	defer moment.Stop()
	select {
	case <-ctx.Done():
	case <-moment.C:
	}
	return ctx.Err()
}
