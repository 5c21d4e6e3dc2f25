package web

import (
	"context"
	"errors"
	"time"

	"golang.org/x/time/rate"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/conn"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
)

const (
	// helloWithin bounds the work of a hello, and of a look at the token later.
	helloWithin = 10 * time.Second
	// recheckEvery: a token that has ended meanwhile ends its connection.
	recheckEvery = 5 * time.Minute
	// floodTimes the rate of what a device may send, for floodFor seconds, ends
	// its connection.
	floodTimes, floodFor = 10, 10
)

// visitor joins one connection to the hub.
type visitor struct {
	s     *Server
	guest *guest

	// set by Hello
	token, session string
	coach          bool
	link           *hub.Link
	out            *conn.Out
	ops, hints     *rate.Limiter
	gone           chan struct{}
}

var errTokenTooMany = errors.New("too many connections of this token")

// Hello checks the token and attaches the device to its session.
func (v *visitor) Hello(ctx context.Context, h wire.Hello, out *conn.Out) (int, error) {
	ctx, cancel := context.WithTimeout(ctx, helloWithin)
	defer cancel()
	p, err := v.s.o.Gate.Token(ctx, h.Token)
	if errors.Is(err, gate.ErrNoToken) {
		return wire.CloseNoToken, err
	}
	if err != nil {
		return wire.CloseRestart, err
	}
	if !v.guest.greet(p.Member) {
		return conn.ClosePolicy, errTokenTooMany
	}
	v.token, v.session, v.coach, v.out = h.Token, p.Session, p.Role == session.Coach, out
	v.ops, v.hints = flood(wire.PlayerOps), flood(wire.PlayerHints)
	if v.coach {
		v.session = h.Session
		v.ops, v.hints = flood(wire.CoachOps), flood(wire.CoachHints)
		v.renewCode(ctx)
	}
	v.link, err = v.s.o.Hub.Attach(ctx, hub.Pass{Session: v.session, Member: p.Member, Role: p.Role}, h, out)
	if err != nil {
		return closeCode(err), err
	}
	v.gone = make(chan struct{})
	v.s.live.Go(v.watch) // ends with Gone; Close waits
	return 0, nil
}

// closeCode is how a hello ends that the hub has refused.
func closeCode(err error) int {
	var bad *wire.FrameError
	switch {
	case errors.Is(err, store.ErrNotFound), errors.Is(err, store.ErrInvalid): // or no id at all
		return wire.CloseNoSession
	case errors.Is(err, hub.ErrRemoved):
		return wire.CloseRemoved
	case errors.As(err, &bad):
		return wire.CloseBadHello
	}
	return wire.CloseRestart
}

func flood(perSecond int) *rate.Limiter {
	return rate.NewLimiter(rate.Limit(floodTimes*perSecond), floodTimes*perSecond*floodFor)
}

func (v *visitor) Frame(up wire.Up) {
	rates := v.hints
	if up.Op != nil {
		rates = v.ops
	}
	if !rates.Allow() {
		v.out.Close(conn.ClosePolicy)
		return
	}
	switch {
	case up.Op != nil:
		v.link.Op(*up.Op)
	case up.Drag != nil:
		v.link.Drag(*up.Drag)
	case up.Point != nil:
		v.link.Point(*up.Point)
	}
}

func (v *visitor) BadFrame(detail string) { v.link.BadFrame(detail) }

func (v *visitor) Gone() {
	close(v.gone)
	v.link.Leave()
}

// watch looks at the token from time to time, for pages that stay open for
// days.
func (v *visitor) watch() {
	tick := time.NewTicker(recheckEvery)
	defer tick.Stop()
	for {
		select {
		case <-v.gone:
			return
		case <-tick.C:
			v.recheck()
		}
	}
}

func (v *visitor) recheck() {
	ctx, cancel := context.WithTimeout(v.s.ctx, helloWithin)
	defer cancel()
	_, err := v.s.o.Gate.Token(ctx, v.token)
	switch {
	case errors.Is(err, gate.ErrNoToken):
		v.out.Close(wire.CloseNoToken)
	case err != nil:
		// No answer is not a no. The store's own troubles are told elsewhere.
	case v.coach:
		v.renewCode(ctx)
	}
}

// renewCode sees to it that the code on the coach's page opens the door.
func (v *visitor) renewCode(ctx context.Context) {
	err := v.s.showCode(ctx, v.session)
	if err != nil && !errors.Is(err, store.ErrNotFound) && !errors.Is(err, store.ErrInvalid) {
		v.s.o.Log.Warn("no join code", "err", err)
	}
}

// showCode draws a join code for a session that shows none since the start, or
// one that ends soon. Earlier ones stay good: they may be on a marker board.
func (s *Server) showCode(ctx context.Context, id string) error {
	code, _, err := s.o.Hub.Code(ctx, id)
	if err != nil {
		return err
	}
	if code != "" {
		if lasts, err := s.o.Gate.Lasts(ctx, code); err != nil || lasts {
			return err
		}
	}
	_, err = s.drawCode(ctx, id, true)
	return err
}

func (s *Server) drawCode(ctx context.Context, id string, keep bool) (wire.CodeOut, error) {
	code, err := s.o.Gate.Draw(ctx, id, keep)
	if err != nil {
		return wire.CodeOut{}, err
	}
	out := wire.CodeOut{Code: code, Link: s.o.Base + "/#join=" + code}
	return out, s.o.Hub.ShowCode(ctx, id, out.Code, out.Link)
}
