package conn

import (
	"context"
	"errors"
	"time"
	"unicode/utf8"

	"github.com/gorilla/websocket"

	"halfline/internal/wire"
)

// Handler answers one device's frames. Its methods are called from one
// goroutine.
type Handler interface {
	// Hello is the first frame. An error carries the close code; detail is for
	// logs only.
	Hello(ctx context.Context, h wire.Hello, out *Out) (closeCode int, err error)
	Frame(up wire.Up)
	// BadFrame is called for a frame that could not be read; the connection
	// stays.
	BadFrame(detail string)
	// Gone is called once when the connection has ended, if Hello succeeded.
	Gone()
}

// Out is a device's outlet. Its methods never block and may be called from any
// goroutine.
type Out struct{ box *outbox }

// Send queues a frame; false when the device is cut off.
func (o *Out) Send(data []byte, key string) bool {
	if o.box.put(data, key) {
		return true
	}
	o.box.close(wire.CloseSlow)
	return false
}

// Close says bye and ends the connection.
func (o *Out) Close(code int) { o.box.close(code) }

const (
	writeWithin = 5 * time.Second
	// badMost unreadable frames end a connection: whoever sends so many does
	// not speak this protocol.
	badMost = 20
)

// Serve runs one connection until it ends. It closes ws.
func Serve(ctx context.Context, ws *websocket.Conn, h Handler) {
	out := &Out{box: newOutbox()}
	done := make(chan struct{})
	go func() { // ends when the outbox closes or a write fails; waited for below
		defer close(done)
		write(ws, out.box)
	}()
	read(ctx, ws, h, out)
	out.box.close(websocket.CloseNormalClosure)
	<-done
	ws.Close()
}

// read reads frames until the connection ends.
func read(ctx context.Context, ws *websocket.Conn, h Handler, out *Out) {
	ws.SetReadLimit(wire.MaxFirst)
	if ws.SetReadDeadline(time.Now().Add(wire.HelloWithin)) != nil {
		return
	}
	data, code := next(ws)
	if data == nil {
		if code == 0 {
			code = wire.CloseBadHello
		}
		out.Close(code)
		return
	}
	up, err := wire.DecodeUp(data)
	if err != nil || up.Hello == nil {
		out.Close(wire.CloseBadHello)
		return
	}
	if up.Hello.V != wire.Version {
		out.Close(wire.CloseVersion)
		return
	}
	if code, err := h.Hello(ctx, *up.Hello, out); err != nil {
		out.Close(code)
		return
	}
	defer h.Gone()
	ws.SetReadLimit(wire.MaxUp)
	bad := 0
	for {
		// One deadline a message, not a frame of it: a trickle cannot keep a
		// connection alive.
		if ws.SetReadDeadline(time.Now().Add(wire.DeviceQuiet)) != nil {
			return
		}
		data, code := next(ws)
		if data == nil {
			out.Close(max(code, wire.CloseQuiet))
			return
		}
		up, err := wire.DecodeUp(data)
		switch {
		case err != nil:
			if bad++; bad > badMost {
				out.Close(websocket.ClosePolicyViolation)
				return
			}
			h.BadFrame(err.Error())
		case up.Beat != nil:
		case up.Hello != nil:
			h.BadFrame("hello: only the first frame may be one")
		default:
			h.Frame(up)
		}
	}
}

// next reads one text message. nil: the connection is to end, with a code if
// the device broke a rule.
func next(ws *websocket.Conn) ([]byte, int) {
	kind, data, err := ws.ReadMessage()
	switch {
	case errors.Is(err, websocket.ErrReadLimit):
		return nil, websocket.CloseMessageTooBig
	case err != nil:
		return nil, 0
	case kind != websocket.TextMessage:
		return nil, websocket.CloseUnsupportedData
	case !utf8.Valid(data): // the library passes it on
		return nil, websocket.CloseInvalidFramePayloadData
	}
	return data, 0
}

// write sends what waits in the outbox, and a beat when nothing was sent for a
// while. It ends with the outbox's close code, or when a write fails.
func write(ws *websocket.Conn, box *outbox) {
	beat := time.NewTimer(wire.BeatAfter)
	defer beat.Stop()
	start := time.Now()
	for {
		select {
		case <-box.wake:
		case <-beat.C:
			b, err := wire.Encode(wire.Down{Beat: &wire.Beat{T: time.Since(start).Milliseconds()}})
			if err != nil || !put(ws, b) {
				fail(ws, box)
				return
			}
		}
		frames, code := box.take()
		for _, f := range frames {
			if !put(ws, f.data) {
				fail(ws, box)
				return
			}
		}
		if code != 0 {
			bye(ws, code)
			return
		}
		beat.Reset(wire.BeatAfter)
	}
}

func put(ws *websocket.Conn, data []byte) bool {
	return ws.SetWriteDeadline(time.Now().Add(writeWithin)) == nil && ws.WriteMessage(websocket.TextMessage, data) == nil
}

// fail ends a connection whose writes fail: the reader wakes and returns.
func fail(ws *websocket.Conn, box *outbox) {
	box.close(wire.CloseSlow)
	ws.Close()
}

// restartSpread is over how long devices come back after a planned restart.
const restartSpread = 5000

func bye(ws *websocket.Conn, code int) {
	if w := wire.ByeCode(code); w != "" {
		b := wire.Bye{Code: w}
		if code == wire.CloseRestart {
			b.WaitMS = restartSpread
		}
		if data, err := wire.Encode(wire.Down{Bye: &b}); err == nil {
			put(ws, data)
		}
	}
	// The device may be gone already: there is nobody to tell of a failure.
	_ = ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, wire.ByeCode(code)), time.Now().Add(writeWithin))
	ws.Close()
}
