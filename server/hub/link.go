package hub

import (
	"context"
	"errors"
	"strconv"

	"golang.org/x/time/rate"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// Outlet is where an owner sends frames to one device. Its methods never block
// and may be called until Close.
type Outlet interface {
	// Send queues a frame. A frame with a key takes the place of an unsent one
	// with the same key; frames without a key are never dropped. It reports
	// false when the device has fallen too far behind and was cut off.
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
	ops    *rate.Limiter // used by the connection's goroutine only
	hints  *rate.Limiter // likewise

	// owned by the session's owner
	gone     bool
	lastSeen map[string]uint64 // checksum of the last verdicts sent, so that equal ones are not sent again
	let      bool              // has been sent the state
}

// ErrRemoved says that the member is no longer in the session.
var ErrRemoved = errors.New("no longer in this session")

// Attach connects a device: it is welcomed with the state or the facts it
// missed, and gets all news from then on.
func (h *Hub) Attach(ctx context.Context, p Pass, hello wire.Hello, out Outlet) (*Link, error) {
	o, err := h.open(ctx, p.Session)
	if err != nil {
		return nil, err
	}
	client, err := strconv.ParseUint(hello.Client, 16, 64)
	if err != nil || client == 0 {
		return nil, &wire.FrameError{Where: "hello.client", What: "16 hex digits, not all zero"}
	}
	l := &Link{o: o, member: p.Member, role: p.Role, client: client, out: out, lastSeen: map[string]uint64{}}
	l.ops, l.hints = rate.NewLimiter(wire.PlayerOps, wire.PlayerOpsBurst), rate.NewLimiter(wire.PlayerHints, wire.PlayerHints)
	if p.Role == session.Coach {
		l.ops, l.hints = rate.NewLimiter(wire.CoachOps, wire.CoachOpsBurst), rate.NewLimiter(wire.CoachHints, wire.CoachHints)
		if hello.Wall {
			// the projector of this coach: a member of its own, so that who
			// watches is seen
			l.member, l.role = p.Member+"w", session.Wall
		}
	}
	_, err = o.ask(ctx, func(reply func(uint64, error)) { o.enter(l, reply) })
	if err != nil {
		return nil, err
	}
	_, err = o.ask(ctx, func(reply func(uint64, error)) {
		o.attach(l, hello.Resume)
		reply(0, nil)
	})
	return l, err
}

// enter makes sure that the device's member is in the session: coaches and
// walls come in by their token, players were made members when they joined.
func (o *owner) enter(l *Link, reply func(uint64, error)) {
	if _, ok := o.shown.Members[l.member]; ok {
		reply(0, nil)
		return
	}
	if l.role == session.Player {
		reply(0, ErrRemoved)
		return
	}
	c, r := session.Join(&o.head, l.member, l.role)
	if r != nil {
		reply(0, r)
		return
	}
	o.submit("join", c, 0, 0, reply)
}

// attach welcomes a device and puts it among the links.
func (o *owner) attach(l *Link, res *wire.Resume) {
	for other := range o.links {
		if other.client == l.client && other.member == l.member {
			o.drop(other, wire.CloseReplaced)
		}
	}
	o.links[l] = struct{}{}
	o.welcome(l, res)
	o.sendRoster()
}

// welcome sends what a device needs to be up to date: nothing but a word to one
// who waits to be let in.
func (o *owner) welcome(l *Link, res *wire.Resume) {
	m := o.shown.Members[l.member]
	w := wire.Welcome{V: wire.Version, Session: o.id, Member: l.member, Role: m.Role, Epoch: o.epoch,
		Seq: o.mark, Chain: hex16(o.markChain), Counter: o.headDone[hex16(l.client)]}
	if !m.In {
		l.send(wire.Down{Welcome: &w}, "")
		return
	}
	l.let = true
	tail, ok := o.since(res)
	if !ok {
		st := o.shown.Clone()
		w.State = &st
		l.send(wire.Down{Welcome: &w}, "")
	} else {
		w.Seq, w.Chain = res.Have, res.Chain
		l.send(wire.Down{Welcome: &w}, "")
		for len(tail) > 0 {
			n := fits(tail)
			l.send(wire.Down{Facts: tail[:n]}, "")
			tail = tail[n:]
		}
	}
	for who, d := range o.drags {
		l.send(wire.Down{Drags: []wire.Drag{{Who: who, At: d.at, By: d.by}}}, "drag "+who)
	}
	o.judge()
	o.sendVerdicts(l)
}

// fits says how many facts go into one frame.
func fits(facts []wire.Fact) int {
	size, n := 0, 0
	for _, f := range facts {
		b, err := wire.EncodeBody(f)
		if err != nil {
			break
		}
		size += len(b) + 1
		if size > wire.MaxDown-64 && n > 0 {
			break
		}
		n++
	}
	return max(n, 1)
}

// since gives the facts a device has missed, if it can go on from what it has:
// same epoch, same history, not too far behind (D5, D6).
func (o *owner) since(res *wire.Resume) ([]wire.Fact, bool) {
	if res == nil || res.Epoch != o.epoch || res.Have > o.mark || o.mark-res.Have > tailMost {
		return nil, false
	}
	if res.Have == o.mark {
		return nil, res.Chain == hex16(o.markChain)
	}
	first := o.mark - uint64(len(o.recent)) // seq before the oldest kept
	if res.Have <= first {
		return nil, false // its own record is gone, so its chain cannot be checked
	}
	if o.recent[res.Have-first-1].Chain != res.Chain {
		return nil, false
	}
	return o.recent[res.Have-first:], true
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

// Op asks for a durable operation.
func (l *Link) Op(up wire.OpUp) {
	if !l.ops.Allow() {
		l.o.post(func() {
			l.send(wire.Down{Refused: []wire.Refused{{N: up.N, Code: wire.CodeSlowDown, RetryMS: 250}}}, "")
		})
		return
	}
	l.o.post(func() { l.o.op(l, up) })
}

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
	l.o.post(func() { l.send(wire.Down{Refused: []wire.Refused{{Code: wire.CodeBadFrame, Detail: detail}}}, "") })
}

// Leave ends the link; the connection is gone.
func (l *Link) Leave() {
	l.o.post(func() { l.o.forget(l) })
}

// refusalOf turns an error of the store into a refusal.
func refusalOf(n uint64, err error) wire.Refused {
	if errors.Is(err, store.ErrReadOnly) || errors.Is(err, ErrClosed) {
		return wire.Refused{N: n, Code: wire.CodeStorage, RetryMS: retryMS}
	}
	var r *session.Refusal
	if errors.As(err, &r) {
		return wire.Refused{N: n, Code: r.Code, Detail: r.Detail}
	}
	return wire.Refused{N: n, Code: wire.CodeStorage, RetryMS: retryMS}
}
