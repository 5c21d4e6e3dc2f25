package judge

import (
	"fmt"

	"halfline/internal/leverage"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// Reps is a board ready to run reps of one play.
type Reps struct {
	Board   *leverage.Board
	Picture *leverage.Picture
	Labels  []string
	bumps   []bump // before the snap
}

// NewReps prepares a play against a board before the snap.
func NewReps(b *Board, pl *play.Play) (*Reps, error) {
	switch {
	case b.Moment != nil:
		return nil, fmt.Errorf("moment: a rep starts at the snap: leave it out")
	case pl == nil:
		return nil, fmt.Errorf("play: none named: add one of the book's runs or screens")
	}
	lv, p, labels, ok := Picture(b, pl)
	if !ok {
		return nil, fmt.Errorf("play: this look cannot run %s: %s: name another", pl.ID, lv.Cannot(pl))
	}
	return &Reps{Board: lv, Picture: p, Labels: labels}, nil
}

// Error finds the spot a rule is to be broken by, and refuses an error that his
// job makes impossible.
func (r *Reps) Error(label string, e rep.Error) (spot int, err error) {
	for i, l := range r.Labels {
		if l != label {
			continue
		}
		o := rep.OrderOf(&r.Board.Spots[i].Duty, r.Picture.Play, r.Board.Side)
		if err := rep.Possible(o, r.Picture.Play, e, r.covers(i)); err != nil {
			return 0, fmt.Errorf("%s=%s: %w", label, e, err)
		}
		return i, nil
	}
	return 0, fmt.Errorf("%s=%s: nobody of that name on defense", label, e)
}

// covers reports whether spot i answers for a receiver of the play.
func (r *Reps) covers(i int) bool { return rep.Covers(r.Picture, i) }
