package web

import (
	"context"
	"errors"
	"time"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/conn"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
)

var noDeadline = time.Time{}

// visitor joins one connection to the hub.
type visitor struct {
	s    *Server
	link *hub.Link
}

// helloWithin bounds the work of a hello.
const helloWithin = 10 * time.Second

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
	id := p.Session
	if p.Role == session.Coach {
		id = h.Session
	}
	if p.Role == session.Coach {
		if err := v.s.showCode(ctx, id); err != nil && !errors.Is(err, store.ErrNotFound) {
			v.s.o.Log.Warn("no join code", "err", err)
		}
	}
	v.link, err = v.s.o.Hub.Attach(ctx, hub.Pass{Session: id, Member: p.Member, Role: p.Role}, h, out)
	var bad *wire.FrameError
	switch {
	case err == nil:
		return 0, nil
	case errors.Is(err, store.ErrNotFound):
		return wire.CloseNoSession, err
	case errors.Is(err, hub.ErrRemoved):
		return wire.CloseRemoved, err
	case errors.As(err, &bad):
		return wire.CloseBadHello, err
	}
	return wire.CloseRestart, err
}

func (v *visitor) Frame(up wire.Up) {
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
func (v *visitor) Gone()                  { v.link.Leave() }

// showCode draws a join code for a session that shows none since the start.
func (s *Server) showCode(ctx context.Context, id string) error {
	code, _, err := s.o.Hub.Code(ctx, id)
	if err != nil || code != "" {
		return err
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
