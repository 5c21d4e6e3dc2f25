package hub_test

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
	"pgregory.net/rapid"

	"halfline/internal/book"
	"halfline/internal/rehearse/twin"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
	"halfline/server/hub"
	"halfline/server/store/storetest"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

var herons = sync.OnceValues(func() (*book.Book, error) { return book.Shipped("herons") })

func books(id string) (*book.Book, error) {
	if id == "herons" {
		return herons()
	}
	return book.Shipped(id)
}

// world is a hub on a store that can be made to fail, in fake time.
type world struct {
	t     T
	ctx   context.Context
	disk  *storetest.Memory
	store *faulty
	hub   *hub.Hub
	id    string
	ids   int           // devices so far
	skew  *atomic.Int64 // ms by which the hub's clock is wrong
}

// T is a *testing.T or a *rapid.T.
type T interface {
	require.TestingT
	Helper()
	Fatal(...any)
}

// bubble runs a test in fake time with one session begun.
func bubble(t *testing.T, f func(t T, w *world)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		w := newWorld(t)
		defer func() { w.hub.Close() }()
		f(t, w)
	})
}

// bubbles runs a property so, each try in a bubble of its own.
func bubbles(t *testing.T, f func(rt *rapid.T, w *world)) {
	rapid.Check(t, func(rt *rapid.T) {
		var failure any
		synctest.Test(t, func(*testing.T) {
			defer func() { failure = recover() }() // it must not leave the bubble's goroutine
			w := newWorld(rt)
			defer func() { w.hub.Close() }()
			f(rt, w)
		})
		if failure != nil {
			panic(failure)
		}
	})
}

func newWorld(t T) *world {
	w := &world{t: t, ctx: context.Background(), disk: storetest.NewMemory(), skew: &atomic.Int64{}}
	w.store = &faulty{Store: w.disk}
	w.start()
	var err error
	w.id, err = w.hub.Create(w.ctx, "Tuesday", "herons")
	require.NoError(t, err)
	return w
}

// start runs a hub on what is stored.
func (w *world) start() { w.hub = hub.New(hub.Options{Store: w.store, Books: books, Now: w.now}) }

// now is the hub's time, ms.
func (w *world) now() int64 { return time.Now().UnixMilli() + w.skew.Load() }

// restart stops the hub and starts another.
func (w *world) restart() {
	w.hub.Close()
	w.start()
}

// phone is a device: a twin that reads its frames when it is told to.
type phone struct {
	w    *world
	pass hub.Pass
	wall bool
	twin *twin.Twin
	link *hub.Link
	line *line
	all  []sent    // every frame of every connection, read or not
	news twin.News // all that the frames read so far asked for
	// spoil, if set, falsifies what the next hello says it has.
	spoil func(*wire.Resume)
}

// validated are frames that were held to the schema already: many devices get
// the same one.
var validated sync.Map

type sent struct{ frame, key string }

// line is one connection, with an outbox as a socket has one.
type line struct {
	t     T
	mu    sync.Mutex
	queue []sent // guarded by mu
	all   []sent // guarded by mu
	code  int    // guarded by mu; 0: open
	full  bool   // guarded by mu; as if the device had fallen behind
}

// Send queues a frame as the outbox of a socket does: the newest of a key
// replaces an unsent one and goes to the end.
func (l *line) Send(frame []byte, key string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if _, valid := validated.Load(string(frame)); !valid {
		wiretest.Validator().Down(l.t, frame)
		validated.Store(string(frame), true)
	}
	if l.code != 0 || l.full {
		return false
	}
	for i, q := range l.queue {
		if key != "" && q.key == key {
			l.queue = append(l.queue[:i], l.queue[i+1:]...)
			break
		}
	}
	l.queue = append(l.queue, sent{string(frame), key})
	l.all = append(l.all, sent{string(frame), key})
	return true
}

func (l *line) Close(code int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.code == 0 {
		l.code = code
	}
}

func (l *line) take() (queue, all []sent) {
	l.mu.Lock()
	defer l.mu.Unlock()
	queue, all = l.queue, l.all
	l.queue, l.all = nil, nil
	return queue, all
}

// closed is the code with which the connection was closed, 0 if it was not.
func (p *phone) closed() int {
	p.line.mu.Lock()
	defer p.line.mu.Unlock()
	return p.line.code
}

func (p *phone) fallBehind() {
	p.line.mu.Lock()
	defer p.line.mu.Unlock()
	p.line.full = true
}

// take empties the connection's outbox.
func (p *phone) take() []sent {
	q, all := p.line.take()
	p.all = append(p.all, all...)
	return q
}

// device makes a device that has not connected yet.
func (w *world) device(p hub.Pass, wall bool) *phone {
	w.ids++
	return &phone{w: w, pass: p, wall: wall, twin: twin.New(fmt.Sprintf("%016x", 0xc0de<<32+w.ids))}
}

// coach connects a device of a coach.
func (w *world) coach(name string) *phone {
	w.t.Helper()
	return w.device(hub.Pass{Session: w.id, Member: name, Role: session.Coach}, false).connect()
}

// player joins by the door and connects.
func (w *world) player(name, number string) *phone {
	w.t.Helper()
	member, _, err := w.hub.Join(w.ctx, w.id, name, number)
	require.NoError(w.t, err)
	return w.device(hub.Pass{Session: w.id, Member: member, Role: session.Player}, false).connect()
}

// at connects and holds a spot.
func (p *phone) at(spot string) *phone {
	p.w.t.Helper()
	p.must(session.Op{Do: "hold", Spot: spot})
	return p
}

// connect attaches and reads the welcome.
func (p *phone) connect() *phone {
	p.w.t.Helper()
	require.NoError(p.w.t, p.tryConnect())
	p.read()
	return p
}

func (p *phone) tryConnect() error {
	if p.line != nil {
		p.take()
	}
	p.line = &line{t: p.w.t}
	h := p.twin.Hello()
	h.Wall = p.wall
	if p.spoil != nil {
		p.spoil(h.Resume)
	}
	l, err := p.w.hub.Attach(p.w.ctx, p.pass, h, p.line)
	if err == nil {
		p.link = l
	}
	return err
}

// cut loses the connection and what was not read.
func (p *phone) cut() {
	p.link.Leave()
	synctest.Wait()
	p.line.Close(wire.CloseQuiet)
	p.take()
}

// read lets everything settle and takes all frames. What a welcome asks to send
// again is sent.
func (p *phone) read() *phone {
	p.w.t.Helper()
	synctest.Wait()
	for {
		q := p.take()
		if len(q) == 0 {
			return p
		}
		for _, s := range q {
			n, err := p.twin.Take([]byte(s.frame))
			require.NoError(p.w.t, err, "%s", s.frame)
			p.heed(n)
		}
		synctest.Wait()
	}
}

func (p *phone) heed(n twin.News) {
	p.news.Welcomed = p.news.Welcomed || n.Welcomed
	p.news.Refused = append(p.news.Refused, n.Refused...)
	p.news.RetryMS = max(p.news.RetryMS, n.RetryMS)
	p.news.Gap = p.news.Gap || n.Gap
	for _, up := range n.Send {
		p.send(up)
	}
}

// send passes an operation on as a socket does, through its written form.
func (p *phone) send(up wire.OpUp) {
	b, err := wire.EncodeUp(wire.Up{Op: &up})
	require.NoError(p.w.t, err)
	wiretest.Validator().Up(p.w.t, b)
	got, err := wire.DecodeUp(b)
	require.NoError(p.w.t, err)
	p.link.Op(*got.Op)
}

// do asks for an operation and reads what comes.
func (p *phone) do(op session.Op) *phone {
	p.w.t.Helper()
	p.send(p.twin.Do(op))
	return p.read()
}

// must is do for an operation that is to succeed.
func (p *phone) must(op session.Op) {
	p.w.t.Helper()
	before := len(p.news.Refused)
	p.do(op)
	require.Empty(p.w.t, p.twin.Waiting(), "%s got no answer", op.Do)
	require.Len(p.w.t, p.news.Refused, before, "%s was refused", op.Do)
}

// refused is do for an operation that is to be refused, and gives the code.
func (p *phone) refused(op session.Op) string {
	p.w.t.Helper()
	before := len(p.news.Refused)
	p.do(op)
	require.Len(p.w.t, p.news.Refused, before+1, "%s was not refused", op.Do)
	return p.news.Refused[before].Code
}

// retry sends what waits again, as a device does after RetryMS or a reconnect.
func (p *phone) retry() *phone {
	p.news.RetryMS, p.news.Gap = 0, false
	for _, up := range p.twin.Waiting() {
		p.send(up)
	}
	return p.read()
}

func (p *phone) drag(who string, x, y int) *phone {
	p.link.Drag(wire.Drag{Who: who, At: place(x, y)})
	synctest.Wait()
	return p
}

// state is the state as a device that comes new gets it.
func (w *world) state() session.State {
	w.t.Helper()
	p := w.device(hub.Pass{Session: w.id, Member: "look", Role: session.Coach}, false).connect()
	st := p.twin.State.Clone()
	p.cut()
	return st
}

// coachOf makes a coach's device for any session.
func (w *world) coachOf(id string) *phone {
	return w.device(hub.Pass{Session: id, Member: "head", Role: session.Coach}, false)
}

// reload is more than the hub waits before it asks a store in trouble again.
const reload = 600 * time.Millisecond

const second = time.Second

// pass lets fake time go by.
func (w *world) pass(d time.Duration) {
	<-time.After(d)
	synctest.Wait()
}
