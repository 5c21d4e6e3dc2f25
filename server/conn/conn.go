package conn

import (
	"context"
	"io"
	"sync/atomic"
	"time"

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
type Out struct {
	box *outbox
	rtt atomic.Int64 // of the quickest beat so far, ms; 0: none was answered yet
}

// answered notes a beat that has come back. What a device makes up here, it
// only spoils its own clock with.
func (o *Out) answered(sent, now int64) {
	if rtt := max(now-sent, 1); sent <= now && (o.rtt.Load() == 0 || rtt < o.rtt.Load()) {
		o.rtt.Store(rtt)
	}
}

// Send queues a frame; false when the device is cut off.
func (o *Out) Send(data []byte, key string) bool {
	if o.box.put(data, key) {
		return true
	}
	o.Close(wire.CloseSlow)
	return false
}

// Close says bye and ends the connection. The first code stays.
func (o *Out) Close(code int) { o.box.close(code, time.Now().Add(writeWithin)) }

// Serve runs one connection until it ends, which it does soon after ctx. It
// closes ws. now is the hub's time in ms, which beats tell.
func Serve(ctx context.Context, ws *websocket.Conn, h Handler, now func() int64) {
	out := &Out{box: newOutbox()}
	stop := context.AfterFunc(ctx, func() { out.Close(wire.CloseRestart) })
	done := make(chan struct{})
	go func() { // ends when the outbox closes or a write fails; waited for below
		defer close(done)
		write(ws, out, now)
	}()
	defer func() { // when a handler panics, too: else beats would go on for ever
		stop()
		out.Close(websocket.CloseNormalClosure)
		<-done
		linger(ws)
		ws.Close()
	}()
	read(ctx, ws, h, out, now)
}

const (
	lingerFor  = time.Second
	lingerMost = 1 << 20 // bytes
)

// linger reads on for a moment after the last word. A socket that is closed
// while bytes are unread resets the connection, and the device may never see
// the frame that says why (RFC 6455 section 7.1.1, RFC 9112 section 9.6).
func linger(ws *websocket.Conn) {
	c := ws.NetConn()
	if c.SetReadDeadline(time.Now().Add(lingerFor)) != nil {
		return // closed already
	}
	if half, ok := c.(interface{ CloseWrite() error }); ok && half.CloseWrite() != nil {
		return
	}
	// Ends with the device's own close; what it says no longer matters.
	_, _ = io.CopyN(io.Discard, c, lingerMost)
}
