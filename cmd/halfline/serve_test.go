package main

import (
	"net"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/internal/rehearse/device"
	"halfline/internal/rehearse/redisproc"
	"halfline/internal/wire"
)

// shownCode is the join code on a coach's page.
func shownCode(d *device.Device) string {
	return d.Until("a code is shown", func(v *device.View) bool { return v.Roster != nil && v.Roster.Code != "" }).Roster.Code
}

// only is the one session of a fresh server, opened by its coach.
func only(r *running) (*device.Device, string) {
	r.T.Helper()
	token := r.Coach(r.key)
	sessions := r.Sessions(token)
	require.Len(r.T, sessions, 1)
	return r.Open(wire.Hello{Token: token, Session: sessions[0].ID}), sessions[0].ID
}

func TestServeGreetsAndServes(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	folder := filepath.Join(t.TempDir(), "new", "data")
	r := inside(t, nil, "serve", "--addr", "127.0.0.1:0", "--data", folder)
	out := r.out.String()
	assert.Contains(t, out, "Halfline keeps its sessions in "+folder+"\n")
	assert.Regexp(t, `(?m)^  phones  `+regexp.QuoteMeta(r.Base)+`   \(the code is on the coach's page\)$`, out)
	assert.Contains(t, out, "Plain http: for a private network only.")
	assert.Contains(t, out, "Ctrl-C stops.")
	assert.Equal(t, 200, r.Ask("GET", "/", "", nil).Status)
	coach, id := only(r)
	assert.Equal(t, "Tuesday install", coach.View().State.Title)
	code := shownCode(coach)
	assert.Len(t, code, 6, "a private network")
	r.Join(code, "Ty", "21")
	r.stop()
	v := coach.Over()
	assert.Equal(t, wire.CloseRestart, v.Code)
	assert.Equal(t, exitDone, r.code(t))
	assert.Contains(t, r.out.String(), "stopping: phones are told to come back")
	assert.Empty(t, r.err.String())

	again := inside(t, nil, "--addr", "127.0.0.1:0", "--data", folder)
	assert.NotEqual(t, r.key, again.key, "a new key at each start")
	_, same := only(again)
	assert.Equal(t, id, same, "the demo is offered once")
	again.stop()
	assert.Equal(t, exitDone, again.code(t))
}

// TestPlainHalflineIsServe: no command, flags or not.
func TestPlainHalflineIsServe(t *testing.T) {
	secret := regexp.MustCompile(`[0-9a-f]{40}|127\.0\.0\.1:\d+`)
	var said []string
	for _, args := range [][]string{nil, {"serve"}, {"--allowed-origins", ""}} {
		folder := t.TempDir()
		r := inside(t, map[string]string{"HALFLINE_ADDR": "127.0.0.1:0", "HALFLINE_DATA": folder}, args...)
		only(r)
		r.stop()
		require.Equal(t, exitDone, r.code(t))
		said = append(said, strings.ReplaceAll(secret.ReplaceAllString(r.out.String(), "*"), folder, "FOLDER"))
	}
	assert.Equal(t, said[0], said[1])
	assert.Equal(t, said[0], said[2])
}

func TestEveryFlagHasItsEnvironmentTwin(t *testing.T) {
	cert := newCertificate(t)
	env := map[string]string{
		"HALFLINE_ADDR": "127.0.0.1:0", "HALFLINE_DATA": t.TempDir(), "HALFLINE_ALLOWED_ORIGINS": "https://Board.example/ , http://other.example:81",
		"HALFLINE_TRUSTED_PROXIES": "127.0.0.1,10.0.0.0/8", "HALFLINE_TLS_CERT": cert.cert, "HALFLINE_TLS_KEY": cert.key,
	}
	r := inside(t, env, "serve")
	assert.Contains(t, r.out.String(), env["HALFLINE_DATA"])
	assert.Equal(t, "https://board.example", r.Base, "links carry the first origin")
	r.stop()
	require.Equal(t, exitDone, r.code(t))

	folder := t.TempDir()
	r = inside(t, map[string]string{"HALFLINE_ADDR": "nonsense", "HALFLINE_DATA": "/proc/nowhere"}, "--addr", "127.0.0.1:0", "--data", folder)
	assert.Contains(t, r.out.String(), folder, "a flag wins")
	p := redisproc.Start(t)
	r = inside(t, map[string]string{"HALFLINE_REDIS": p.URL()}, "--addr", "127.0.0.1:0")
	assert.Contains(t, r.out.String(), "in Redis\n")
}

// TestCodesAreLongerWhereAnybodyCanCome: a name, a proxy or a certificate of its
// own say that the server is reachable from outside.
func TestCodesAreLongerWhereAnybodyCanCome(t *testing.T) {
	cert := newCertificate(t)
	for _, args := range [][]string{{"--trusted-proxies", "10.0.0.1"}, {"--tls-cert", cert.cert, "--tls-key", cert.key}, {"--allowed-origins", "http://board.example"}} {
		addr := freeAddress(t)
		r := inside(t, nil, append(args, "--addr", addr, "--data", t.TempDir())...)
		r.TLS = cert.trust
		if strings.Contains(r.Base, "board.example") { // as its proxy would
			r.Header = http.Header{"Origin": {r.Base}}
			r.Base = "http://" + addr
		}
		coach, _ := only(r)
		assert.Len(t, shownCode(coach), 8, args[0])
	}
}

// freeAddress is one that nobody listens on. Another program may take it before
// the server does; that is rare enough.
func freeAddress(t testing.TB) string {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer ln.Close()
	return ln.Addr().String()
}
