package web_test

import (
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/wire"
	"halfline/server/web"
)

// TestStopWaitsForLiveConnections: those that are welcomed, and those that have
// not said a word yet.
func TestStopWaitsForLiveConnections(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Stop")
	coach := s.Open(wire.Hello{Token: token, Session: id})
	silent, _, err := (&websocket.Dialer{Subprotocols: []string{wire.Subprotocol}}).Dial("ws"+strings.TrimPrefix(s.Base, "http")+"/live",
		http.Header{"Origin": {s.Base}})
	require.NoError(t, err)
	defer silent.Close()
	began := time.Now()
	s.hub.Close()
	s.web.Close()
	assert.Less(t, time.Since(began), 4*time.Second, "less than a hello may take")
	v := coach.Over()
	assert.Equal(t, wire.Bye{Code: "restart", WaitMS: 5000}, v.Bye)
	assert.Equal(t, wire.CloseRestart, v.Code)
	_, data, err := silent.ReadMessage()
	require.NoError(t, err)
	assert.JSONEq(t, `{"bye":{"code":"restart","wait_ms":5000}}`, string(data))
	s.denies(s.Ask("GET", "/live", "", nil), 503, "restart")
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T"}), 503, "storage")
}

// TestStopWhileDevicesCome: whoever comes just then is told so, and none is
// left behind. It is for the race detector as well.
func TestStopWhileDevicesCome(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Stop")
	code := s.draw(token, id)
	joins := make([]wire.JoinOut, 12)
	for i := range joins {
		joins[i] = s.Join(code, "Comes", "")
	}
	var coming sync.WaitGroup
	started := make(chan struct{}, 100)
	for _, join := range joins {
		coming.Go(func() {
			for {
				d := &websocket.Dialer{Subprotocols: []string{wire.Subprotocol}}
				ws, resp, err := d.Dial("ws"+strings.TrimPrefix(s.Base, "http")+"/live", http.Header{"Origin": {s.Base}})
				if err != nil {
					assert.NotNil(t, resp)
					assert.Equal(t, 503, resp.StatusCode)
					return
				}
				hello, err := wire.EncodeUp(wire.Up{Hello: &wire.Hello{V: 1, Token: join.Token, Client: "9a41c07e55d2f318"}})
				assert.NoError(t, err)
				_ = ws.WriteMessage(websocket.TextMessage, hello) // it may be closed already
				for i := 0; err == nil; i++ {
					if _, _, err = ws.ReadMessage(); err == nil && i == 0 {
						select {
						case started <- struct{}{}:
						default:
						}
					}
				}
				assert.True(t, websocket.IsCloseError(err, wire.CloseRestart), "%v", err)
				ws.Close()
			}
		})
	}
	for range len(joins) / 2 {
		<-started
	}
	s.hub.Close()
	s.web.Close()
	coming.Wait()
}

// TestHandlerThatBreaks: one request is answered plainly, the next as ever, and
// the log tells where, but not with what.
func TestHandlerThatBreaks(t *testing.T) {
	s := newSite(t, nil)
	token, _ := s.staff("Breaks")
	breaks := true
	s.tweak = func(o *web.Options) {
		find := o.Books
		o.Books = func(id string) (*book.Book, error) {
			if breaks {
				panic(s.secret("somebody's name"))
			}
			return find(id)
		}
	}
	s.restart()
	s.denies(s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T"}), 500, "fault")
	assert.Contains(t, s.log.String(), "a handler broke")
	assert.Contains(t, s.log.String(), "newSession")
	breaks = false
	var out wire.SessionOut
	s.Ask("POST", "/api/sessions", token, wire.SessionIn{Title: "T"}).Into(t, &out)
}
