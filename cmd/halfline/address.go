package main

import (
	"errors"
	"fmt"
	"net"
	"os"
	"syscall"

	"halfline/server/web"
)

func listen(addr string) (net.Listener, error) {
	ln, err := net.Listen("tcp", addr)
	var op *net.OpError
	switch {
	case err == nil:
		return ln, nil
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("%s: the port is in use: stop the other program or choose another with --addr", addr)
	case errors.Is(err, syscall.EACCES):
		return nil, fmt.Errorf("%s: this port needs more rights: choose one above 1024 with --addr", addr)
	case errors.As(err, &op):
		err = op.Err
	}
	return nil, fmt.Errorf("%s: %w: choose another with --addr", addr, err)
}

// baseURL is the address that phones open, and that links and the QR code
// carry: the first allowed origin if the server stands behind a name of its
// own; else where it listens, or a private address of this machine if it
// listens on all.
func baseURL(ln net.Listener, o web.Options) string {
	if len(o.Origins) > 0 {
		return o.Origins[0]
	}
	scheme := "http"
	if o.TLS {
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

// digits of a join code: on a private network six symbols; eight where anybody
// could reach the server, which a name, a proxy or a certificate of its own
// says as well as a public address.
func digits(ln net.Listener, o web.Options) int {
	a, ok := ln.Addr().(*net.TCPAddr)
	public := ok && !a.IP.IsUnspecified() && !a.IP.IsPrivate() && !a.IP.IsLoopback() && !a.IP.IsLinkLocalUnicast()
	if public || o.TLS || len(o.Origins) > 0 || len(o.Proxies) > 0 {
		return 8
	}
	return 6
}
