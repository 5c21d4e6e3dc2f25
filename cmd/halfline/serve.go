package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"strings"
	"syscall"
	"time"

	"halfline/internal/book"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
	"halfline/server/store/boltstore"
	"halfline/server/store/redisstore"
	"halfline/server/web"
)

const servePage = `halfline serve [flags]

Runs the server: it opens the embedded store in the data folder (or Redis),
serves the pages for coach, phones and wall, and prints the coach's link and
the address that phones on this network can open. On an empty data folder it
starts a session with the demo book.
`

// demoBook is what a fresh data folder offers.
const demoBook = "herons"

type serveFlags struct {
	addr, data, redis, origins, proxies, cert, key string
}

func serve(ctx context.Context, s stdio, args []string) int {
	var f serveFlags
	fs := flag.NewFlagSet("serve", flag.ContinueOnError)
	fs.StringVar(&f.addr, "addr", ":8080", "HOST:PORT to listen on")
	fs.StringVar(&f.data, "data", "halfline-data", "folder of the embedded store")
	fs.StringVar(&f.redis, "redis", "", "URL of a Redis that keeps session state instead (redis://HOST:PORT)")
	fs.StringVar(&f.origins, "allowed-origins", "", "page origins allowed besides this address, with commas (https://board.example)")
	fs.StringVar(&f.proxies, "trusted-proxies", "", "addresses of reverse proxies, with commas (10.0.0.0/8)")
	fs.StringVar(&f.cert, "tls-cert", "", "certificate file, for https")
	fs.StringVar(&f.key, "tls-key", "", "its key file")
	if err := parse(s, fs, servePage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() > 0 {
		return s.fail(exitInput, fmt.Errorf("serve: %q: it takes flags only: see halfline serve --help", fs.Arg(0)))
	}
	o, err := f.options()
	if err != nil {
		return s.fail(exitInput, err)
	}
	if err := runServer(ctx, s, f, o); err != nil {
		return s.fail(exitMachine, err)
	}
	return exitDone
}

// options reads the flags that have a form.
func (f serveFlags) options() (web.Options, error) {
	o := web.Options{DemoBook: demoBook, TLS: f.cert != ""}
	if (f.cert == "") != (f.key == "") {
		return o, fmt.Errorf("serve: one of --tls-cert and --tls-key: give both or neither")
	}
	for _, p := range list(f.origins) {
		u, err := url.Parse(p)
		if err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Host == "" || strings.Trim(u.Path, "/") != "" {
			return o, fmt.Errorf("serve: --allowed-origins: %q: want scheme and host, such as https://board.example", p)
		}
		o.Origins = append(o.Origins, u.Scheme+"://"+u.Host)
	}
	for _, p := range list(f.proxies) {
		pre, err := netip.ParsePrefix(p)
		if err != nil {
			a, aerr := netip.ParseAddr(p)
			if aerr != nil {
				return o, fmt.Errorf("serve: --trusted-proxies: %q: want an address or a range such as 10.0.0.0/8", p)
			}
			pre = netip.PrefixFrom(a, a.BitLen())
		}
		o.Proxies = append(o.Proxies, pre)
	}
	host, _, err := net.SplitHostPort(f.addr)
	if err != nil {
		return o, fmt.Errorf("serve: --addr: %q: want HOST:PORT or :PORT", f.addr)
	}
	if a, err := netip.ParseAddr(host); err == nil && !o.TLS && !a.IsPrivate() && !a.IsLoopback() && !a.IsLinkLocalUnicast() && !a.IsUnspecified() {
		return o, fmt.Errorf("serve: --addr: %s is a public address: add --tls-cert and --tls-key, or listen on a private address behind a proxy", host)
	}
	return o, nil
}

func list(s string) []string {
	var out []string
	for _, p := range strings.Split(s, ",") {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

func openStore(ctx context.Context, s stdio, f serveFlags) (store.Store, string, error) {
	if f.redis == "" {
		st, err := boltstore.Open(f.data)
		if err != nil {
			return nil, "", err
		}
		return st, f.data, nil
	}
	st, warnings, err := redisstore.Open(ctx, f.redis)
	if err != nil {
		return nil, "", err
	}
	for _, w := range warnings {
		fmt.Fprintln(s.err, "halfline: "+w)
	}
	return st, "Redis", nil
}

func runServer(ctx context.Context, s stdio, f serveFlags, o web.Options) error {
	st, where, err := openStore(ctx, s, f)
	if err != nil {
		return err
	}
	defer func() {
		if err := st.Close(); err != nil {
			fmt.Fprintf(s.err, "halfline: %s: %v: check the disk\n", where, err)
		}
	}()
	ln, err := net.Listen("tcp", f.addr)
	if err != nil {
		return listenError(f.addr, err)
	}
	if o.TLS {
		c, err := tls.LoadX509KeyPair(f.cert, f.key)
		if err != nil {
			ln.Close()
			return fmt.Errorf("%s: %w: give a certificate and its key as PEM files", f.cert, err)
		}
		ln = tls.NewListener(ln, &tls.Config{Certificates: []tls.Certificate{c}, MinVersion: tls.VersionTLS12})
	}
	return serveOn(ctx, s, ln, st, where, o)
}

func listenError(addr string, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("%s: the port is in use: stop the other program or choose another with --addr", addr)
	case errors.Is(err, syscall.EACCES):
		return fmt.Errorf("%s: this port needs more rights: choose one above 1024 with --addr", addr)
	}
	var op *net.OpError
	if errors.As(err, &op) {
		err = op.Err
	}
	return fmt.Errorf("%s: %w: choose another with --addr", addr, err)
}

// digits of a join code: on a private network six symbols, where anybody could
// reach the server eight.
func digits(ln net.Listener) int {
	if a, ok := ln.Addr().(*net.TCPAddr); ok && !a.IP.IsUnspecified() && !a.IP.IsPrivate() && !a.IP.IsLoopback() {
		return 8
	}
	return 6
}

func serveOn(ctx context.Context, s stdio, ln net.Listener, st store.Store, where string, o web.Options) error {
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	h := hub.New(hub.Options{Store: st, Books: book.Cached(), Log: log})
	g, key := gate.New(st, time.Now, digits(ln))
	o.Hub, o.Gate, o.Ready, o.Log = h, g, st.Ready, log
	o.Base = baseURL(ln, o.TLS)
	srv, err := web.New(o)
	if err != nil {
		ln.Close()
		return err
	}
	if err := offerDemo(ctx, h, st); err != nil {
		ln.Close()
		h.Close()
		return err
	}
	hs := &http.Server{Handler: srv.Handler(), ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, IdleTimeout: 60 * time.Second,
		MaxHeaderBytes: 16 << 10, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug)}
	failed := make(chan error, 1)
	go func() { failed <- hs.Serve(ln) }() // ends when hs is shut down
	greet(s, o, where, key)
	select {
	case <-ctx.Done():
		fmt.Fprintln(s.out, "stopping: phones are told to come back")
	case err = <-failed:
	}
	h.Close()
	srv.Close()
	stop, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if serr := hs.Shutdown(stop); serr != nil && err == nil {
		err = fmt.Errorf("stop: %w: some requests were cut", serr)
	}
	return err
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

// baseURL is the address that phones on this network can open: a private
// address of this machine if the server listens on all.
func baseURL(ln net.Listener, secure bool) string {
	scheme := "http"
	if secure {
		scheme = "https"
	}
	a, ok := ln.Addr().(*net.TCPAddr)
	if !ok {
		return scheme + "://" + ln.Addr().String()
	}
	host := a.IP.String()
	if a.IP.IsUnspecified() {
		host = privateAddress()
	}
	return scheme + "://" + net.JoinHostPort(host, fmt.Sprint(a.Port))
}

func privateAddress() string {
	addrs, err := net.InterfaceAddrs()
	if err == nil {
		for _, a := range addrs {
			if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
				return n.IP.String()
			}
		}
	}
	if h, err := os.Hostname(); err == nil && h != "" {
		if as, err := net.LookupHost(h); err == nil && len(as) > 0 {
			return as[0]
		}
	}
	return "127.0.0.1"
}
