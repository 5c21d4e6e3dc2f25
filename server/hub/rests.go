package hub

import (
	"context"
	"errors"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// What keeps a device from being told what an answer rests on.
var (
	ErrNoSpot  = errors.New("no such spot is on the board")
	ErrNotSeen = errors.New("this answer is not for this device now")
)

// Rests tells what the answer of one spot rests on, to whoever may see that
// answer in full now: a coach any, a player his own.
func (h *Hub) Rests(ctx context.Context, p Pass, spot string) (wire.RestsOut, error) {
	o, err := h.open(ctx, p.Session)
	if err != nil {
		return wire.RestsOut{}, err
	}
	got := make(chan wire.RestsOut, 1)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) {
		out, err := o.rests(p, spot)
		got <- out
		reply(0, err)
	}); err != nil {
		return wire.RestsOut{}, err
	}
	return <-got, nil
}

func (o *owner) rests(p Pass, spot string) (wire.RestsOut, error) {
	sight := o.shown.SightOf(p.Member)
	switch {
	case p.Role != session.Coach && !sight.All && (spot == "" || sight.Own != spot):
		return wire.RestsOut{}, ErrNotSeen
	case o.book == nil:
		return wire.RestsOut{}, ErrNoSpot
	}
	o.judge()
	j := &o.judged
	for i := range j.result.Spots {
		if j.result.Spots[i].Label == spot {
			return wire.RestsOf(&j.result.Spots[i], j.result.Rests(&j.board, o.book, i)), nil
		}
	}
	return wire.RestsOut{}, ErrNoSpot
}
