package hub

import (
	"context"
	"log/slog"
	"time"

	"halfline/internal/book"
	"halfline/internal/judge"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

const (
	// inboxSize: so many commands may wait before a sender waits too; a device
	// that floods is slowed by its own rate limit long before.
	inboxSize = 256
	// keepRecent records stay in memory for resumes (D5, D7).
	keepRecent = 1024
	// tailMost facts are sent to a device that comes back; behind further, it
	// gets a snapshot.
	tailMost = 512
	// snapEvery records a snapshot is made.
	snapEvery = 256
	// batchMost records go to the store at once.
	batchMost = 64
)

// owner holds one session.
type owner struct {
	// fixed at construction
	id, epoch string
	fence     uint64
	store     store.Store
	log       *slog.Logger
	inbox     chan func()
	saves     chan saveJob
	done      chan struct{} // closed when run has returned
	spawn     func(func())  // runs aside; the hub waits for it

	// owned by run (set up before it starts)
	book      *book.Book
	books     func(string) (*book.Book, error)
	shown     session.State       // all of it on stable storage
	head      session.State       // shown, and what waits for the store
	mark      uint64              // seq of shown
	markChain uint64              // its chain
	seq       uint64              // seq of head
	chain     uint64              // its chain
	shownDone map[string]lastDone // per client, durable
	headDone  map[string]uint64   // per client, counter of head
	recent    []wire.Fact         // the last facts, up to mark
	waiting   []waitingOp         // decided, not yet with the saver
	flying    []waitingOp         // with the saver
	trouble   bool                // the store does not take writes now
	snapAt    uint64              // seq of the last snapshot
	snapping  bool                // the saver keeps a snapshot now
	links     map[*Link]struct{}
	people    map[string]person
	drags     map[string]drag
	timer     *time.Timer // next time a drag may be quiet
	door      doorCode
	board     judge.Board // as last judged
	result    judge.Result
	frames    map[session.Sight]seen // verdicts by who may see what, of result
}

// waitingOp is a decided operation on its way to the store.
type waitingOp struct {
	rec    store.Record
	change session.Change
	done   func(seq uint64, err error) // may be nil
}

func newOwner(h *Hub, id, epoch string, fence uint64) *owner {
	return &owner{
		id: id, epoch: epoch, fence: fence, store: h.store, log: h.log.With("session", id), books: h.books,
		spawn: h.wg.Go, inbox: make(chan func(), inboxSize), saves: make(chan saveJob, 1), done: make(chan struct{}),
		shown:     session.State{Men: map[string]session.Man{}, Spots: map[string]session.Spot{}, Members: map[string]session.Member{}, Committed: []string{}},
		shownDone: map[string]lastDone{}, headDone: map[string]uint64{},
		links: map[*Link]struct{}{}, people: map[string]person{}, drags: map[string]drag{},
	}
}

// run owns the session from start to return; nothing else touches its fields.
func (o *owner) run(ctx context.Context) {
	o.timer = time.NewTimer(time.Hour)
	defer o.timer.Stop()
	defer close(o.done)
	for {
		select {
		case f := <-o.inbox:
			f()
		case <-o.timer.C:
			o.quietDrags(time.Now())
		case <-ctx.Done():
			o.drain()
			close(o.saves)
			return
		}
	}
}

// drain finishes what was asked before the stop: commands already in the inbox
// run, and what was decided is written if the store is quick about it.
func (o *owner) drain() {
	for {
		select {
		case f := <-o.inbox:
			f()
			continue
		default:
		}
		if len(o.flying) == 0 {
			break
		}
		select {
		case f := <-o.inbox:
			f()
			continue
		case <-time.After(drainFor):
		}
		break
	}
	o.closeAll(wire.CloseRestart)
}

// drainFor bounds how long a stop waits for the store.
const drainFor = 3 * time.Second

// post hands a command to the owner. After the owner has stopped it is dropped;
// who waits for an answer also watches done.
func (o *owner) post(f func()) {
	select {
	case o.inbox <- f:
	case <-o.done:
	}
}

// ask posts a command that replies once, and waits.
func (o *owner) ask(ctx context.Context, f func(reply func(uint64, error))) (uint64, error) {
	type answer struct {
		seq uint64
		err error
	}
	got := make(chan answer, 1)
	o.post(func() { f(func(seq uint64, err error) { got <- answer{seq, err} }) })
	select {
	case a := <-got:
		return a.seq, a.err
	case <-o.done:
		return 0, ErrClosed
	case <-ctx.Done():
		return 0, ctx.Err()
	}
}

// noteDone notes a client's last durable operation.
func (o *owner) noteDone(client string, d lastDone) { o.shownDone[client] = d }

// rewind makes head what is shown: at the start, and when the store failed.
func (o *owner) rewind() {
	o.head = o.shown.Clone()
	o.seq, o.chain = o.mark, o.markChain
	o.headDone = map[string]uint64{}
	for c, d := range o.shownDone {
		o.headDone[c] = d.N
	}
}

// submit makes a change part of head and sends it to the store. done is told
// when it is durable, or that it will not be.
func (o *owner) submit(kind string, c session.Change, client, n uint64, done func(uint64, error)) {
	if o.trouble {
		if done != nil {
			done(0, store.ErrReadOnly)
		}
		return
	}
	data, err := wire.EncodeBody(c)
	if err != nil {
		if done != nil {
			done(0, err)
		}
		return
	}
	r := store.Record{Seq: o.seq + 1, Fence: o.fence, Client: client, Counter: n, Kind: kind, Data: data}
	r.Chain = store.NextChain(o.chain, r)
	o.head.Apply(c)
	o.seq, o.chain = r.Seq, r.Chain
	if client != 0 {
		o.headDone[hex16(client)] = n
	}
	o.waiting = append(o.waiting, waitingOp{r, c, done})
	o.flush()
}

// flush gives the saver what waits, if it is free.
func (o *owner) flush() {
	if len(o.flying) > 0 || o.snapping || len(o.waiting) == 0 {
		return
	}
	n := min(len(o.waiting), batchMost)
	o.flying = o.waiting[:n:n]
	o.waiting = o.waiting[n:]
	job := saveJob{}
	for _, w := range o.flying {
		job.recs = append(job.recs, w.rec)
	}
	o.saves <- job // room is certain: one job at a time, capacity one
}
