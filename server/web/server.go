package web

import (
	"context"
	"log/slog"
	"net/http"
	"net/netip"
	"sync"

	"github.com/gorilla/websocket"

	"halfline/internal/wire"
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
	// DemoBook is the book of sessions started without naming one.
	DemoBook string
	TLS      bool
}

// Server serves one hub.
type Server struct {
	o     Options
	names map[string]bool // hosts served besides addresses
	up    websocket.Upgrader
	ctx   context.Context
	stop  context.CancelFunc
	live  sync.WaitGroup
	files *files
}

// New makes the handler. Close ends its live connections.
func New(o Options) (*Server, error) {
	f, err := newFiles()
	if err != nil {
		return nil, err
	}
	ctx, stop := context.WithCancel(context.Background())
	s := &Server{o: o, ctx: ctx, stop: stop, files: f, names: servedNames(o.Base, o.Origins)}
	s.up = websocket.Upgrader{
		Subprotocols: []string{wire.Subprotocol}, CheckOrigin: s.originOK, HandshakeTimeout: wire.HelloWithin,
		ReadBufferSize: 1024, WriteBufferSize: 1024, WriteBufferPool: &sync.Pool{},
	}
	return s, nil
}

// Close waits until all live connections have ended; close the hub first, it
// tells them.
func (s *Server) Close() {
	s.stop()
	s.live.Wait()
}

// Handler routes requests.
func (s *Server) Handler() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("POST /api/coach", s.coach)
	m.HandleFunc("POST /api/join", s.join)
	m.HandleFunc("GET /api/sessions", s.staff(s.sessions))
	m.HandleFunc("POST /api/sessions", s.staff(s.newSession))
	m.HandleFunc("GET /api/book", s.anyone(s.book))
	m.HandleFunc("POST /api/code", s.staff(s.newCode))
	m.HandleFunc("GET /api/qr", s.staff(s.qr))
	m.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		refuse(w, http.StatusNotFound, "unknown", "There is no such address here.")
	})
	m.HandleFunc("GET /live", s.upgrade)
	m.HandleFunc("GET /healthz", func(w http.ResponseWriter, r *http.Request) { plain(w, http.StatusOK, "ok\n") })
	m.HandleFunc("GET /readyz", s.ready)
	m.HandleFunc("/", s.files.serve)
	return s.guard(m)
}

func (s *Server) ready(w http.ResponseWriter, r *http.Request) {
	if s.ctx.Err() != nil {
		plain(w, http.StatusServiceUnavailable, "draining\n")
		return
	}
	if err := s.o.Ready(r.Context()); err != nil {
		plain(w, http.StatusServiceUnavailable, "store: "+err.Error()+"\n")
		return
	}
	plain(w, http.StatusOK, "ok\n")
}

func plain(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text)) // the other end may be gone; nothing to do then
}

// upgrade turns a request into a live connection.
func (s *Server) upgrade(w http.ResponseWriter, r *http.Request) {
	if s.ctx.Err() != nil {
		refuse(w, http.StatusServiceUnavailable, "restart", "The server restarts; try again in a moment.")
		return
	}
	ws, err := s.up.Upgrade(w, r, nil)
	if err != nil {
		return // Upgrade has answered
	}
	if ws.Subprotocol() != wire.Subprotocol {
		// a page from another time: say which protocol is spoken
		_ = ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(wire.CloseVersion, wire.ByeCode(wire.CloseVersion)), noDeadline)
		ws.Close()
		return
	}
	s.live.Add(1)
	defer s.live.Done()
	conn.Serve(s.ctx, ws, &visitor{s: s})
}
