package gate

import (
	"context"
	"fmt"
	"maps"
	"sync"
	"time"

	"halfline/server/store"
)

// shelfFresh is how long what was read of the store is good without asking
// again: a token taken back elsewhere opens nothing after that long.
const shelfFresh = time.Minute

// shelf is the server's side table as last read. A store gives that table only
// as a whole, so a thousand devices that come back at once must not each ask
// for it (8 ms a time with 2,000 tokens, measured).
type shelf struct {
	store store.Store
	now   func() time.Time
	turn  turn // who holds it reads the store

	mu    sync.Mutex
	items map[string][]byte // guarded by mu; values are not changed
	read  time.Time         // guarded by mu; when the reading of items began
	begun int               // guarded by mu; readings, by number
	done  int               // guarded by mu; the number of the one that gave items
}

// get finds an item. What is not there is looked for in the store before it is
// said not to be: another server may have put it there a moment ago.
func (s *shelf) get(ctx context.Context, key string) (raw []byte, ok bool, err error) {
	s.mu.Lock()
	raw, ok = s.items[key]
	came, fresh := s.begun, s.now().Sub(s.read) < shelfFresh
	s.mu.Unlock()
	if ok && fresh {
		return raw, true, nil
	}
	if err := s.turn.take(ctx); err != nil {
		return nil, false, err
	}
	defer s.turn.give()
	s.mu.Lock()
	since := s.done > came // somebody has read it while this one waited
	s.mu.Unlock()
	if !since {
		if err := s.reread(ctx); err != nil {
			return nil, false, err
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	raw, ok = s.items[key]
	return raw, ok, nil
}

// all gives a copy of the whole table as it is in the store now.
func (s *shelf) all(ctx context.Context) (map[string][]byte, error) {
	if err := s.turn.take(ctx); err != nil {
		return nil, err
	}
	defer s.turn.give()
	if err := s.reread(ctx); err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return maps.Clone(s.items), nil
}

// reread reads the store; the caller has the turn, so nothing is taken off
// meanwhile. What is put meanwhile may be missed: then get looks once more.
func (s *shelf) reread(ctx context.Context) error {
	s.mu.Lock()
	s.begun++
	number, began := s.begun, s.now()
	s.mu.Unlock()
	items, err := s.store.Items(ctx, "")
	if err != nil {
		return fmt.Errorf("read tokens and codes: %w", err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.items, s.read, s.done = items, began, number
	return nil
}

func (s *shelf) put(ctx context.Context, key string, raw []byte) error {
	if err := s.store.PutItem(ctx, "", key, raw); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.items == nil {
		s.items = map[string][]byte{}
	}
	s.items[key] = raw
	return nil
}

func (s *shelf) drop(ctx context.Context, key string) error {
	if err := s.turn.take(ctx); err != nil {
		return err
	}
	defer s.turn.give()
	if err := s.store.DeleteItem(ctx, "", key); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.items, key)
	return nil
}

// turn is a lock for which one waits no longer than one wants to.
type turn chan struct{}

func newTurn() turn { return make(turn, 1) }

func (t turn) take(ctx context.Context) error {
	select {
	case t <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (t turn) give() { <-t }
