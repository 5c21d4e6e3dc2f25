package conn

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
)

func TestFramesArePassedOn(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		d.say(pad(`{"op":{"n":1,"op":{"do":"thaw"}}}`, wire.MaxUp))
		d.say(`{"beat":{"t":7}}`)
		d.say(`{"drag":{"who":"H","at":[324,-36]}}`)
		d.say(`{"point":{"who":"N"}}`)
		synctest.Wait()
		if assert.Len(t, h.frames, 3, "a beat is nobody's news") {
			assert.Equal(t, "thaw", h.frames[0].Op.Op.Do)
			assert.Equal(t, "H", h.frames[1].Drag.Who)
			assert.Equal(t, "N", h.frames[2].Point.Who)
		}
		assert.Empty(t, h.bad)
		d.leave()
		assert.Equal(t, 1, h.gone)
	})
}

func TestUnreadableFramesAreToldAndTheConnectionStays(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for _, bad := range []string{`{"boat":{"t":1}}`, `nonsense`, ``, `{}`, `[]`, goodHello, `{"beat":{"t":1.5}}`,
			`{"beat":{"t":1},"point":{}}`, `{"beat":{"t":1}}{"beat":{"t":1}}`, `{"op":{"n":1,"op":{"Do":"thaw"}}}`} {
			d.say(bad)
		}
		d.say(`{"op":{"n":1,"op":{"do":"thaw"}}}`)
		synctest.Wait()
		assert.Len(t, h.frames, 1)
		require.Len(t, h.bad, 10)
		assert.Contains(t, h.bad[0], "no such part")
		assert.Contains(t, h.bad[5], "only the first frame")
		d.leave()
	})
}

func TestTooManyUnreadableFramesEndIt(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for range badMost {
			d.say(`nonsense`)
			d.say(`{"beat":{"t":7}}`)
		}
		synctest.Wait()
		assert.Len(t, h.bad, badMost)
		d.say(`nonsense`)
		d.closedWith(websocket.ClosePolicyViolation, 0)
		assert.Len(t, h.bad, badMost)
		assert.Equal(t, 1, h.gone)
	})
}

func TestFramesThatMayNotBe(t *testing.T) {
	for name, c := range map[string]struct {
		kind int
		data string
		code int
	}{
		"a byte too many":    {websocket.TextMessage, pad(`{"beat":{"t":1}}`, wire.MaxUp+1), websocket.CloseMessageTooBig},
		"far too many bytes": {websocket.TextMessage, pad(`{"beat":{"t":1}}`, 60<<10), websocket.CloseMessageTooBig},
		"a binary frame":     {websocket.BinaryMessage, `{"beat":{"t":1}}`, websocket.CloseUnsupportedData},
		"not UTF-8":          {websocket.TextMessage, "{\"point\":{\"who\":\"\xff\"}}", websocket.CloseInvalidFramePayloadData},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T) {
				h := &hub{}
				d := welcome(t, h)
				d.send(c.kind, []byte(c.data))
				d.closedWith(c.code, 0)
				assert.Empty(t, h.frames)
				assert.Empty(t, h.bad)
				assert.Equal(t, 1, h.gone)
			})
		})
	}
}

// TestBytesThatAreNoWebsocket: what must fail with 1002 by RFC 6455. Known not
// to: a close code of one byte, which the library takes for none, lengths
// written longer than they need be, and empty pieces.
func TestBytesThatAreNoWebsocket(t *testing.T) {
	for name, raw := range map[string]string{
		"not masked (5.1)":             "\x81\x02{}",
		"a reserved bit (5.2)":         "\xc1\x82\x00\x00\x00\x00{}",
		"a reserved opcode (5.2)":      "\x83\x82\x00\x00\x00\x00{}",
		"a reserved control (5.2)":     "\x8b\x80\x00\x00\x00\x00",
		"a control in pieces (5.5)":    "\x09\x80\x00\x00\x00\x00",
		"a long control (5.5)":         "\x89\xfe\x00\x7e\x00\x00\x00\x00" + strings.Repeat("x", 126),
		"a piece of nothing (5.4)":     "\x80\x80\x00\x00\x00\x00",
		"a message in a message (5.4)": "\x01\x80\x00\x00\x00\x00\x81\x80\x00\x00\x00\x00",
		"a close code of nobody (7.4)": "\x88\x82\x00\x00\x00\x00\x03\xed", // 1005
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T) {
				h := &hub{}
				d := welcome(t, h)
				d.raw([]byte(raw))
				_, bye, code := d.ending()
				assert.Empty(t, bye)
				assert.Equal(t, websocket.CloseProtocolError, code)
				assert.Zero(t, time.Since(d.start))
				assert.Empty(t, h.frames)
				d.leave()
				assert.Equal(t, 1, h.gone)
			})
		})
	}
}

// TestFrameInPieces sends the same operation split at every byte, into two and
// into many, with a ping between and each byte as a write of its own.
func TestFrameInPieces(t *testing.T) {
	const op = `{"op":{"n":1,"op":{"do":"thaw"}}}`
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for i := range len(op) + 1 {
			d.piece(websocket.TextMessage, false, op[:i])
			d.piece(websocket.PingMessage, true, "x")
			d.piece(0, true, op[i:])
		}
		d.piece(websocket.TextMessage, false, "")
		for i := range op {
			d.piece(0, false, op[i:i+1])
			d.piece(0, false, "")
		}
		d.piece(0, true, "")
		whole := append([]byte{0x81, 0x80 | byte(len(op)), 1, 2, 3, 4}, op...)
		for i := range op {
			whole[6+i] ^= whole[2+i%4]
		}
		for _, b := range whole {
			d.raw([]byte{b})
			synctest.Wait()
		}
		assert.Len(t, h.frames, len(op)+3)
		assert.Empty(t, h.bad)
		d.leave()
	})
}

func TestPingsAreAnsweredNotForEver(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		pongs := 0
		d.ws.SetPongHandler(func(data string) error {
			assert.Equal(t, "are you there", data)
			pongs++
			return nil
		})
		for range 2 {
			for range pingMost {
				d.send(websocket.PingMessage, []byte("are you there"))
			}
			d.say(`{"beat":{"t":1}}`)
		}
		synctest.Wait()
		for range pingMost + 1 {
			d.send(websocket.PingMessage, []byte("are you there"))
		}
		d.closedWith(websocket.ClosePolicyViolation, 0)
		assert.Equal(t, 3*pingMost, pongs)
		assert.Empty(t, h.bad)
	})
}

func TestFloodEndsTheConnection(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		ended := make(chan int, 1)
		go func() { // ends with the connection
			_, _, code := d.ending()
			ended <- code
		}()
		second := func(frames int) {
			for range 10 {
				for range frames / 10 {
					_ = d.ws.WriteMessage(websocket.TextMessage, []byte(`{"beat":{"t":1}}`))
				}
				wait(100 * time.Millisecond)
			}
		}
		for range 60 { // ten times what a coach may send goes on and on ...
			second(floodRate)
		}
		require.Empty(t, ended)
		began := time.Now()
		for len(ended) == 0 { // ... twice that ends after ten seconds
			second(2 * floodRate)
		}
		assert.InDelta(t, floodFor, time.Since(began).Seconds(), 1)
		assert.Equal(t, websocket.ClosePolicyViolation, <-ended)
		d.leave()
	})
}
