package gate

import (
	"context"
	"errors"
	"maps"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// clock is a time that only tests move.
type clock struct {
	mu sync.Mutex
	t  time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.t
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.t = c.t.Add(d)
}

// faulty is a store that counts its readings and fails on demand.
type faulty struct {
	store.Store
	reads           atomic.Int64
	noPut, noDelete atomic.Pointer[error]
}

func (f *faulty) Items(ctx context.Context, table string) (map[string][]byte, error) {
	f.reads.Add(1)
	return f.Store.Items(ctx, table)
}

func (f *faulty) PutItem(ctx context.Context, table, key string, value []byte) error {
	if err := f.noPut.Load(); err != nil {
		return *err
	}
	return f.Store.PutItem(ctx, table, key, value)
}

func (f *faulty) DeleteItem(ctx context.Context, table, key string) error {
	if err := f.noDelete.Load(); err != nil {
		return *err
	}
	return f.Store.DeleteItem(ctx, table, key)
}

var errDisk = errors.New("disk on fire")

// door is a gate with all that stands around it.
type door struct {
	testing.TB
	*Gate
	ctx   context.Context
	key   string
	store *faulty
	clock *clock
}

func newDoor(t testing.TB) *door {
	d := &door{TB: t, ctx: context.Background(), store: &faulty{Store: storetest.NewMemory()}, clock: &clock{t: time.Unix(1_800_000_000, 0)}}
	d.restart()
	return d
}

// restart makes a new gate on the same store, as a new process does.
func (d *door) restart() { d.Gate, d.key = New(d.store, d.clock.now, 6) }

func (d *door) player() string {
	d.Helper()
	token, err := d.Player(d.ctx, "s1", "m1")
	require.NoError(d, err)
	return token
}

func (d *door) coach() string {
	d.Helper()
	token, err := d.Coach(d.ctx, "here", d.key)
	require.NoError(d, err)
	return token
}

func (d *door) draw(session string, keep bool) string {
	d.Helper()
	code, err := d.Draw(d.ctx, session, keep)
	require.NoError(d, err)
	return code
}

// opens requires that a code opens a session for an address of its own, so that
// the limiter has no say.
func (d *door) opens(session, code string) {
	d.Helper()
	got, err := d.Code(d.ctx, "opens", code)
	require.NoError(d, err)
	require.Equal(d, session, got)
}

func (d *door) shut(code string) {
	d.Helper()
	_, err := d.Code(d.ctx, "shut "+code, code)
	require.ErrorIs(d, err, ErrNoCode)
}

// kept is all that the store has of the gate.
func (d *door) kept() map[string][]byte {
	d.Helper()
	items, err := d.store.Store.Items(d.ctx, "")
	require.NoError(d, err)
	return maps.Clone(items)
}
