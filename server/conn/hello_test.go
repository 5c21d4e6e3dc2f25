package conn

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"

	"halfline/internal/wire"
)

// pad fills a frame up to n bytes with white space, which JSON passes over.
func pad(frame string, n int) string { return frame + strings.Repeat(" ", n-len(frame)) }

func TestHelloIsPassedOn(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := connect(t, h)
		d.say(pad(goodHello, wire.MaxFirst))
		synctest.Wait()
		if assert.Len(t, h.hellos, 1) {
			assert.Equal(t, "9a41c07e55d2f318", h.hellos[0].Client)
		}
		assert.Zero(t, h.gone)
		d.leave()
		assert.Equal(t, 1, h.gone)
	})
}

func TestHelloComesWithinFiveSeconds(t *testing.T) {
	for name, talk := range map[string]func(*device){
		"silence": func(*device) {},
		"pings": func(d *device) {
			for range 50 {
				d.send(websocket.PingMessage, nil)
				wait(90 * time.Millisecond)
			}
		},
		"a trickle": func(d *device) {
			d.piece(websocket.TextMessage, false, "")
			for _, c := range goodHello[:48] {
				d.piece(0, false, string(c))
				wait(100 * time.Millisecond)
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T) {
				h := &hub{}
				d := connect(t, h)
				talk(d)
				d.closedWith(wire.CloseBadHello, wire.HelloWithin)
				assert.Empty(t, h.hellos)
				assert.Zero(t, h.gone, "nobody came, nobody went")
			})
		})
	}
}

func TestWhatIsNoHelloEndsTheConnection(t *testing.T) {
	later := strings.Replace(goodHello, `"v":1`, `"v":2`, 1)
	for name, c := range map[string]struct {
		kind int
		data string
		code int
	}{
		"a beat":             {websocket.TextMessage, `{"beat":{"t":1}}`, wire.CloseBadHello},
		"an operation":       {websocket.TextMessage, `{"op":{"n":1,"op":{"do":"thaw"}}}`, wire.CloseBadHello},
		"an unknown part":    {websocket.TextMessage, `{"boat":{}}`, wire.CloseBadHello},
		"nothing":            {websocket.TextMessage, ``, wire.CloseBadHello},
		"no JSON":            {websocket.TextMessage, `hello`, wire.CloseBadHello},
		"a key missing":      {websocket.TextMessage, `{"hello":{"v":1,"token":"x"}}`, wire.CloseBadHello},
		"another version":    {websocket.TextMessage, later, wire.CloseVersion},
		"a byte too many":    {websocket.TextMessage, pad(goodHello, wire.MaxFirst+1), websocket.CloseMessageTooBig},
		"far too many bytes": {websocket.TextMessage, pad(goodHello, 40<<10), websocket.CloseMessageTooBig},
		"a binary frame":     {websocket.BinaryMessage, goodHello, websocket.CloseUnsupportedData},
		"not UTF-8":          {websocket.TextMessage, "{\"hello\":{\"v\":1,\"token\":\"\xff\"}}", websocket.CloseInvalidFramePayloadData},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T) {
				h := &hub{}
				d := connect(t, h)
				d.send(c.kind, []byte(c.data))
				d.closedWith(c.code, 0)
				assert.Empty(t, h.hellos)
				assert.Zero(t, h.gone)
			})
		})
	}
}

func TestHubRefusesAHello(t *testing.T) {
	for _, code := range []int{wire.CloseNoToken, wire.CloseNoSession, wire.CloseRemoved, wire.CloseBadHello, wire.CloseRestart} {
		bubble(t, func(t *testing.T) {
			h := &hub{refuse: code}
			d := connect(t, h)
			d.say(goodHello)
			d.closedWith(code, 0)
			assert.Zero(t, h.gone)
		})
	}
}

// TestHelloUnderWayEndsWithTheServer: the hub may be waiting for its store.
func TestHelloUnderWayEndsWithTheServer(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{hello: func(ctx context.Context, _ *Out) error {
			<-ctx.Done()
			return errors.New("the hub has closed")
		}}
		d := connect(t, h)
		d.say(goodHello)
		wait(time.Second)
		d.stop()
		d.closedWith(wire.CloseRestart, time.Second)
		assert.Zero(t, h.gone)
	})
}
