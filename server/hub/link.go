package hub

import (
	"context"
	"errors"
	"strconv"

	"golang.org/x/time/rate"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// Outlet is where an owner sends frames to one device. Its methods never block
// and may be called until Close.
type Outlet interface {
	// Send queues a frame. A frame with a key takes the place of an unsent one
	// with the same key; frames without a key are never dropped. The frame is
	// not changed afterwards by either side. It reports false when the device
	// has fallen too far behind and was cut off.
	Send(frame []byte, key string) bool
	// Close sends bye and closes with a wire.Close code.
	Close(code int)
}

// Pass says who a device is, as its token proves.
type Pass struct {
	Session string
	Member  string
	Role    string
}

// Link is a device's live connection to its session. Its methods are called
// from one goroutine, the connection's.
type Link struct {
	// fixed at construction
	o      *owner
	member string
	role   string
	client uint64
	out    Outlet

	// owned by the connection's goroutine
	ops   *rate.Limiter
	hints *rate.Limiter

	// owned by the session's owner
	gone bool
	let  bool   // has been sent the state
	seen []byte // the last verdicts sent, so that equal ones are not sent again
	reel []byte // the track sent of the rep that is shown; nil: none
}

// ErrRemoved says that the member is no longer in the session.
var ErrRemoved = errors.New("no longer in this session")

func newLink(o *owner, p Pass, client uint64, wall bool, out Outlet) *Link {
	l := &Link{o: o, member: p.Member, role: p.Role, client: client, out: out}
	ops, burst, hints := wire.PlayerOps, wire.PlayerOpsBurst, wire.PlayerHints
	if p.Role == session.Coach {
		ops, burst, hints = wire.CoachOps, wire.CoachOpsBurst, wire.CoachHints
		if wall {
			// the projector of this coach: a member of its own, so that who
			// watches is seen
			l.member, l.role = p.Member+"w", session.Wall
		}
	}
	l.ops, l.hints = rate.NewLimiter(rate.Limit(ops), burst), rate.NewLimiter(rate.Limit(hints), hints)
	return l
}

// Attach connects a device: it is welcomed with the state or the facts it
// missed, and gets all news from then on.
func (h *Hub) Attach(ctx context.Context, p Pass, hello wire.Hello, out Outlet) (*Link, error) {
	client, err := strconv.ParseUint(hello.Client, 16, 64)
	if err != nil || client == 0 {
		return nil, &wire.FrameError{Where: "hello.client", What: "16 hex digits, not all zero"}
	}
	o, err := h.open(ctx, p.Session)
	if err != nil {
		return nil, err
	}
	l := newLink(o, p, client, hello.Wall, out)
	_, err = o.ask(ctx, func(reply func(uint64, error)) {
		o.enter(l, func(err error) {
			if err == nil {
				err = o.attach(l, hello.Resume)
			}
			reply(0, err)
		})
	})
	if err != nil {
		l.Leave() // it may have got in after we stopped waiting
		return nil, err
	}
	return l, nil
}

// Op asks for a durable operation.
func (l *Link) Op(up wire.OpUp) {
	if l.ops.Allow() {
		l.o.post(func() { l.o.op(l, up) })
		return
	}
	l.o.post(func() { l.refuse(wire.Refused{N: up.N, Code: wire.CodeSlowDown, RetryMS: slowMS}) })
}

// slowMS is when a device may send again that was told to slow down: a few
// operations are free again by then.
const slowMS = 250

// Drag tells where a man is under a finger; over the rate it is dropped.
func (l *Link) Drag(d wire.Drag) {
	if l.hints.Allow() {
		l.o.post(func() { l.o.drag(l, d) })
	}
}

// Point shows everybody a place; over the rate it is dropped.
func (l *Link) Point(p wire.Point) {
	if l.hints.Allow() {
		l.o.post(func() { l.o.point(l, p) })
	}
}

// BadFrame answers a frame that could not be read; the connection stays.
func (l *Link) BadFrame(detail string) {
	l.o.post(func() { l.refuse(wire.Refused{Code: wire.CodeBadFrame, Detail: detail}) })
}

// Leave ends the link; the connection is gone.
func (l *Link) Leave() {
	l.o.post(func() { l.o.forget(l) })
}

func (l *Link) send(d wire.Down, key string) {
	if l.gone {
		return
	}
	b, err := wire.Encode(d)
	if err != nil {
		l.o.log.Error("frame not encoded", "err", err)
		return
	}
	l.sendRaw(b, key)
}

func (l *Link) sendRaw(b []byte, key string) {
	if !l.gone && !l.out.Send(b, key) {
		l.o.forget(l)
	}
}

// forget takes a link off; what it dragged is let go after this command.
func (o *owner) forget(l *Link) {
	if l.gone {
		return
	}
	l.gone = true
	delete(o.links, l)
	o.lost = append(o.lost, l)
	o.rosterDue = true
	o.forgetClient(l.client)
}

// drop closes a link with a code.
func (o *owner) drop(l *Link, code int) {
	if !l.gone {
		l.out.Close(code)
		o.forget(l)
	}
}

func (o *owner) closeAll(code int) {
	o.each(func(l *Link) { o.drop(l, code) })
}
