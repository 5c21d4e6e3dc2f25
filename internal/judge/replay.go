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
}

// trackEvery is the steps of 1/60 s between the keys of a track: ten a second.
const trackEvery = 6

// Replay runs one rep of a play from the alignment for all to see. The error says
// why there is none: the board is frozen, the look cannot run the play, a job
// makes an error impossible.
func Replay(b *Board, pl *play.Play, opt RepOptions) (*Track, error) {
	r, err := NewReps(b, pl)
	if err != nil {
		return nil, err
	}
	o := rep.Options{Seed: opt.Seed, Spread: opt.Spread, Force: opt.Force, Trace: trackEvery, Errors: map[int]rep.Error{}}
	for label, e := range opt.Errors {
		i, err := r.Error(label, e)
		if err != nil {
			return nil, fmt.Errorf("error %w", err)
		}
		o.Errors[i] = e
	}
	res := rep.Run(r.Board, r.Picture, o)
	return r.track(&res), nil
}

// track puts a rep into field terms.
func (r *Reps) track(res *rep.Rep) *Track {
	side := r.Board.Side
	at := func(v field.Vec) field.Offset { return side.FlipOffset(v.Offset()) }
	t := &Track{Play: r.Picture.Play, Step: float64(trackEvery) / 60, Spots: r.Labels}
	for i := range r.Board.Men {
		t.Men = append(t.Men, r.Board.Men[i].Man.Tag)
	}
	for i, f := range res.Trail {
		if i == 0 {
			t.From = f.T
		}
		key := make([]field.Offset, 0, len(t.Men)+len(t.Spots))
		for k := range r.Board.Men {
			p := side.FlipOffset(r.Board.Men[k].Man.At)
			if k == r.Picture.Carrier {
				p = f.Ball.Offset()
			}
			for j := range r.Picture.Blocks {
				if r.Picture.Blocks[j].By == k {
					p = f.By[j].Offset()
				}
			}
			key = append(key, side.FlipOffset(p))
		}
		for _, p := range f.Men {
			key = append(key, at(p))
		}
		t.Keys = append(t.Keys, key)
		t.Ball = append(t.Ball, at(f.Ball))
	}
	t.End = End{T: res.Time, Gain: res.Gain, Broke: res.Gain >= 10, At: at(res.At), Lane: res.Lane}
	if res.By >= 0 {
		t.End.By, t.End.How = r.Labels[res.By], rep.Tackled
	}
	return t
}
