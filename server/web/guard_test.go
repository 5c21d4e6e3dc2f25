package web_test

import (
	"net/http"
	"net/netip"
	"strings"
	"testing"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
	"halfline/server/web"
)

const aliens = "https://evil.example"

// TestHost: a page elsewhere that has its name point at this machine (DNS
// rebinding) gets nothing.
func TestHost(t *testing.T) {
	s := newSite(t, func(o *web.Options) { o.Origins = []string{"https://board.example"} })
	port := s.Base[strings.LastIndex(s.Base, ":"):]
	for host, ok := range map[string]bool{
		"127.0.0.1" + port: true, "localhost" + port: true, "LOCALHOST": true, "192.168.1.9:8080": true, "[fe80::1]:8080": true, "[::1]": true,
		"board.example": true, "board.example:443": true, hostname(t): true, hostname(t) + ".local" + port: true,
		"evil.example": false, "evil.example" + port: false, "board.example.evil.example": false, "127.0.0.1.evil.example": false,
		"localhost:x": false, "localhost:80 ; script-src *": false, "localhost:99999": false,
		"board.example.": false, ".": false,
	} {
		for _, path := range []string{"/", "/api/sessions", "/live"} {
			s.Header = http.Header{"Host": {host}}
			got := s.Ask("GET", path, "", nil)
			if ok {
				assert.NotEqual(t, 421, got.Status, host)
				assert.Contains(t, got.Header.Get("Content-Security-Policy"), "://"+host+";")
			} else if got.Status != 400 { // no host at all for Go's own server
				require.Equal(t, 421, got.Status, host)
				s.denies(got, 421, "host")
				assert.NotContains(t, got.Header.Get("Content-Security-Policy"), "script-src")
			}
		}
	}
	s.Header = http.Header{"Host": {"whatever.example"}}
	for _, path := range []string{"/healthz", "/readyz"} {
		assert.Equal(t, 200, s.Ask("GET", path, "", nil).Status, "a probe comes by any name")
	}
	s.Header = nil
}

// TestOriginOfRequests: a foreign page may not even try codes from a phone that
// can reach this server.
func TestOriginOfRequests(t *testing.T) {
	s := newSite(t, func(o *web.Options) { o.Origins = []string{"https://board.example"} })
	for name, c := range map[string]struct {
		header http.Header
		ok     bool
	}{
		"no browser":       {nil, true},
		"own page":         {http.Header{"Origin": {s.Base}, "Sec-Fetch-Site": {"same-origin"}}, true},
		"own, old browser": {http.Header{"Origin": {s.Base}}, true},
		"allowed":          {http.Header{"Origin": {"https://board.example"}, "Sec-Fetch-Site": {"cross-site"}}, true},
		"foreign":          {http.Header{"Origin": {aliens}, "Sec-Fetch-Site": {"cross-site"}}, false},
		"foreign, old":     {http.Header{"Origin": {aliens}}, false},
		"same site only":   {http.Header{"Origin": {"http://127.0.0.1:1"}, "Sec-Fetch-Site": {"same-site"}}, false},
		"no origin at all": {http.Header{"Origin": {"null"}, "Sec-Fetch-Site": {"cross-site"}}, false},
	} {
		s.Header = c.header
		got := s.Ask("POST", "/api/join", "", wire.JoinIn{Code: "ZZZZZZ", Name: "Ty"})
		if c.ok {
			assert.Equal(t, 404, got.Status, name)
		} else {
			s.denies(got, 403, "origin")
		}
	}
	s.Header = nil
}

// TestOriginOfLiveConnections: it must be there, and this server's or allowed.
func TestOriginOfLiveConnections(t *testing.T) {
	s := newSite(t, func(o *web.Options) { o.Origins = []string{"https://board.example"} })
	for origin, ok := range map[string]bool{
		s.Base: true, "https://board.example": true, strings.ToUpper(s.Base[:4]) + s.Base[4:]: true,
		"": false, "null": false, aliens: false, "http://board.example": false, "https://board.example:444": false,
		strings.Replace(s.Base, "http:", "https:", 1): false, s.Base + ".evil.example": false, "http://127.0.0.1": false,
	} {
		header := http.Header{}
		if origin != "" {
			header.Set("Origin", origin)
		}
		d := websocket.Dialer{Subprotocols: []string{wire.Subprotocol}}
		ws, resp, err := d.Dial("ws"+strings.TrimPrefix(s.Base, "http")+"/live", header)
		if ok {
			require.NoError(t, err, origin)
			ws.Close()
			continue
		}
		require.Error(t, err, origin)
		assert.Equal(t, 403, resp.StatusCode)
		assert.Equal(t, "application/json", resp.Header.Get("Content-Type"))
	}
}

// TestHeadersOfEveryAnswer asks for everything there is, granted or refused.
func TestHeadersOfEveryAnswer(t *testing.T) {
	for _, secure := range []bool{false, true} {
		s := newSite(t, func(o *web.Options) { o.TLS = secure })
		token, id := s.staff("Headers")
		s.draw(token, id)
		for _, path := range append(pagePaths(t), "/nothing", "/api/nothing", "/api/sessions", "/api/book?session="+id, "/api/qr?session="+id, "/api/cost?session="+id, "/api/rests?spot=N&session="+id,
			"/api/coach", "/live", "/healthz", "/readyz", "//double", "/a/../b", "/%2e%2e/x", "/assets/") {
			for _, method := range []string{"GET", "HEAD", "POST", "OPTIONS"} {
				if method == "HEAD" && (path == "/healthz" || path == "/readyz") {
					continue // granted by Go's own server, and not described
				}
				h := s.Ask(method, path, token, nil).Header
				csp := h.Get("Content-Security-Policy")
				for _, want := range []string{"default-src 'none'", "script-src 'self';", "style-src 'self';", "base-uri 'none'", "form-action 'none'",
					"frame-ancestors 'none'", "require-trusted-types-for 'script'"} {
					assert.Contains(t, csp, want, "%s %s", method, path)
				}
				scheme := map[bool]string{false: "ws", true: "wss"}[secure]
				assert.Contains(t, csp, "connect-src 'self' "+scheme+strings.TrimPrefix(s.Base, "http")+";")
				assert.NotContains(t, csp, "unsafe")
				assert.NotContains(t, csp, "*")
				assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"))
				assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"))
				assert.Contains(t, h.Get("Permissions-Policy"), "camera=()")
				assert.Equal(t, "same-origin", h.Get("Cross-Origin-Opener-Policy"))
				assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"))
				assert.Equal(t, secure, h.Get("Strict-Transport-Security") != "")
				assert.Empty(t, h.Get("Set-Cookie"), "no ambient credential")
				assert.Empty(t, h.Get("Access-Control-Allow-Origin"))
				assert.Empty(t, h.Get("Server"))
			}
		}
	}
}

// TestWhoIsBehindAProxy: only a listed proxy may say so, and only about the hop
// before it. Tries are counted by that address.
func TestWhoIsBehindAProxy(t *testing.T) {
	wrong := func(s *site, forwarded string) int {
		s.Header = nil
		if forwarded != "" {
			s.Header = http.Header{"X-Forwarded-For": strings.Split(forwarded, "|")}
		}
		return s.Ask("POST", "/api/join", "", wire.JoinIn{Code: "ZZZZZZ", Name: "Ty"}).Status
	}
	use := func(s *site, forwarded string) { // up all tries of an address
		for range 20 {
			require.Equal(s.t, 404, wrong(s, forwarded))
		}
		require.Equal(s.t, 429, wrong(s, forwarded))
	}
	t.Run("not trusted", func(t *testing.T) {
		s := newSite(t, nil)
		use(s, "203.0.113.7")
		assert.Equal(t, 429, wrong(s, "203.0.113.8"), "whatever is said, it is the same peer")
	})
	t.Run("trusted", func(t *testing.T) {
		s := newSite(t, func(o *web.Options) {
			o.Proxies = []netip.Prefix{netip.MustParsePrefix("127.0.0.0/8"), netip.MustParsePrefix("10.0.0.0/8")}
		})
		use(s, "203.0.113.7")
		assert.Equal(t, 404, wrong(s, "203.0.113.8"))
		assert.Equal(t, 429, wrong(s, "203.0.113.99, 203.0.113.7"), "what the guest made up stands left")
		assert.Equal(t, 429, wrong(s, "203.0.113.99|203.0.113.7"), "in two headers, too")
		assert.Equal(t, 429, wrong(s, "203.0.113.99, 203.0.113.7, 10.1.2.3"), "through two proxies of ours")
		assert.Equal(t, 429, wrong(s, "203.0.113.99,203.0.113.7 ,10.1.2.3"))
		assert.Equal(t, 429, wrong(s, "::ffff:203.0.113.7"))
		use(s, "")
		assert.Equal(t, 429, wrong(s, "nonsense"), "then it is the proxy itself")
	})
}
