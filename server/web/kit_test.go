package web_test

import (
	"bytes"
	"context"
	"log/slog"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/internal/book"
	"halfline/internal/rehearse/device"
	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
	"halfline/server/store/storetest"
	"halfline/server/web"
)

func TestMain(m *testing.M) {
	wiretest.Validator()
	goleak.VerifyTestMain(m)
}

// lines collects what is logged.
type lines struct {
	mu sync.Mutex
	b  bytes.Buffer // guarded by mu
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// site is a whole server in this process, without what cmd adds.
type site struct {
	t     testing.TB
	open  func() store.Store // as a process does that starts; once per start
	tweak func(*web.Options)
	pipes *pipes // instead of the network, for fake time

	device.Browser
	key     string // of the coach's link
	log     lines
	secrets []string // what may never be logged

	hub  *hub.Hub
	web  *web.Server
	http *http.Server
	st   store.Store
}

// newSite starts a server on a store in memory.
func newSite(t testing.TB, tweak func(*web.Options)) *site {
	s := &site{t: t, tweak: tweak}
	memory := storetest.NewMemory()
	s.open = func() store.Store { return memory }
	s.run()
	return s
}

// run starts it and sees to its end.
func (s *site) run() {
	s.t.Helper()
	s.start()
	s.t.Cleanup(func() {
		s.stop()
		text := s.log.String()
		for _, secret := range append(s.secrets, s.key) {
			assert.NotContains(s.t, text, secret, "logged")
		}
	})
}

func (s *site) start() {
	s.t.Helper()
	s.st = s.open()
	log := slog.New(slog.NewTextHandler(&s.log, &slog.HandlerOptions{Level: slog.LevelDebug}))
	var ln net.Listener = s.pipes
	if s.pipes == nil {
		var err error
		ln, err = net.Listen("tcp", "127.0.0.1:0")
		require.NoError(s.t, err)
	}
	books := book.Cached()
	o := web.Options{
		Hub: hub.New(hub.Options{Store: s.st, Books: books, Log: log, Now: func() int64 { return time.Now().UnixMilli() }}), Ready: s.st.Ready, Log: log, Books: books, DemoBook: "herons",
		Base: "http://" + ln.Addr().String(),
	}
	o.Gate, s.key = gate.New(s.st, time.Now, 6)
	s.Browser = device.Browser{T: s.t, Base: o.Base}
	if s.pipes != nil {
		s.Conn = s.pipes.dial
	}
	if s.tweak != nil {
		s.tweak(&o)
	}
	s.hub = o.Hub
	var err error
	s.web, err = web.New(o)
	require.NoError(s.t, err)
	s.http = &http.Server{Handler: s.web.Handler(), ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelError)}
	go func(h *http.Server) { _ = h.Serve(ln) }(s.http) // ends when it is closed
}

// stop ends it in the order that cmd does.
func (s *site) stop() {
	s.hub.Close()
	s.web.Close()
	s.http.Close()
}

// restart is a new process on the same data: nothing of the old one stays in
// memory.
func (s *site) restart() {
	s.t.Helper()
	s.secrets = append(s.secrets, s.key)
	s.stop()
	s.start()
}

func (s *site) secret(v string) string {
	s.secrets = append(s.secrets, v)
	return v
}

// staff starts a session and gives a coach's token for it.
func (s *site) staff(title string) (token, session string) {
	s.t.Helper()
	token = s.secret(s.Coach(s.key))
	var out wire.SessionOut
	s.Ask(http.MethodPost, "/api/sessions", token, wire.SessionIn{Title: title}).Into(s.t, &out)
	assert.Equal(s.t, title, out.Title)
	return token, out.ID
}

// draw makes a new code for a session.
func (s *site) draw(token, session string) string {
	s.t.Helper()
	var out wire.CodeOut
	s.Ask(http.MethodPost, "/api/code?session="+session, token, nil).Into(s.t, &out)
	assert.Equal(s.t, s.Base+"/#join="+out.Code, out.Link)
	return s.secret(out.Code)
}

// player joins and connects.
func (s *site) player(code, name, number string) (*device.Device, wire.JoinOut) {
	s.t.Helper()
	join := s.Join(code, s.secret(name), number)
	s.secret(join.Token)
	return s.Open(wire.Hello{Token: join.Token}), join
}

// denies requires a refusal with this status and code, and a sentence fit for a
// phone.
func (s *site) denies(a device.Answer, status int, code string) wire.ErrorOut {
	s.t.Helper()
	require.Equal(s.t, status, a.Status, "%s", a.Body)
	e := a.Refusal(s.t)
	assert.Equal(s.t, code, e.Code)
	plainSentence(s.t, e.Say)
	assert.Equal(s.t, "no-store", a.Header.Get("Cache-Control"))
	return e
}

// plainSentence holds what a phone shows to plain words: no fault's text, no
// names of packages, files or types.
func plainSentence(t testing.TB, say string) {
	t.Helper()
	require.NotEmpty(t, say)
	assert.LessOrEqual(t, len(say), 200)
	assert.Regexp(t, `^[A-Z]`, say)
	for _, never := range []string{"%!", "nil", "panic", "goroutine", ".go", "bolt", "redis", "context ", "0x", "EOF", "dial", "tcp", "\n", "/", "errno"} {
		if never == "/" && strings.Contains(say, "application/json") {
			continue
		}
		assert.NotContains(t, say, never)
	}
}

var background = context.Background()

func hostname(t testing.TB) string {
	h, err := os.Hostname()
	require.NoError(t, err)
	return h
}

type view = device.View

// troubled is a store whose writes fail when it is told to.
type troubled struct {
	store.Store
	err error
}

func (t *troubled) Create(ctx context.Context, id, epoch string) error {
	if t.err != nil {
		return t.err
	}
	return t.Store.Create(ctx, id, epoch)
}

func (t *troubled) PutItem(ctx context.Context, table, key string, value []byte) error {
	if t.err != nil {
		return t.err
	}
	return t.Store.PutItem(ctx, table, key, value)
}

func (t *troubled) Ready(context.Context) error { return t.err }
