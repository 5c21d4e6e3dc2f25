package conn

import (
	"context"
	"errors"
	"net"
	"time"
	"unicode/utf8"

	"github.com/gorilla/websocket"
	"golang.org/x/time/rate"

	"halfline/internal/wire"
)

const (
	// badMost unreadable frames are answered; whoever sends more does not speak
	// this protocol.
	badMost = 20
	// pingMost pings are answered between two frames. Devices have no need to
	// ping at all.
	pingMost = 100
	// floodRate frames a second end a connection after floodFor: ten times what
	// any device may send.
	floodRate = 10 * (wire.CoachOps + wire.CoachHints)
	floodFor  = 10 // seconds
)

var errPings = errors.New("far too many pings")

// read reads frames until the connection ends.
func read(ctx context.Context, ws *websocket.Conn, h Handler, out *Out, now func() int64) {
	pings := 0
	pong := ws.PingHandler()
	ws.SetPingHandler(func(data string) error {
		if pings++; pings > pingMost {
			return errPings
		}
		return pong(data)
	})
	ws.SetReadLimit(wire.MaxFirst)
	up, code := first(ws, out)
	if code == 0 {
		if refused, err := h.Hello(ctx, *up.Hello, out); err != nil {
			code = refused
		}
	}
	if code != 0 {
		out.Close(code)
		return
	}
	defer h.Gone()
	ws.SetReadLimit(wire.MaxUp)
	bad := 0
	flood := rate.NewLimiter(floodRate, floodRate*floodFor)
	for {
		data, code := next(ws, out, wire.DeviceQuiet, wire.CloseQuiet)
		if data == nil {
			out.Close(code)
			return
		}
		pings = 0
		up, err := wire.DecodeUp(data)
		if err != nil {
			bad++
		}
		switch {
		case bad > badMost, !flood.Allow():
			out.Close(websocket.ClosePolicyViolation)
			return
		case err != nil:
			h.BadFrame(err.Error())
		case up.Beat != nil:
			out.answered(up.Beat.T, now())
		case up.Hello != nil:
			h.BadFrame("hello: only the first frame may be one")
		default:
			h.Frame(up)
		}
	}
}

// first reads the hello, or gives the code to close with.
func first(ws *websocket.Conn, out *Out) (wire.Up, int) {
	data, code := next(ws, out, wire.HelloWithin, wire.CloseBadHello)
	if data == nil {
		return wire.Up{}, code
	}
	up, err := wire.DecodeUp(data)
	switch {
	case err != nil || up.Hello == nil:
		return up, wire.CloseBadHello
	case up.Hello.V != wire.Version:
		return up, wire.CloseVersion
	}
	return up, 0
}

// next reads one text message. nil: the connection is to end with a code,
// which is late if nothing came in time.
func next(ws *websocket.Conn, out *Out, within time.Duration, late int) ([]byte, int) {
	// One deadline a message, not a frame of it: a trickle cannot keep a
	// connection alive.
	if ws.SetReadDeadline(time.Now().Add(within)) != nil {
		return nil, websocket.CloseNormalClosure
	}
	if out.box.closed() {
		// Looked at after the deadline is set: the writer, when it has said
		// bye, sets one that has passed.
		return nil, websocket.CloseNormalClosure
	}
	kind, data, err := ws.ReadMessage()
	var ne net.Error
	switch {
	case errors.Is(err, websocket.ErrReadLimit):
		return nil, websocket.CloseMessageTooBig
	case errors.Is(err, errPings):
		return nil, websocket.ClosePolicyViolation
	case errors.As(err, &ne) && ne.Timeout():
		return nil, late
	case err != nil: // gone, or has said goodbye
		return nil, websocket.CloseNormalClosure
	case kind != websocket.TextMessage:
		return nil, websocket.CloseUnsupportedData
	case !utf8.Valid(data): // the library passes it on
		return nil, websocket.CloseInvalidFramePayloadData
	}
	return data, 0
}
