package hub

import (
	"cmp"
	"context"
	"log/slog"
	"time"

	"halfline/internal/book"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// inboxSize: so many commands may wait before a sender waits too; a device that
// floods is slowed by its own rate limit long before.
const inboxSize = 256

// owner holds one session.
type owner struct {
	// fixed at construction
	id, epoch string
	fence     uint64
	store     store.Store
	log       *slog.Logger
	inbox     chan func()
	saves     chan saveJob
	done      chan struct{} // closed after run has returned
	spawn     func(func())  // runs aside; the hub waits for it
	books     func(string) (*book.Book, error)
	now       func() int64 // the hub's time, ms

	// owned by run (set up before it starts)
	book      *book.Book
	shown     session.State      // all of it on stable storage
	head      session.State      // shown, and what waits for the store
	mark      uint64             // seq of shown
	markChain uint64             // its chain
	seq       uint64             // seq of head
	chain     uint64             // its chain
	clients   map[uint64]*client // what is known of each device's operations
	recent    []fact             // the last facts, up to mark
	waiting   []*pending         // decided, not yet with the saver
	flying    []*pending         // with the saver
	trouble   bool               // the store does not take writes now
	snapAt    uint64             // seq of the last snapshot
	snapping  bool               // the saver keeps a snapshot now
	people    map[string]person
	drags     map[string]*drag
	door      doorCode
	links     map[*Link]struct{}
	lost      []*Link // taken off during this command; tidy sees to what they leave
	rosterDue bool    // somebody came, went or changed during this command
	judged    judged
	film      film
	cost      *costing    // of the rep that is shown, once somebody asked
	pockets   *time.Timer // tells when the board is at rest
	endWith   int         // close code with which the owner ends; 0: goes on
}

func newOwner(h *Hub, id, epoch string, fence uint64) *owner {
	o := &owner{
		id: id, epoch: epoch, fence: fence, store: h.store, log: h.log.With("session", id), books: h.books,
		now: h.now, spawn: h.wg.Go, inbox: make(chan func(), inboxSize), saves: make(chan saveJob, 1), done: make(chan struct{}),
		shown: session.State{Men: map[string]session.Man{}, Spots: map[string]session.Spot{},
			Members: map[string]session.Member{}, Committed: []string{}},
		clients: map[uint64]*client{}, people: map[string]person{}, drags: map[string]*drag{}, links: map[*Link]struct{}{},
	}
	o.pockets = time.AfterFunc(pocketsAfter, func() { o.post(o.boardRests) }) // ends with post
	return o
}

// run owns the session from start to return; nothing else touches its fields.
func (o *owner) run(ctx context.Context) {
	o.do(o.mendRep)
	for o.endWith == 0 {
		select {
		case f := <-o.inbox:
			o.do(f)
		case <-ctx.Done():
			o.drain()
			o.endWith = cmp.Or(o.endWith, wire.CloseRestart)
		}
	}
	o.closeAll(o.endWith)
	o.pockets.Stop()
	for _, d := range o.drags {
		d.quiet.Stop()
	}
	close(o.saves)
}

// do runs one command and what follows from it.
func (o *owner) do(f func()) {
	f()
	for len(o.lost) > 0 || o.rosterDue {
		o.tidy()
	}
}

// tidy sees to what a command left over. It may leave something over itself:
// whoever is found to have fallen behind while the roster is sent.
func (o *owner) tidy() {
	lost := o.lost
	o.lost = nil
	for _, l := range lost {
		o.letGo(func(d *drag) bool { return d.from == l })
	}
	if o.rosterDue {
		o.rosterDue = false
		o.sendRoster()
	}
}

// drainFor bounds how long a stop waits for the store.
const drainFor = 3 * time.Second

// drain finishes what was asked before the stop: commands already in the inbox
// run, men under a finger are let go, and what was decided is written if the
// store is quick about it.
func (o *owner) drain() {
	limit := time.NewTimer(drainFor)
	defer limit.Stop()
	o.do(func() { o.letGo(func(*drag) bool { return true }) })
	for len(o.inbox)+len(o.flying)+len(o.waiting) > 0 {
		select {
		case f := <-o.inbox:
			o.do(f)
		case <-limit.C:
			return
		}
	}
}

// post hands a command to the owner. After the owner has stopped it is dropped;
// who waits for an answer also watches done.
func (o *owner) post(f func()) {
	select {
	case o.inbox <- f:
	case <-o.done:
	}
}

// ask posts a command that replies at most once, and waits. ErrClosed and the
// context's errors leave open whether the command has run.
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
	case <-ctx.Done():
		return 0, ctx.Err()
	}
	select {
	case a := <-got: // the last thing the owner did
		return a.seq, a.err
	default:
		return 0, ErrClosed
	}
}
