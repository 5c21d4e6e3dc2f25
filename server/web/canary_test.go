package web_test

import (
	"fmt"
	"net/http"
	"net/netip"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/device"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
	"halfline/server/web"
)

// TestNothingPersonalIsLogged sends a marked word through every input there is,
// while all goes well and while the store fails, and scans all that was logged
// on any level (I13). The site scans for tokens, keys, codes and names.
func TestNothingPersonalIsLogged(t *testing.T) {
	s := newSite(t, func(o *web.Options) { o.Proxies = []netip.Prefix{netip.MustParsePrefix("127.0.0.0/8")} })
	trouble := &troubled{Store: s.st}
	s.open = func() store.Store { return trouble }
	s.restart()
	n := 0
	mark := func() string { n++; return s.secret(fmt.Sprintf("canary%d", n)) }
	s.Header = http.Header{"User-Agent": {mark()}, "Referer": {"http://" + mark()}, "Cookie": {mark()}, "X-Forwarded-For": {s.secret("198.51.100.77")}, "X-" + mark(): {mark()}}

	talk := func() {
		title := mark()
		token := s.Coach(s.key)
		s.secret(token)
		var out wire.SessionOut
		s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: title}).Into(t, &out)
		code := s.draw(token, out.ID)
		coach := s.Open(wire.Hello{Token: token, Session: out.ID})
		player, _ := s.player(code, mark(), s.secret("777"))
		people := []*device.Device{coach, player}

		for _, err := range []error{nil, store.ErrReadOnly, fmt.Errorf("the disk said no")} {
			trouble.err = err
			for _, a := range []struct {
				method, path, token string
				body                any
			}{
				{"GET", "/" + mark(), "", nil}, {"GET", "/?" + mark(), "", nil}, {"GET", "/api/" + mark(), mark(), nil},
				{"POST", "/api/coach", "", wire.CoachIn{Key: mark()}}, {"POST", "/api/coach", "", `{"` + mark() + `":"` + mark()},
				{"POST", "/api/coach", "", wire.CoachIn{Key: s.key}},
				{"POST", "/api/join", "", wire.JoinIn{Code: mark(), Name: mark(), Number: "1"}},
				{"POST", "/api/join", "", wire.JoinIn{Code: code, Name: mark(), Number: "777"}},
				{"POST", "/api/join", "", wire.JoinIn{Code: code, Name: "too long " + mark(), Number: mark()}},
				{"POST", "/api/sessions", token, wire.SessionIn{Title: mark(), Book: mark()}},
				{"POST", "/api/sessions", token, wire.SessionIn{Title: mark()}},
				{"GET", "/api/book?session=" + mark(), token, nil}, {"POST", "/api/code?session=" + mark(), token, nil},
				{"GET", "/api/qr?session=%2e" + mark(), token, nil}, {"GET", "/api/cost?session=" + mark(), token, nil}, {"GET", "/api/rests?session=" + out.ID + "&spot=" + mark(), token, nil}, {"GET", "/api/sessions?" + mark(), token, nil},
			} {
				s.Ask(a.method, a.path, a.token, a.body)
			}
			for _, d := range people {
				d.Raw(mark())
				d.Raw(`{"` + mark() + `":{"` + mark() + `":"` + mark() + `"}}`)
				d.Raw(`{"op":{"n":"` + mark() + `"}}`)
				d.Raw(`{"point":{"who":"` + mark() + `","` + mark() + `":1}}`)
				d.Send(wire.Up{Drag: &wire.Drag{Who: mark()}})
				for _, op := range []session.Op{{Do: "title", Text: mark()}, {Do: "hold", Spot: mark()}, {Do: "place", Who: mark(), At: &session.Place{}},
					{Do: "admit", Member: mark()}, {Do: "look", Look: mark()}} {
					d.Do(op)
				}
			}
			for _, h := range []wire.Hello{{Token: mark()}, {Token: token, Session: mark()}, {Token: token, Session: out.ID, Resume: &wire.Resume{
				Epoch: mark(), Have: 1, Chain: "0b7d44e1f29a6c05"}}} {
				s.Dial(h).Close()
			}
		}
		trouble.err = nil
	}
	talk()
	text := s.log.String()
	assert.NotContains(t, text, "canary")
	assert.NotContains(t, text, "127.0.0.1")
	require.NotEmpty(t, text, "something was logged: the store was in trouble")
}
