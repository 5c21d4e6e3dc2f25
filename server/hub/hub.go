package hub

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"sync"

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
}

// Hub owns all sessions of this process.
type Hub struct {
	// fixed at construction
	store store.Store
	books func(id string) (*book.Book, error)
	log   *slog.Logger
	ctx   context.Context
	stop  context.CancelFunc
	wg    sync.WaitGroup

	mu     sync.Mutex
	owners map[string]*owner // guarded by mu
	closed bool              // guarded by mu
}

// ErrClosed is given when the hub is shutting down.
var ErrClosed = errors.New("the server is shutting down")

// New starts a hub. Close stops it.
func New(o Options) *Hub {
	ctx, stop := context.WithCancel(context.Background())
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Hub{store: o.Store, books: o.Books, log: o.Log, ctx: ctx, stop: stop, owners: map[string]*owner{}}
}

// Close tells every device to come back, lets what is being written be written
// and waits for all owners.
func (h *Hub) Close() {
	h.mu.Lock()
	h.closed = true
	owners := make([]*owner, 0, len(h.owners))
	for _, o := range h.owners {
		owners = append(owners, o)
	}
	h.mu.Unlock()
	for _, o := range owners {
		o.post(func() { o.closeAll(wire.CloseRestart) })
	}
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
	id := randomID()
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

// List gives all sessions with their titles.
func (h *Hub) List(ctx context.Context) ([]wire.SessionOut, error) {
	ids, err := h.store.Sessions(ctx)
	if err != nil {
		return nil, fmt.Errorf("list sessions: %w", err)
	}
	out := []wire.SessionOut{}
	for _, id := range ids {
		o, err := h.open(ctx, id)
		if err != nil {
			return nil, err
		}
		got := make(chan wire.SessionOut, 1)
		o.post(func() { got <- wire.SessionOut{ID: id, Title: o.shown.Title, Here: len(o.links)} })
		select {
		case s := <-got:
			out = append(out, s)
		case <-o.done:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	return out, nil
}

// open finds the owner of a session or starts it from the store.
func (h *Hub) open(ctx context.Context, id string) (*owner, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		return nil, ErrClosed
	}
	if o, ok := h.owners[id]; ok {
		return o, nil
	}
	// Held while loading: two devices that come at once must not start two
	// owners. Loading takes milliseconds and happens once a session.
	o, err := h.load(ctx, id)
	if err != nil {
		return nil, err
	}
	h.owners[id] = o
	h.wg.Add(2)
	go func() { // ends when the owner stops; Close waits
		defer h.wg.Done()
		o.run(h.ctx)
		h.mu.Lock()
		delete(h.owners, id)
		h.mu.Unlock()
	}()
	go func() { // ends when run closes saves; Close waits
		defer h.wg.Done()
		o.save()
	}()
	return o, nil
}

// Book gives the book of a session and whether a member has been let in.
func (h *Hub) Book(ctx context.Context, id, member string) (*book.Book, bool, error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return nil, false, err
	}
	in := make(chan bool, 1)
	o.post(func() { in <- o.shown.Members[member].In })
	select {
	case ok := <-in:
		return o.book, ok, nil
	case <-o.done:
		return nil, false, ErrClosed
	case <-ctx.Done():
		return nil, false, ctx.Err()
	}
}
