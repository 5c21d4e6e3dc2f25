package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"halfline/internal/book"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
	"halfline/server/store/boltstore"
	"halfline/server/store/redisstore"
	"halfline/server/web"
)

func openStore(ctx context.Context, s stdio, f serveFlags) (st store.Store, where string, err error) {
	if f.redis == "" {
		st, err := boltstore.Open(f.data)
		if err != nil {
			return nil, "", fmt.Errorf("--data: %w", err)
		}
		return st, f.data, nil
	}
	st, warnings, err := redisstore.Open(ctx, f.redis)
	if err != nil {
		return nil, "", fmt.Errorf("--redis: %w", err)
	}
	for _, w := range warnings {
		fmt.Fprintln(s.err, "halfline: --redis: "+w)
	}
	return st, "Redis", nil
}

// runServer serves until ctx ends or the listener fails.
func runServer(ctx context.Context, s stdio, f serveFlags, o web.Options, cert *tls.Certificate) error {
	st, where, err := openStore(ctx, s, f)
	if err != nil {
		return err
	}
	defer func() {
		if err := st.Close(); err != nil {
			fmt.Fprintf(s.err, "halfline: %s: %v: check the disk\n", where, err)
		}
	}()
	ln, err := listen(f.addr)
	if err != nil {
		return err
	}
	o.Base = baseURL(ln, o)
	n := digits(ln, o)
	if cert != nil {
		ln = tls.NewListener(ln, &tls.Config{Certificates: []tls.Certificate{*cert}, MinVersion: tls.VersionTLS12})
	}
	return serveOn(ctx, s, ln, st, where, n, o)
}

func serveOn(ctx context.Context, s stdio, ln net.Listener, st store.Store, where string, digits int, o web.Options) error {
	defer ln.Close()
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	books := book.Cached()
	h := hub.New(hub.Options{Store: st, Books: books, Log: log, Now: hubClock()})
	g, key := gate.New(st, time.Now, digits)
	o.Hub, o.Gate, o.Ready, o.Log, o.Books = h, g, st.Ready, log, books
	srv, err := web.New(o)
	if err == nil {
		err = offerDemo(ctx, h, st)
	}
	if err != nil {
		h.Close()
		return fmt.Errorf("%s: %w: see to it, then start again", where, err)
	}
	hs := httpServer(srv.Handler(), log)
	failed := make(chan error, 1)
	go func() { failed <- hs.Serve(ln) }() // ends when hs is shut down
	greet(s, o, where, key)
	select {
	case <-ctx.Done():
		fmt.Fprintln(s.out, "stopping: phones are told to come back")
	case err = <-failed:
		err = fmt.Errorf("%s: %w: start again", o.Base, err)
	}
	h.Close()
	srv.Close()
	finish(hs)
	return err
}

// hubClock is the time that reps roll by: it begins at the time of day, so that
// a server that takes over goes on where the last one was, and then only goes
// forward, whatever is done to the machine's clock.
func hubClock() func() int64 {
	start := time.Now()
	return func() int64 { return start.UnixMilli() + time.Since(start).Milliseconds() }
}

// httpServer bounds what a guest may take of the machine: a header comes within
// 5 s, a whole request within 10, an answer is fetched within a minute, which on
// 20 kbit/s is three times what a first page needs.
func httpServer(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: 60 * time.Second,
		IdleTimeout: 60 * time.Second, MaxHeaderBytes: 12 << 10, // Go adds 4 KiB
		// What it has to say names addresses, and is about guests' mistakes.
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug),
	}
}

// finishWithin is how long a stop waits for requests that are being answered.
// With the hub's and the sockets' own limits the whole stays below 15 seconds.
const finishWithin = 3 * time.Second

// finish ends the HTTP side. Whoever fetches a page just then fetches it again:
// that is no fault of the stop.
func finish(hs *http.Server) {
	ctx, cancel := context.WithTimeout(context.Background(), finishWithin)
	defer cancel()
	if errors.Is(hs.Shutdown(ctx), context.DeadlineExceeded) {
		hs.Close()
	}
}

// offerDemo starts a session with the demo book where there is none yet.
func offerDemo(ctx context.Context, h *hub.Hub, st store.Store) error {
	ids, err := st.Sessions(ctx)
	if err != nil || len(ids) > 0 {
		return err
	}
	_, err = h.Create(ctx, "Tuesday install", demoBook)
	return err
}

func greet(s stdio, o web.Options, where, key string) {
	fmt.Fprintf(s.out, "Halfline keeps its sessions in %s\n\n", where)
	fmt.Fprintf(s.out, "  coach   %s/#coach=%s\n", o.Base, key)
	fmt.Fprintf(s.out, "  phones  %s   (the code is on the coach's page)\n\n", o.Base)
	if !o.TLS {
		fmt.Fprintln(s.out, "Plain http: for a private network only. The coach's link is a key; keep it to yourself.")
	}
	fmt.Fprintln(s.out, "For practice and meetings. Ctrl-C stops.")
}
