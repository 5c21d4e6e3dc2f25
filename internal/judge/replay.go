package judge

import (
	"fmt"

	"halfline/internal/field"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// RepOptions say how a rep is to be run.
type RepOptions struct {
	Errors map[string]rep.Error // rules broken on purpose, by spot
	Force  int                  // lane the carrier must take; -1: he chooses
	Seed   uint64
	Spread bool // with the spread of real reps; else everybody at his stated best
	// Bump lets the defense line up anew for the play's motion; else it stays, which
	// shows what a count that is not taken again costs.
	Bump bool
}

// trackEvery is the steps of 1/60 s between the keys of a track: ten a second.
const trackEvery = 6

// Replay runs one rep of a play from the alignment for all to see. The error says
// why there is none: the board is frozen, the look cannot run the play, a job
// makes an error impossible. A fault that was asked for costs what it adds to the
// same rep played right.
func Replay(b *Board, pl *play.Play, opt RepOptions) (*Track, error) {
	r, err := NewReps(b, pl)
	if err == nil && opt.Bump {
		r, err = r.bumped(b, pl)
	}
	if err != nil {
		return nil, err
	}
	if last := r.lastLane(); opt.Force > last {
		return nil, fmt.Errorf("lane %d: %s has lanes 0 to %d against this look: one of them, or -1 to let the ball choose", opt.Force, pl.ID, last)
	}
	o := rep.Options{Seed: opt.Seed, Spread: opt.Spread, Force: opt.Force, Errors: map[int]rep.Error{}}
	for _, label := range sorted(opt.Errors) {
		i, err := r.Error(label, opt.Errors[label])
		if err != nil {
			return nil, fmt.Errorf("error %w", err)
		}
		o.Errors[i] = opt.Errors[label]
	}
	res := r.run(o)
	t := r.track(b, &res)
	for i := range t.Faults {
		f := &t.Faults[i]
		if _, asked := o.Errors[f.spot]; asked {
			f.Cost = max(0, res.Gain-r.without(o, f.spot))
		}
	}
	return t, nil
}

// lastLane is the number of the lane at the sideline; a pass has none, -1.
func (r *Reps) lastLane() int {
	if r.Picture.Play.Kind == play.Pass {
		return -1
	}
	n := 0
	for i := range r.Picture.Blocks {
		if !r.Picture.Blocks[i].Second {
			n++
		}
	}
	return n
}

// run plays a rep; the ball of a pass goes to the receiver who is freest.
func (r *Reps) run(o rep.Options) rep.Rep {
	if r.Picture.Play.Kind == play.Pass {
		first := rep.Run(r.Board, r.Picture, o)
		for k := range first.Best {
			if b := &first.Best[k]; b.Margin > rep.FreeBy && (o.ThrowTo == nil || b.Margin > o.ThrowTo.Margin) {
				o.ThrowTo = b
			}
		}
		o.Best = first.Best
	}
	o.Trace = trackEvery
	return rep.Run(r.Board, r.Picture, o)
}

// without is the gain of the same rep when one man breaks no rule.
func (r *Reps) without(o rep.Options, spot int) float64 {
	errs := map[int]rep.Error{}
	for i, e := range o.Errors {
		if i != spot {
			errs[i] = e
		}
	}
	o.Errors = errs
	res := r.run(o)
	return res.Gain
}

// track puts a rep into field terms and words.
func (r *Reps) track(b *Board, res *rep.Rep) *Track {
	side := r.Board.Side
	at := func(v field.Vec) field.Offset { return b.Ball.Clamp(side.FlipOffset(v.Offset())) }
	t := &Track{Play: r.Picture.Play, Step: float64(trackEvery) / 60, Spots: r.Labels}
	for i := range r.Board.Men {
		t.Men = append(t.Men, r.Board.Men[i].Man.Tag)
	}
	r.motion(t)
	for _, f := range res.Trail {
		key := make([]field.Offset, 0, len(t.Men)+len(t.Spots))
		for _, p := range f.Off {
			key = append(key, at(p))
		}
		for _, p := range f.Men {
			key = append(key, at(p))
		}
		t.Keys = append(t.Keys, key)
		t.Ball = append(t.Ball, at(f.Ball))
	}
	r.tell(t, res)
	return t
}
