package web

import (
	"context"
	"log/slog"
	"maps"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"sync"

	"halfline/internal/book"
	"halfline/server/conn"
	"halfline/server/gate"
	"halfline/server/hub"
)

// Options of the HTTP face.
type Options struct {
	Hub   *hub.Hub
	Gate  *gate.Gate
	Ready func(context.Context) error // the store's
	Log   *slog.Logger
	// Base is the address phones on this network open, such as
	// "http://192.168.1.10:8080"; join links start with it.
	Base string
	// Origins are page origins allowed besides the server's own address.
	Origins []string
	// Proxies may tell the address of who is behind them.
	Proxies []netip.Prefix
	// Books finds a book by its id, as for the hub. DemoBook is the book of
	// sessions started without naming one.
	Books    func(id string) (*book.Book, error)
	DemoBook string
	TLS      bool
}

// Server serves one hub.
type Server struct {
	// fixed at construction
	o     Options
	names map[string]bool // hosts served besides addresses
	door  *conn.Door
	crowd *crowd
	files *files
	ctx   context.Context
	stop  context.CancelFunc

	mu   sync.Mutex // held while live grows and while stop is called
	live sync.WaitGroup
}

// New makes the handler. Close ends its live connections.
func New(o Options) (*Server, error) {
	f, err := newFiles()
	if err != nil {
		return nil, err
	}
	ctx, stop := context.WithCancel(context.Background())
	s := &Server{o: o, ctx: ctx, stop: stop, files: f, names: servedNames(o.Base, o.Origins), crowd: newCrowd()}
	s.door = conn.NewDoor(s.originOK, refuseLive)
	return s, nil
}

// Close tells all live connections to come back later and waits until they have
// ended; close the hub first.
func (s *Server) Close() {
	s.mu.Lock()
	s.stop()
	s.mu.Unlock()
	s.live.Wait()
}

// enter counts a live connection; false after Close.
func (s *Server) enter() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.ctx.Err() != nil {
		return false
	}
	s.live.Add(1)
	return true
}

// Handler routes requests.
func (s *Server) Handler() http.Handler {
	m := http.NewServeMux()
	for path, by := range map[string]methods{
		"/api/coach":    {http.MethodPost: s.coach},
		"/api/join":     {http.MethodPost: s.join},
		"/api/sessions": {http.MethodGet: s.staff(s.sessions), http.MethodPost: s.staff(s.newSession)},
		"/api/book":     {http.MethodGet: s.anyone(s.book)},
		"/api/code":     {http.MethodPost: s.staff(s.newCode)},
		"/api/qr":       {http.MethodGet: s.staff(s.qr)},
		"/api/cost":     {http.MethodGet: s.staff(s.cost)},
		"/api/rests":    {http.MethodGet: s.anyone(s.rests)},
		"/live":         {http.MethodGet: s.upgrade},
	} {
		m.Handle(path, by)
	}
	m.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		refuse(w, http.StatusNotFound, "unknown", "There is no such address here.")
	})
	m.HandleFunc("GET /healthz", func(w http.ResponseWriter, r *http.Request) { plain(w, http.StatusOK, "ok\n") })
	m.HandleFunc("GET /readyz", s.ready)
	m.HandleFunc("/", s.files.serve)
	return s.guard(m)
}

// methods are the handlers of one address.
type methods map[string]http.HandlerFunc

func (by methods) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h, ok := by[r.Method]
	if !ok {
		w.Header().Set("Allow", strings.Join(slices.Sorted(maps.Keys(by)), ", "))
		refuse(w, http.StatusMethodNotAllowed, "method", "This address does not take that kind of request.")
		return
	}
	h(w, r)
}

func (s *Server) ready(w http.ResponseWriter, r *http.Request) {
	if s.ctx.Err() != nil {
		plain(w, http.StatusServiceUnavailable, "draining\n")
		return
	}
	if err := s.o.Ready(r.Context()); err != nil {
		// Why is for the log: this answer is for everybody.
		s.o.Log.Warn("not ready", "err", err)
		plain(w, http.StatusServiceUnavailable, "the store takes no writes now\n")
		return
	}
	plain(w, http.StatusOK, "ok\n")
}

func plain(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text)) // the other end may be gone; nothing to do then
}

// upgrade turns a request into a live connection.
func (s *Server) upgrade(w http.ResponseWriter, r *http.Request) {
	if !s.enter() {
		refuse(w, http.StatusServiceUnavailable, "restart", "The server restarts; try again in a moment.")
		return
	}
	defer s.live.Done()
	guest, ok := s.crowd.enter(s.address(r))
	if !ok {
		refuseLive(w, http.StatusServiceUnavailable)
		return
	}
	defer guest.leave()
	if ws := s.door.Accept(w, r); ws != nil {
		conn.Serve(s.ctx, ws, &visitor{s: s, guest: guest}, s.o.Hub.Now)
	}
}

// refuseLive answers who wants a live connection and gets none.
func refuseLive(w http.ResponseWriter, status int) {
	switch status {
	case http.StatusForbidden:
		refuse(w, status, "origin", "This page may not connect here; open the board by its own address.")
	case http.StatusServiceUnavailable:
		refuse(w, status, "crowd", "There are too many connections; try again in a moment.")
	default:
		refuse(w, status, "handshake", "This address is for the board's live connection only.")
	}
}
