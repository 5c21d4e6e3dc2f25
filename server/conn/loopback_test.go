package conn

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
)

// site is a server on a real socket.
type site struct {
	t    *testing.T
	url  string
	stop context.CancelFunc
	live sync.WaitGroup
}

func newSite(t *testing.T, h func() Handler) *site {
	s := &site{t: t}
	ctx, stop := context.WithCancel(context.Background())
	s.stop = stop
	door := NewDoor(func(r *http.Request) bool { return r.Header.Get("Origin") != "" },
		func(w http.ResponseWriter, status int) { http.Error(w, "no", status) })
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.live.Add(1)
		defer s.live.Done()
		if ws := door.Accept(w, r); ws != nil {
			Serve(ctx, ws, h(), hubTime)
		}
	}))
	s.url = "ws" + strings.TrimPrefix(srv.URL, "http")
	t.Cleanup(func() {
		stop()
		s.live.Wait()
		srv.Close()
	})
	return s
}

// patience is far above what anything takes here.
const patience = 20 * time.Second

func (s *site) dial(spoken ...string) (*device, *http.Response, error) {
	s.t.Helper()
	d := &websocket.Dialer{Subprotocols: spoken}
	ws, resp, err := d.Dial(s.url, http.Header{"Origin": {"http://board"}})
	if err != nil {
		return nil, resp, err
	}
	s.t.Cleanup(func() { ws.Close() })
	require.NoError(s.t, ws.SetReadDeadline(time.Now().Add(patience)))
	return &device{t: s.t, ws: ws}, resp, nil
}

func (s *site) connect() *device {
	s.t.Helper()
	d, _, err := s.dial(wire.Subprotocol)
	require.NoError(s.t, err)
	return d
}

func TestDoor(t *testing.T) {
	s := newSite(t, func() Handler { return &hub{} })
	get := func(header http.Header) int {
		t.Helper()
		req, err := http.NewRequest(http.MethodGet, "http"+strings.TrimPrefix(s.url, "ws"), nil)
		require.NoError(t, err)
		req.Header = header
		resp, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		resp.Body.Close()
		return resp.StatusCode
	}
	shake := http.Header{"Connection": {"Upgrade"}, "Upgrade": {"websocket"}, "Sec-Websocket-Version": {"13"},
		"Sec-Websocket-Key": {"dGhlIHNhbXBsZSBub25jZQ=="}, "Sec-Websocket-Protocol": {wire.Subprotocol}, "Origin": {"http://board"}}
	without := func(key string) http.Header { h := shake.Clone(); h.Del(key); return h }
	with := func(key, value string) http.Header { h := shake.Clone(); h.Set(key, value); return h }
	for name, c := range map[string]struct {
		header http.Header
		status int
	}{
		"a page":                   {http.Header{}, 400},
		"no origin":                {without("Origin"), 403},
		"no key":                   {without("Sec-Websocket-Key"), 400},
		"no upgrade":               {without("Connection"), 400},
		"an old websocket":         {with("Sec-Websocket-Version", "8"), 400},
		"no subprotocol":           {without("Sec-Websocket-Protocol"), 400},
		"a subprotocol of others":  {with("Sec-Websocket-Protocol", "chat, graphql-ws"), 400},
		"a subprotocol spelt anew": {with("Sec-Websocket-Protocol", "Halfline.1"), 400},
	} {
		assert.Equal(t, c.status, get(c.header), name)
	}
	d, resp, err := s.dial("chat", wire.Subprotocol)
	require.NoError(t, err)
	assert.Equal(t, wire.Subprotocol, d.ws.Subprotocol())
	assert.Empty(t, resp.Header.Get("Sec-Websocket-Extensions"), "compression is not offered")
	http.DefaultClient.CloseIdleConnections()
}

// TestPageOfAnotherVersionIsTold: a browser shows a page only what comes on an
// open websocket.
func TestPageOfAnotherVersionIsTold(t *testing.T) {
	s := newSite(t, func() Handler { return &hub{} })
	d, _, err := s.dial("halfline.99", "halfline.98")
	require.NoError(t, err)
	assert.Equal(t, "halfline.99", d.ws.Subprotocol())
	_, bye, code := d.ending()
	assert.Equal(t, "version", bye)
	assert.Equal(t, wire.CloseVersion, code)
}

// TestReasonArrivesThroughUnreadBytes: the device was still talking when it was
// cut, so the server closes with bytes unread.
func TestReasonArrivesThroughUnreadBytes(t *testing.T) {
	for range 20 {
		h := &hub{frame: func(out *Out, _ wire.Up) { out.Close(wire.CloseRemoved) }}
		s := newSite(t, func() Handler { return h })
		d := s.connect()
		d.say(goodHello)
		d.say(`{"point":{}}`)
		for range 20 {
			if d.ws.WriteMessage(websocket.TextMessage, []byte(pad(`{"beat":{"t":1}}`, wire.MaxUp))) != nil {
				break
			}
		}
		_, bye, code := d.ending()
		require.Equal(t, "removed", bye)
		require.Equal(t, wire.CloseRemoved, code)
	}
}

func TestEveryCodeArrives(t *testing.T) {
	for _, code := range []int{wire.CloseRestart, wire.CloseSlow, wire.CloseQuiet, wire.CloseStale, wire.CloseReplaced, wire.CloseNoToken,
		wire.CloseNoSession, wire.CloseRemoved, wire.CloseVersion, wire.CloseBadHello, websocket.ClosePolicyViolation} {
		s := newSite(t, func() Handler {
			return &hub{frame: func(out *Out, _ wire.Up) {
				out.Send(note(1), "")
				out.Close(code)
				out.Close(wire.CloseReplaced)
			}}
		})
		d := s.connect()
		d.say(goodHello)
		d.say(`{"point":{}}`)
		frames, bye, got := d.ending()
		assert.Equal(t, code, got)
		assert.Equal(t, wire.ByeCode(code), bye)
		if code != wire.CloseSlow {
			assert.Len(t, frames, 1, "what waits is sent before bye")
		}
	}
}

// TestServerStops: every device is told to come back, in the hello or after.
func TestServerStops(t *testing.T) {
	s := newSite(t, func() Handler { return &hub{} })
	var ds []*device
	for i := range 20 {
		d := s.connect()
		if i%2 == 0 {
			d.say(goodHello)
		}
		ds = append(ds, d)
	}
	s.stop()
	for _, d := range ds {
		_, data, err := d.ws.ReadMessage()
		require.NoError(t, err)
		assert.JSONEq(t, `{"bye":{"code":"restart","wait_ms":5000}}`, string(data))
		_, _, code := d.ending()
		assert.Equal(t, wire.CloseRestart, code)
		d.ws.Close()
	}
	s.live.Wait()
}

// TestDevicesGoAsTheyLike: with a goodbye, without one, with a reset.
func TestDevicesGoAsTheyLike(t *testing.T) {
	for name, leave := range map[string]func(*device){
		"goodbye": func(d *device) {
			require.NoError(d.t, d.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(1001, ""), time.Now().Add(patience)))
			_, bye, code := d.ending()
			assert.Empty(d.t, bye)
			assert.Equal(d.t, 1001, code)
		},
		"closed": func(d *device) { d.ws.Close() },
		"reset": func(d *device) {
			require.NoError(d.t, d.ws.NetConn().(*net.TCPConn).SetLinger(0))
			d.ws.Close()
		},
	} {
		t.Run(name, func(t *testing.T) {
			h := &hub{}
			s := newSite(t, func() Handler { return h })
			d := s.connect()
			d.say(goodHello)
			leave(d)
			s.live.Wait()
			assert.Equal(t, len(h.hellos), h.gone)
		})
	}
}

// TestStalledSocketDoesNotHoldUpOthers: the kernel takes its share before a
// write blocks; it is kept small, so that a slow device is soon found out.
func TestStalledSocketDoesNotHoldUpOthers(t *testing.T) {
	handlers := make(chan *hub, 2)
	welcomed := make(chan struct{}, 2)
	s := newSite(t, func() Handler {
		h := <-handlers
		h.hello = func(context.Context, *Out) error { welcomed <- struct{}{}; return nil }
		return h
	})
	stalled, quick := &hub{}, &hub{}
	handlers <- stalled
	d := s.connect()
	d.say(goodHello)
	<-welcomed
	handlers <- quick
	other := s.connect()
	other.say(goodHello)
	<-welcomed

	frame, sent := []byte(pad(`{"acks":[]}`, 30000)), 0
	for i := 0; stalled.out.Send(frame, ""); i++ {
		sent += len(frame)
		require.True(t, quick.out.Send(note(i), ""))
		require.EqualValues(t, i, other.hear().Acks[0].N)
	}
	assert.Less(t, sent, 3<<20, "this end's buffer is bounded; the other end's is the device's own")
	t.Logf("a reader that never reads was cut after %d KiB, kernel's share included", sent>>10)
	require.True(t, quick.out.Send(note(7), ""))
	require.EqualValues(t, 7, other.hear().Acks[0].N)
	_, bye, code := d.ending()
	assert.Equal(t, "slow", bye)
	assert.Equal(t, wire.CloseSlow, code)
}

// TestManySendersManyDevices is for the race detector.
func TestManySendersManyDevices(t *testing.T) {
	var mu sync.Mutex
	var outs []*Out
	var ready, senders, devices sync.WaitGroup
	const n = 10
	ready.Add(n)
	s := newSite(t, func() Handler {
		return &hub{hello: func(_ context.Context, out *Out) error {
			mu.Lock()
			defer mu.Unlock()
			outs = append(outs, out)
			ready.Done()
			return nil
		}}
	})
	for range n {
		d := s.connect()
		d.say(goodHello)
		devices.Go(func() {
			frames, bye, code := d.ending()
			assert.Equal(t, "restart", bye)
			assert.Equal(t, wire.CloseRestart, code)
			last := map[uint64]int{}
			for _, f := range frames {
				for _, a := range f.Acks {
					who, i := a.N/1000, int(a.N%1000)
					if was, ok := last[who]; ok {
						assert.Greater(t, i, was, "the order of a sender is kept")
					}
					last[who] = i
				}
			}
			assert.Len(t, last, 4)
		})
	}
	ready.Wait()
	for who := range 4 {
		senders.Go(func() {
			for i := range 200 {
				for _, o := range outs {
					o.Send(note(1000*who+i), "")
				}
			}
		})
	}
	senders.Wait()
	s.stop()
	devices.Wait()
}
