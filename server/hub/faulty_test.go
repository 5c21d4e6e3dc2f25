package hub_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/server/store"
)

// faulty is a store that fails when it is told to.
type faulty struct {
	store.Store
	mu     sync.Mutex
	gate   chan struct{}  // guarded by mu; appends wait until it is closed
	refuse error          // guarded by mu; appends and Ready answer so and write nothing
	lose   bool           // guarded by mu; appends write, and answer that they don't know
	unread error          // guarded by mu; loads answer so
	chain  uint64         // guarded by mu; loads find the chain of the last record so, 0 as it is
	cut    int            // guarded by mu; loads find so many of the last records gone
	hang   string         // guarded by mu; acquiring this session hangs
	keep   bool           // guarded by mu; items are not deleted
	noSnap bool           // guarded by mu; snapshots are refused
	snaps  int            // guarded by mu; snapshots kept
	all    []store.Record // guarded by mu; all records of the first session, whatever the store has dropped since
	one    string         // guarded by mu; its id
}

var errLost = errors.New("the answer was lost")

// hold makes appends wait until the returned function is called.
func (f *faulty) hold() (release func()) {
	gate := make(chan struct{})
	f.set(func() { f.gate = gate })
	return sync.OnceFunc(func() {
		f.set(func() { f.gate = nil })
		close(gate)
	})
}

func (f *faulty) set(how func()) {
	f.mu.Lock()
	defer f.mu.Unlock()
	how()
}

// mend ends all faults but a held gate.
func (f *faulty) mend() { f.set(func() { f.refuse, f.lose, f.unread = nil, false, nil }) }

func (f *faulty) Append(ctx context.Context, id string, fence uint64, recs []store.Record) error {
	f.mu.Lock()
	gate := f.gate
	f.mu.Unlock()
	if gate != nil {
		select {
		case <-gate:
		case <-ctx.Done():
			return fmt.Errorf("append: %w", ctx.Err())
		}
	}
	f.mu.Lock()
	refuse, lose := f.refuse, f.lose
	f.mu.Unlock()
	if refuse != nil {
		return refuse
	}
	if err := f.Store.Append(context.WithoutCancel(ctx), id, fence, recs); err != nil {
		return err
	}
	f.note(id, recs)
	if lose {
		return errLost
	}
	return nil
}

func (f *faulty) note(id string, recs []store.Record) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.one == "" {
		f.one = id
	}
	if f.one == id {
		f.all = append(f.all, recs...)
	}
}

func (f *faulty) Load(ctx context.Context, id string) (store.Loaded, error) {
	f.mu.Lock()
	err, cut, chain := f.unread, f.cut, f.chain
	f.mu.Unlock()
	if err != nil {
		return store.Loaded{}, err
	}
	l, err := f.Store.Load(ctx, id)
	l.Tail = l.Tail[:max(0, len(l.Tail)-cut)]
	if n := len(l.Tail); chain != 0 && n > 0 {
		l.Tail[n-1].Chain = chain
	}
	return l, err
}

func (f *faulty) DeleteItem(ctx context.Context, table, key string) error {
	f.mu.Lock()
	keep := f.keep
	f.mu.Unlock()
	if keep {
		return store.ErrReadOnly
	}
	return f.Store.DeleteItem(ctx, table, key)
}

func (f *faulty) Acquire(ctx context.Context, id string) (uint64, error) {
	f.mu.Lock()
	hang := f.hang == id
	f.mu.Unlock()
	if hang {
		<-ctx.Done()
		return 0, ctx.Err()
	}
	return f.Store.Acquire(ctx, id)
}

func (f *faulty) Ready(ctx context.Context) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.refuse != nil {
		return f.refuse
	}
	return f.Store.Ready(ctx)
}

func (f *faulty) PutSnapshot(ctx context.Context, id string, fence uint64, s store.Snapshot) error {
	f.mu.Lock()
	no := f.noSnap
	f.mu.Unlock()
	if no {
		return store.ErrReadOnly
	}
	err := f.Store.PutSnapshot(ctx, id, fence, s)
	if err == nil {
		f.set(func() { f.snaps++ })
	}
	return err
}

func (f *faulty) snapshots() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.snaps
}

// log is all records of the session.
func (w *world) log() []store.Record {
	w.store.mu.Lock()
	defer w.store.mu.Unlock()
	return slices.Clone(w.store.all)
}

// checkLog is D3, I2 and I6: no gaps, the chain runs through, fences never fall,
// each device's operations once and in its order.
func (w *world) checkLog() []store.Record {
	w.t.Helper()
	recs := w.log()
	require.NoError(w.t, store.CheckTail(0, 0, recs))
	l, err := w.disk.Load(w.ctx, w.id)
	require.NoError(w.t, err)
	if n := len(l.Tail); n > 0 {
		require.Equal(w.t, recs[len(recs)-n:], l.Tail)
	}
	fence, counters := uint64(0), map[uint64]uint64{}
	for _, r := range recs {
		require.GreaterOrEqual(w.t, r.Fence, fence)
		fence = r.Fence
		if r.Client != 0 {
			require.Greater(w.t, r.Counter, counters[r.Client], "operations of a device out of order, or twice")
			counters[r.Client] = r.Counter
		}
	}
	return recs
}

func place(x, y int) session.Place { return session.Place{field.Inches(x), field.Inches(y)} }

func put(who string, x, y int) session.Op {
	at := place(x, y)
	return session.Op{Do: "place", Who: who, At: &at}
}

// same compares two states as they travel.
func same(t T, want, got session.State) {
	t.Helper()
	require.Equal(t, want.Clone(), got.Clone())
}
