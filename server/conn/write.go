package conn

import (
	"time"

	"github.com/gorilla/websocket"

	"halfline/internal/wire"
)

// writeWithin bounds one write, and all that is written after the outbox has
// closed.
const writeWithin = 5 * time.Second

// write sends what waits in the outbox, and a beat when nothing was sent for a
// while. It ends with the outbox's close code, or when a write fails.
func write(ws *websocket.Conn, out *Out, now func() int64) {
	beat := time.NewTimer(wire.BeatAfter)
	defer beat.Stop()
	for {
		data, code, until := out.box.next()
		switch {
		case data != nil:
		case code != 0:
			bye(ws, code, until)
			return
		default:
			select {
			case <-out.box.wake:
				continue
			case <-beat.C:
				data = encoded(wire.Down{Beat: &wire.Beat{T: now(), RTT: out.rtt.Load()}})
			}
		}
		if code == 0 {
			until = time.Now().Add(writeWithin)
		}
		if !put(ws, data, until) {
			// Whoever takes nothing in is cut; the reader wakes and returns.
			out.Close(wire.CloseSlow)
			ws.Close()
			return
		}
		beat.Reset(wire.BeatAfter)
	}
}

// encoded is a frame of this package's own; nil, which cannot be written, if
// the protocol's rules have no form for it.
func encoded(d wire.Down) []byte {
	data, err := wire.Encode(d)
	if err != nil {
		return nil
	}
	return data
}

func put(ws *websocket.Conn, data []byte, until time.Time) bool {
	return data != nil && ws.SetWriteDeadline(until) == nil && ws.WriteMessage(websocket.TextMessage, data) == nil
}

// restartSpread is over how many milliseconds devices come back after a planned
// restart.
const restartSpread = 5000

// bye says why, closes the websocket and wakes the reader.
func bye(ws *websocket.Conn, code int, until time.Time) {
	if w := wire.ByeCode(code); w != "" {
		b := wire.Bye{Code: w}
		if code == wire.CloseRestart {
			b.WaitMS = restartSpread
		}
		put(ws, encoded(wire.Down{Bye: &b}), until)
	}
	// The device may be gone already: there is nobody to tell of a failure.
	_ = ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(code, wire.ByeCode(code)), until)
	_ = ws.SetReadDeadline(time.Now())
}
