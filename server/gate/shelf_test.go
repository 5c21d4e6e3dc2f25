package gate

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

// TestServersOnOneStore: what one gives out, the other takes at once; what one
// takes back, the other refuses within a minute.
func TestServersOnOneStore(t *testing.T) {
	d := newDoor(t)
	other, _ := New(d.store, d.clock.now, 6)
	_, err := other.Token(d.ctx, d.player()) // has read the store now
	require.NoError(t, err)
	token, code := d.player(), d.draw("s1", false)
	_, err = other.Token(d.ctx, token)
	require.NoError(t, err)
	session, err := other.Code(d.ctx, "a", code)
	require.NoError(t, err)
	require.Equal(t, "s1", session)

	require.NoError(t, d.store.DeleteItem(d.ctx, "", hashed(tokenPrefix, token)))
	d.draw("s1", false) // the first code ends
	d.clock.pass(shelfFresh)
	_, err = other.Token(d.ctx, token)
	require.ErrorIs(t, err, ErrNoToken)
	_, err = other.Code(d.ctx, "a", code)
	require.ErrorIs(t, err, ErrNoCode)
}

// slow is a store whose readings wait to be let go.
type slow struct {
	store.Store
	began, goOn chan struct{}
}

func (s *slow) Items(ctx context.Context, table string) (map[string][]byte, error) {
	items, err := s.Store.Items(ctx, table)
	s.began <- struct{}{}
	select {
	case <-s.goOn:
		return items, err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// TestReadingUnderWayIsNotTrusted: who comes while the store is being read must
// not be told by that reading that his token is not there.
func TestReadingUnderWayIsNotTrusted(t *testing.T) {
	ctx := context.Background()
	s := &slow{Store: storetest.NewMemory(), began: make(chan struct{}), goOn: make(chan struct{})}
	g := &shelf{store: s, now: time.Now, turn: newTurn()}
	var wg sync.WaitGroup
	wg.Go(func() {
		_, ok, err := g.get(ctx, "nobody")
		assert.NoError(t, err)
		assert.False(t, ok)
	})
	<-s.began // with what the store held before the next line
	require.NoError(t, s.Store.PutItem(ctx, "", "late", []byte("x")))
	wg.Go(func() {
		raw, ok, err := g.get(ctx, "late")
		assert.NoError(t, err)
		assert.True(t, ok)
		assert.Equal(t, "x", string(raw))
	})
	s.goOn <- struct{}{}
	<-s.began
	s.goOn <- struct{}{}
	wg.Wait()
}

func TestNobodyWaitsLongerThanHeWants(t *testing.T) {
	s := &slow{Store: storetest.NewMemory(), began: make(chan struct{}), goOn: make(chan struct{})}
	g := &shelf{store: s, now: time.Now, turn: newTurn()}
	ctx, cancel := context.WithCancel(context.Background())
	var wg sync.WaitGroup
	wg.Go(func() {
		_, _, err := g.get(ctx, "a")
		assert.ErrorIs(t, err, context.Canceled, "the store hangs")
	})
	<-s.began
	for _, wait := range []func() error{
		func() error { _, _, err := g.get(ctx, "b"); return err },
		func() error { _, err := g.all(ctx); return err },
		func() error { return g.drop(ctx, "b") },
	} {
		wg.Go(func() { assert.ErrorIs(t, wait(), context.Canceled) })
	}
	cancel()
	wg.Wait()
	require.Empty(t, g.turn, "nobody has kept the turn")
}
