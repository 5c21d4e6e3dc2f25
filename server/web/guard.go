package web

import (
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
)

// policy lets a page load nothing from elsewhere and run nothing inline. The
// live connection is named beside 'self', which in older Safari does not cover
// it. host is one that hostOK has passed.
func policy(secure bool, host string) string {
	scheme := "ws"
	if secure {
		scheme = "wss"
	}
	return "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; " +
		"connect-src 'self' " + scheme + "://" + host + "; manifest-src 'self'; base-uri 'none'; form-action 'none'; " +
		"frame-ancestors 'none'; require-trusted-types-for 'script'"
}

// guard sets the headers that every answer carries and refuses hosts that are
// not this server's, which stops pages elsewhere from reaching it by a name of
// their own.
func (s *Server) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	for _, o := range s.o.Origins {
		_ = cross.AddTrustedOrigin(o) // checked when the flag was read
	}
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		refuse(w, http.StatusForbidden, "origin", "This page may not ask that here; open the board by its own address.")
	}))
	inner := s.mended(cross.Handler(next))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		ok := s.hostOK(r.Host)
		if ok {
			secure := s.o.TLS || slices.Contains(s.o.Origins, "https://"+strings.ToLower(r.Host)) // a proxy's
			h.Set("Content-Security-Policy", policy(secure, r.Host))
		} else {
			h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
		}
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if s.o.TLS {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		if !ok && !probe(r) {
			refuse(w, http.StatusMisdirectedRequest, "host", "This server does not go by that name; open it by its address, or name it with --allowed-origins.")
			return
		}
		inner.ServeHTTP(w, r)
	})
}

// mended keeps a mistake in one handler from ending more than that request. What
// was panicked with is not logged: it may hold anything.
func (s *Server) mended(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			switch p := recover(); p {
			case nil:
			case http.ErrAbortHandler: // on purpose
				panic(p)
			default:
				s.o.Log.Error("a handler broke", "stack", string(debug.Stack()))
				refuse(w, http.StatusInternalServerError, "fault", "Something broke on the server.")
			}
		}()
		next.ServeHTTP(w, r)
	})
}

// servedNames lists the host names this server answers to besides addresses.
func servedNames(base string, origins []string) map[string]bool {
	names := map[string]bool{"localhost": true}
	if h, err := os.Hostname(); err == nil {
		h = strings.ToLower(h)
		names[h], names[h+".local"] = true, true
	}
	for _, o := range append(slices.Clone(origins), base) {
		if u, err := url.Parse(o); err == nil && u.Hostname() != "" {
			names[strings.ToLower(u.Hostname())] = true
		}
	}
	return names
}

// probe reports whether a request only asks how the server is. It may come by
// any name, and is told nothing else.
func probe(r *http.Request) bool { return r.URL.Path == "/healthz" || r.URL.Path == "/readyz" }

// hostOK accepts addresses, which no name of somebody else's can be, and the
// names of this server; a port must be a number.
func (s *Server) hostOK(host string) bool {
	h, port, err := net.SplitHostPort(host)
	if err != nil {
		h = host
	} else if _, err := strconv.ParseUint(port, 10, 16); err != nil {
		return false
	}
	h = strings.ToLower(h)
	if strings.HasPrefix(h, "[") && strings.HasSuffix(h, "]") { // without a port
		h = h[1 : len(h)-1]
	}
	if a, err := netip.ParseAddr(h); err == nil {
		return a.Zone() == "" // a zone is free text, and no browser sends one
	}
	return s.names[h]
}

// originOK wants an Origin, and the server's own or an allowed one: a browser
// always sends it, and without it a foreign page could not be told apart.
func (s *Server) originOK(r *http.Request) bool {
	o := r.Header.Get("Origin")
	if o == "" {
		return false
	}
	if slices.Contains(s.o.Origins, o) {
		return true
	}
	u, err := url.Parse(o)
	scheme := "http"
	if s.o.TLS {
		scheme = "https"
	}
	return err == nil && u.Scheme == scheme && strings.EqualFold(u.Host, r.Host)
}

// address is who asks: the other end of the connection, or whom a trusted
// proxy names.
func (s *Server) address(r *http.Request) string {
	ap, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	addr := ap.Addr().Unmap()
	if !s.trusted(addr) {
		return addr.String()
	}
	hops := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	for _, h := range slices.Backward(hops) {
		a, err := netip.ParseAddr(strings.TrimSpace(h))
		if err != nil {
			break
		}
		addr = a.Unmap()
		if !s.trusted(addr) {
			break
		}
	}
	return addr.String()
}

func (s *Server) trusted(a netip.Addr) bool {
	return slices.ContainsFunc(s.o.Proxies, func(p netip.Prefix) bool { return p.Contains(a) })
}
