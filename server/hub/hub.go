package hub

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"github.com/google/uuid"

	"halfline/internal/book"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// Options of a hub.
type Options struct {
	Store store.Store
	// Books finds the book of a session by its id.
	Books func(id string) (*book.Book, error)
	Log   *slog.Logger
	// Now is the time that reps roll by, ms: it only goes forward, the beats of
	// all connections tell the same, and a hub that takes over goes on about where
	// the last one was. nil: it stands still, and so do reps.
	Now func() int64
}

// Hub owns all sessions of this process.
type Hub struct {
	// fixed at construction
	store store.Store
	books func(id string) (*book.Book, error)
	log   *slog.Logger
	now   func() int64
	ctx   context.Context
	stop  context.CancelFunc
	wg    sync.WaitGroup
	costs chan struct{} // holds a token for each cost that is played: one session at a time

	mu     sync.Mutex
	seats  map[string]*seat // guarded by mu
	closed bool             // guarded by mu
}

// seat holds the owner of one session, or says that it is being loaded.
type seat struct {
	ready chan struct{} // closed when owner or err is set, which stay then
	owner *owner
	err   error
}

// ErrClosed is given when the hub is shutting down, or has just lost the
// session to another; who comes again finds what is there then.
var ErrClosed = errors.New("the server is shutting down or has lost the session: come again")

// loadWithin bounds how long a device waits for a session to be taken over.
const loadWithin = 10 * time.Second

// New starts a hub. Close stops it.
func New(o Options) *Hub {
	ctx, stop := context.WithCancel(context.Background())
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = func() int64 { return 0 }
	}
	return &Hub{store: o.Store, books: o.Books, log: o.Log, now: o.Now, ctx: ctx, stop: stop, costs: make(chan struct{}, 1), seats: map[string]*seat{}}
}

// Now is the hub's time, ms.
func (h *Hub) Now() int64 { return h.now() }

// Close lets what is being written be written, tells every device to come back
// and waits for all owners.
func (h *Hub) Close() {
	h.mu.Lock()
	h.closed = true
	h.mu.Unlock()
	h.stop()
	h.wg.Wait()
}

// randomID is 8 random bytes as 16 hex digits.
func randomID() string {
	var b [8]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic(err) // the system has no randomness: nothing can go on safely
	}
	return hex.EncodeToString(b[:])
}

// Create starts a session on a book and gives its id.
func (h *Hub) Create(ctx context.Context, title, bookID string) (string, error) {
	b, err := h.books(bookID)
	if err != nil {
		return "", err
	}
	// Version 7 ids sort by the time they were made, so lists of sessions do too.
	made, err := uuid.NewV7()
	if err != nil {
		return "", fmt.Errorf("create session: %w", err)
	}
	id := made.String()
	if err := h.store.Create(ctx, id, randomID()); err != nil {
		return "", fmt.Errorf("create session: %w", err)
	}
	st := session.New(title, b)
	o, err := h.open(ctx, id)
	if err != nil {
		return "", err
	}
	c := whole(&st)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) { o.submit("create", c, 0, 0, reply) }); err != nil {
		return "", err
	}
	return id, nil
}

// whole is the change that makes an empty state into s.
func whole(s *session.State) session.Change {
	c := session.Change{Title: &s.Title, Book: &s.Book, Ball: &s.Ball, Side: &s.Side, Look: &s.Look, Call: &s.Call,
		Floor: &s.Floor, Door: &s.Door, Men: map[string]*session.Man{}, Spots: map[string]*session.Spot{}}
	for k, v := range s.Men {
		c.Men[k] = &v
	}
	for k, v := range s.Spots {
		c.Spots[k] = &v
	}
	return c
}

// List gives all sessions with their titles. One that cannot be read is left
// out, so that it does not hide the others; the log says why.
func (h *Hub) List(ctx context.Context) ([]wire.SessionOut, error) {
	ids, err := h.store.Sessions(ctx)
	if err != nil {
		return nil, fmt.Errorf("list sessions: %w", err)
	}
	out := []wire.SessionOut{}
	for _, id := range ids {
		o, err := h.open(ctx, id)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case errors.Is(err, ErrClosed):
			return nil, err
		case err != nil:
			h.log.Error("session left out of the list", "session", id, "err", err)
			continue
		}
		got := make(chan wire.SessionOut, 1)
		_, err = o.ask(ctx, func(reply func(uint64, error)) {
			if o.mark > 0 { // else it was never begun
				got <- wire.SessionOut{ID: id, Title: o.shown.Title, Here: len(o.links)}
			}
			reply(0, nil)
		})
		if err != nil {
			return nil, err
		}
		if len(got) > 0 {
			out = append(out, <-got)
		}
	}
	return out, nil
}

// open finds the owner of a session or starts it from the store.
func (h *Hub) open(ctx context.Context, id string) (*owner, error) {
	h.mu.Lock()
	if h.closed {
		h.mu.Unlock()
		return nil, ErrClosed
	}
	s := h.seats[id]
	if s == nil {
		s = &seat{ready: make(chan struct{})}
		h.seats[id] = s
		h.wg.Go(func() { h.own(id, s) }) // ends when the owner does; Close waits
	}
	h.mu.Unlock()
	select {
	case <-s.ready:
		if s.err != nil && h.ctx.Err() != nil {
			return nil, ErrClosed
		}
		return s.owner, s.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// own loads a session and owns it until the end. The seat is free before the
// owner counts as ended, so that whoever comes next takes the session anew.
func (h *Hub) own(id string, s *seat) {
	ctx, cancel := context.WithTimeout(h.ctx, loadWithin)
	s.owner, s.err = h.load(ctx, id)
	cancel()
	if s.err != nil {
		h.free(id)
		close(s.ready)
		return
	}
	h.wg.Go(s.owner.save) // ends when run closes saves; Close waits
	close(s.ready)
	s.owner.run(h.ctx)
	h.free(id)
	close(s.owner.done)
}

func (h *Hub) free(id string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.seats, id)
}

// Book gives the book of a session and whether a member has been let in.
func (h *Hub) Book(ctx context.Context, id, member string) (*book.Book, bool, error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return nil, false, err
	}
	type answer struct {
		b  *book.Book
		in bool
	}
	got := make(chan answer, 1)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) {
		got <- answer{o.book, o.shown.Members[member].In}
		reply(0, nil)
	}); err != nil {
		return nil, false, err
	}
	a := <-got
	return a.b, a.in, nil
}
