package hub

import (
	"context"
	"errors"

	"halfline/internal/book"
	"halfline/internal/rep"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// CostReps is how often a rep is played each way to tell what its errors cost.
const CostReps = 300

// ErrNoCost says that there is nothing to tell the cost of: no rep is shown in
// which a man breaks a rule, or no longer.
var ErrNoCost = errors.New("no rep with an error is shown")

// costing is the cost of the rep that is shown, asked for once by however many.
// It plays on a copy of the state, beside the owner, which takes no part in it.
type costing struct {
	stop context.CancelFunc
	done chan struct{} // closed when out and err are set, which stay then
	out  wire.CostOut
	err  error
}

// Cost tells what the errors of the rep that a session shows cost. It is played
// once for each rep, whoever asks, and no longer than that rep is shown.
func (h *Hub) Cost(ctx context.Context, id string) (wire.CostOut, error) {
	o, err := h.open(ctx, id)
	if err != nil {
		return wire.CostOut{}, err
	}
	got := make(chan *costing, 1)
	if _, err := o.ask(ctx, func(reply func(uint64, error)) {
		c, err := o.costs(h)
		got <- c
		reply(0, err)
	}); err != nil {
		return wire.CostOut{}, err
	}
	c := <-got
	select {
	case <-c.done:
		return c.out, c.err
	case <-ctx.Done():
		return wire.CostOut{}, ctx.Err()
	}
}

// costs finds the cost of the rep that is shown, or has it played.
func (o *owner) costs(h *Hub) (*costing, error) {
	if r := o.shown.Rep; r.Play == "" || len(r.Errors) == 0 || o.book == nil {
		return nil, ErrNoCost
	}
	if o.cost != nil {
		return o.cost, nil
	}
	ctx, stop := context.WithCancel(h.ctx)
	c := &costing{stop: stop, done: make(chan struct{})}
	o.cost = c
	st, b := o.shown.Clone(), o.book
	o.spawn(func() { // ends with its reps, half of them at most after it was stopped
		defer close(c.done)
		defer stop()
		select {
		case h.costs <- struct{}{}:
			defer func() { <-h.costs }()
			c.out, c.err = played(ctx, &st, b)
		case <-ctx.Done():
			c.err = ErrNoCost
		}
		if c.err != nil && ctx.Err() == nil {
			o.log.Error("cost not told", "err", c.err)
		}
	})
	return c, nil
}

// played plays the rep of a state right and wrong, on the same seeds.
func played(ctx context.Context, st *session.State, b *book.Book) (wire.CostOut, error) {
	r, opt, err := st.Reps(b)
	if err != nil {
		return wire.CostOut{}, err
	}
	clean := opt
	clean.Errors = nil
	right := rep.Many(r.Board, r.Picture, clean, CostReps)
	if ctx.Err() != nil {
		return wire.CostOut{}, ErrNoCost
	}
	wrong := rep.Many(r.Board, r.Picture, opt, CostReps)
	if ctx.Err() != nil { // of a rep that is over
		return wire.CostOut{}, ErrNoCost
	}
	return wire.CostOf(&st.Rep, r, opt, &right, &wrong), nil
}

// costOver ends what is told of a rep that is over.
func (o *owner) costOver() {
	if o.cost != nil {
		o.cost.stop()
		o.cost = nil
	}
}
