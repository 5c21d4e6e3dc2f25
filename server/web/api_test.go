package web_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
	"halfline/server/web"
)

func TestCoachsKey(t *testing.T) {
	s := newSite(t, nil)
	token := s.Coach(s.key)
	assert.Empty(t, s.Sessions(token))
	s.denies(s.Ask("POST", "/api/coach", "", wire.CoachIn{Key: strings.Repeat("0", 40)}), 401, "no-key")
	old := s.key
	s.restart()
	s.denies(s.Ask("POST", "/api/coach", "", wire.CoachIn{Key: old}), 401, "no-key")
	assert.Empty(t, s.Sessions(token), "the token outlives the start")
}

// TestWrongClosedAndEndedCodes: a wrong code and one that has ended must look
// alike; a closed door says so, to him who has the code.
func TestWrongClosedAndEndedCodes(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Door")
	coach := s.Open(wire.Hello{Token: token, Session: id})
	ended := s.draw(token, id)
	code := s.draw(token, id)
	join := func(code string) wire.JoinIn { return wire.JoinIn{Code: code, Name: "Ty", Number: "21"} }
	wrong := s.denies(s.Ask("POST", "/api/join", "", join("ZZZZZZ")), 404, "no-code")
	assert.Equal(t, wrong, s.denies(s.Ask("POST", "/api/join", "", join(ended)), 404, "no-code"))
	assert.Equal(t, wrong, s.denies(s.Ask("POST", "/api/join", "", join("")), 404, "no-code"))

	coach.Must(session.Op{Do: "door", Mode: session.DoorClosed})
	closed := s.denies(s.Ask("POST", "/api/join", "", join(code)), 409, "door-closed")
	assert.Equal(t, "The coach has closed the door. Ask him to open it.", closed.Say)
	assert.Equal(t, "That code opens nothing. Look at the wall or ask the coach for the code of today.", wrong.Say)
	v := coach.Until("the code is taken down", func(v *view) bool { return v.Roster.Code == "" })
	assert.Empty(t, v.Roster.Link)

	coach.Must(session.Op{Do: "door", Mode: session.DoorOpen})
	out := s.Join(strings.ToLower(code[:3])+"-"+code[3:]+" ", "Ty", "21")
	assert.True(t, out.In)
}

func TestKnockingAtTheDoor(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Door")
	coach := s.Open(wire.Hello{Token: token, Session: id})
	coach.Must(session.Op{Do: "door", Mode: session.DoorKnock})
	other := s.Join(s.draw(token, id), "Elsewhere", "")
	waiting, join := s.player(s.draw(token, id), "Knocker", "5")
	assert.False(t, join.In)
	v := waiting.Until("his own entry comes", func(v *view) bool { return v.Roster != nil })
	assert.Nil(t, v.State, "who waits is not shown the board")
	require.Len(t, v.Roster.People, 1)
	assert.Equal(t, join.Member, v.Roster.People[0].Member)
	s.denies(s.Ask("GET", "/api/book?session="+id, join.Token, nil), 403, "waiting")
	assert.Equal(t, "waiting", waiting.Refused(session.Op{Do: "hold", Spot: "N"}).Code)

	coach.Must(session.Op{Do: "admit", Member: join.Member})
	v = waiting.Until("he is in", func(v *view) bool { return v.State != nil })
	assert.Equal(t, 2, v.Welcomes, "a second welcome, with the state")
	assert.Equal(t, http.StatusOK, s.Ask("GET", "/api/book?session="+id, join.Token, nil).Status)
	s.denies(s.Ask("GET", "/api/book?session="+id, other.Token, nil), 403, "waiting")
}

func TestFullSession(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Crowd")
	code := s.draw(token, id)
	for i := range session.MaxMembers {
		s.Join(code, fmt.Sprintf("M%d", i), "")
	}
	e := s.denies(s.Ask("POST", "/api/join", "", wire.JoinIn{Code: code, Name: "Late", Number: ""}), 409, "too-many")
	assert.Equal(t, "This session is full.", e.Say)
}

func TestTooManyWrongTries(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Guess")
	code := s.draw(token, id)
	guess := wire.JoinIn{Code: "ZZZZZZ", Name: "Guesser", Number: ""}
	for range 20 {
		s.denies(s.Ask("POST", "/api/join", "", guess), 404, "no-code")
	}
	for _, a := range []struct {
		path string
		in   any
	}{{"/api/join", guess}, {"/api/join", wire.JoinIn{Code: code, Name: "Ty"}}, {"/api/coach", wire.CoachIn{Key: s.key}}} {
		got := s.Ask("POST", a.path, "", a.in)
		s.denies(got, 429, "too-many")
		assert.Equal(t, "60", got.Header.Get("Retry-After"))
	}
	assert.Len(t, s.Sessions(token), 1, "who is in stays in")
}

func TestNamesAndNumbers(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Names")
	code := s.draw(token, id)
	for _, name := range []string{"", " ", "Thirteen char", "a\nb", "a\tb", "a\u202eb", "a\u200bb", "\u0000", "\ufffd", "a\u2066b"} {
		s.denies(s.Ask("POST", "/api/join", "", wire.JoinIn{Code: code, Name: name, Number: "1"}), 400, "bad-name")
	}
	for _, number := range []string{"1234", "a", " 1", "1 ", "-1", "1\n", "\u0661"} {
		s.denies(s.Ask("POST", "/api/join", "", wire.JoinIn{Code: code, Name: "Ty", Number: number}), 400, "bad-number")
	}
	for _, good := range []wire.JoinIn{{Name: "  Ty  ", Number: "0"}, {Name: "Élodie Ñ.", Number: "999"}, {Name: "Twelve chars", Number: ""}, {Name: "<b>", Number: "00"}} {
		s.Join(code, good.Name, good.Number)
	}
}

func TestBodiesThatAreNone(t *testing.T) {
	s := newSite(t, nil)
	token, _ := s.staff("Bodies")
	for _, path := range []string{"/api/coach", "/api/join", "/api/sessions"} {
		for name, c := range map[string]struct {
			body   string
			status int
			code   string
		}{
			"nothing":       {"", 400, "bad-body"},
			"no JSON":       {"{", 400, "bad-body"},
			"a list":        {"[]", 400, "bad-body"},
			"null":          {"null", 400, "bad-body"},
			"keys missing":  {"{}", 400, "bad-body"},
			"wrong kinds":   {`{"key":7,"code":7,"title":7}`, 400, "bad-body"},
			"twice a key":   {`{"key":"a","key":"b","title":"a","title":"b","code":"a","code":"b"}`, 400, "bad-body"},
			"not UTF-8":     {"{\"key\":\"\xff\",\"code\":\"\xff\",\"title\":\"\xff\"}", 400, "bad-body"},
			"deep":          {strings.Repeat("[", 3000), 400, "bad-body"},
			"far too large": {`{"key":"` + strings.Repeat("x", 5000) + `"}`, 413, "too-large"},
		} {
			e := s.denies(s.Ask("POST", path, token, c.body), c.status, c.code)
			assert.NotContains(t, e.Say, "xxx", "%s: no value is quoted", name)
		}
		s.Header = http.Header{"Content-Type": {"text/plain"}}
		s.denies(s.Ask("POST", path, token, `{"key":"a"}`), 415, "bad-type")
		s.Header = nil
	}
}

func TestSessions(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("First")
	_, other := s.staff("Second")
	got := map[string]string{}
	for _, l := range s.Sessions(token) {
		got[l.ID] = l.Title
	}
	assert.Equal(t, map[string]string{id: "First", other: "Second"}, got)
	for _, title := range []string{"", strings.Repeat("x", 41), "a\nb"} {
		s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: title}), 400, "bad-title")
	}
	book := s.secret("no-such-book-of-mine")
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T", Book: book}), 400, "bad-book")
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T", Book: "../../etc/passwd"}), 400, "bad-book")
	assert.Len(t, s.Sessions(token), 2, "nothing was started")
}

// TestWhoMayAskWhat is every endpoint with every kind of token.
func TestWhoMayAskWhat(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Mine")
	code := s.draw(token, id)
	player := s.Join(code, "Ty", "21")
	_, elsewhere := s.staff("Not his")
	for _, c := range []struct {
		method, path string
		body         any
		player       int
	}{
		{"GET", "/api/sessions", nil, 403},
		{"POST", "/api/sessions", wire.SessionIn{Title: "T"}, 403},
		{"GET", "/api/book?session=" + id, nil, 200},
		{"GET", "/api/book?session=" + elsewhere, nil, 403},
		{"POST", "/api/code?session=" + id, nil, 403},
		{"GET", "/api/qr?session=" + id, nil, 403},
		{"GET", "/api/rests?spot=N&session=" + elsewhere, nil, 403},
	} {
		for _, none := range []string{"", "x", strings.Repeat("0", 40)} {
			got := s.Ask(c.method, c.path, none, c.body)
			s.denies(got, 401, "no-token")
			assert.Equal(t, "Bearer", got.Header.Get("WWW-Authenticate"))
		}
		s.Header = http.Header{"Authorization": {"Basic " + token}}
		s.denies(s.Ask(c.method, c.path, "", c.body), 401, "no-token")
		s.Header = nil
		got := s.Ask(c.method, c.path, player.Token, c.body)
		assert.Equal(t, c.player, got.Status, "%s %s", c.method, c.path)
		if c.player == 403 {
			s.denies(got, 403, "not-allowed")
		}
		assert.Equal(t, 200, s.Ask(c.method, c.path, token, c.body).Status, "%s %s", c.method, c.path)
	}
}

// TestNoSuchSession: whatever stands in the query, it is a 404 and no fault.
func TestNoSuchSession(t *testing.T) {
	s := newSite(t, nil)
	token, _ := s.staff("Here")
	for _, id := range []string{"", "?session=", "?session=nobody", "?session=..%2f..", "?session=%00", "?session=" + strings.Repeat("x", 5000),
		"?session=%F0%9F%8F%88", "?session=a&session=b", "?sessions=x", "?session=%ff"} {
		for _, c := range []struct{ method, path string }{{"GET", "/api/book"}, {"POST", "/api/code"}, {"GET", "/api/qr"}, {"GET", "/api/cost"}, {"GET", "/api/rests"}} {
			s.denies(s.Ask(c.method, c.path+id, token, nil), 404, "no-session")
		}
	}
	items, err := s.st.Items(background, "")
	require.NoError(t, err)
	assert.Len(t, items, 1, "the token; no code was drawn for nobody")
	assert.NotContains(t, s.log.String(), "level=ERROR")
}

func TestUnknownAddressesAndMethods(t *testing.T) {
	s := newSite(t, nil)
	token, _ := s.staff("Here")
	for _, path := range []string{"/api/", "/api/nothing", "/api/coach/", "/api/join/x", "/api/sessions/1"} {
		s.denies(s.Ask("GET", path, token, nil), 404, "unknown")
	}
	for path, allow := range map[string]string{"/api/coach": "POST", "/api/join": "POST", "/api/sessions": "GET, POST", "/api/book": "GET",
		"/api/code": "POST", "/api/qr": "GET", "/api/cost": "GET", "/api/rests": "GET", "/live": "GET"} {
		for _, method := range []string{"GET", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"} {
			if strings.Contains(allow, method) {
				continue
			}
			got := s.Ask(method, path, token, nil)
			s.denies(got, 405, "method")
			assert.Equal(t, allow, got.Header.Get("Allow"), "%s %s", method, path)
		}
	}
	s.denies(s.Ask("GET", "/live", "", nil), 400, "handshake")
}

// TestStoreInTrouble: people are told in plain words, and why goes to the log.
func TestStoreInTrouble(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Trouble")
	code := s.draw(token, id)
	s.t = t
	trouble := &troubled{Store: s.st}
	s.open = func() store.Store { return trouble }
	s.restart()
	assert.Equal(t, "ok\n", string(s.Ask("GET", "/readyz", "", nil).Body))

	trouble.err = store.ErrReadOnly
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T"}), 503, "storage")
	s.denies(s.Ask("POST", "/api/join", "", wire.JoinIn{Code: code, Name: "Ty"}), 503, "storage")
	trouble.err = fmt.Errorf("bolt: /var/lib/secret: input/output error 0xdead")
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T"}), 500, "fault")
	s.denies(s.Ask("POST", "/api/join", "", wire.JoinIn{Code: code, Name: "Ty"}), 500, "fault")
	s.denies(s.Ask("POST", "/api/coach", "", wire.CoachIn{Key: s.key}), 500, "fault")
	got := s.Ask("GET", "/readyz", "", nil)
	assert.Equal(t, 503, got.Status)
	assert.NotContains(t, string(got.Body), "bolt")
	assert.Contains(t, s.log.String(), "0xdead")
}

func TestProbes(t *testing.T) {
	s := newSite(t, func(o *web.Options) {})
	assert.Equal(t, "ok\n", string(s.Ask("GET", "/healthz", "", nil).Body))
	assert.Equal(t, "ok\n", string(s.Ask("GET", "/readyz", "", nil).Body))
	s.hub.Close()
	s.web.Close()
	got := s.Ask("GET", "/readyz", "", nil)
	assert.Equal(t, 503, got.Status)
	assert.Equal(t, "draining\n", string(got.Body))
	assert.Equal(t, 200, s.Ask("GET", "/healthz", "", nil).Status)
	s.denies(s.Ask("GET", "/live", "", nil), 503, "restart")
}
