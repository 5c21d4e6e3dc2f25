package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/netip"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"

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
	fs.StringVar(&f.origins, "allowed-origins", "", "page origins allowed besides this address, with commas; links carry the first (https://board.example)")
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
	cert, err := f.certificate()
	if err != nil {
		return s.fail(exitInput, err)
	}
	if err := runServer(ctx, s, f, o, cert); err != nil {
		return s.fail(exitMachine, err)
	}
	return exitDone
}

// certificate is nil without TLS.
func (f serveFlags) certificate() (*tls.Certificate, error) {
	if f.cert == "" {
		return nil, nil
	}
	c, err := tls.LoadX509KeyPair(f.cert, f.key)
	var pe *os.PathError
	switch {
	case err == nil:
		return &c, nil
	case errors.As(err, &pe):
		return nil, fmt.Errorf("%s: %w: give a certificate and its key as PEM files", pe.Path, pe.Err)
	}
	return nil, fmt.Errorf("%s: %w: give a certificate and its key as PEM files", f.cert, err)
}

// options reads the flags that have a form.
func (f serveFlags) options() (web.Options, error) {
	o := web.Options{DemoBook: demoBook, TLS: f.cert != ""}
	if (f.cert == "") != (f.key == "") {
		return o, fmt.Errorf("serve: one of --tls-cert and --tls-key: give both or neither")
	}
	for _, p := range list(f.origins) {
		u, err := url.Parse(p)
		if err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Hostname() == "" || strings.TrimSuffix(p, "/") != u.Scheme+"://"+u.Host {
			return o, fmt.Errorf("serve: --allowed-origins: %q: want scheme and host, such as https://board.example", p)
		}
		o.Origins = append(o.Origins, u.Scheme+"://"+strings.ToLower(u.Host))
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
	// What else a Redis URL may say is the store's to read. It may hold a
	// password, so it is not quoted.
	if u, err := url.Parse(f.redis); f.redis != "" && (err != nil || !slices.Contains([]string{"redis", "rediss", "unix"}, u.Scheme)) {
		return o, fmt.Errorf("serve: --redis: no URL of a Redis: want redis://[user:password@]HOST:PORT[/DB]")
	}
	host, port, err := net.SplitHostPort(f.addr)
	if _, perr := strconv.ParseUint(port, 10, 16); err != nil || perr != nil {
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
