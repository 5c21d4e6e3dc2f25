package judge

import (
	"slices"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// bump is one man who lines up anew because of the play's motion: by the board's
// spot, from where, since when and how far he got by the snap.
type bump struct {
	spot     int // of the reps
	from, to field.Offset
	t        float64
}

// timeline is the play's motion in time, in the usual way of its kind; ok is false
// without one.
func (r *Reps) timeline() (tl look.Timeline, ok bool) {
	p := r.Picture
	if p.Moved < 0 {
		return tl, false
	}
	l := &r.Board.Look
	to := r.Board.Side.FlipOffset(p.MovedTo.Offset())
	return l.Timeline(l.Usual(look.MotionKind(p.Play.Motion.Kind), r.Board.Men[p.Moved].Man.Tag, to)), true
}

// bumped prepares the same play against a defense that lines up anew for its
// motion: each man goes to the nearest place that is right, as far as his reaction
// and speed bring him by the snap.
func (r *Reps) bumped(b *Board, pl *play.Play) (*Reps, error) {
	tl, ok := r.timeline()
	if !ok {
		return r, nil
	}
	var men []assign.Standing
	for i := range r.Board.Spots {
		d := &r.Board.Spots[i]
		men = append(men, assign.Standing{Spot: d.Duty.Spot, At: d.At, Own: b.own(r.Labels[i])})
	}
	nb := *b
	nb.Spots = slices.Clone(b.Spots)
	var moves []bump
	for _, m := range assign.Bumps(tl, men, b.Side) {
		d := &r.Board.Spots[m.Spot]
		way := m.To.Vec().Sub(d.At.Vec())
		if got := d.Athlete.Run(-m.T - d.Athlete.React); got < way.Norm() {
			way = way.Unit().Mul(got)
		}
		to := d.At.Add(way.Offset())
		moves = append(moves, bump{spot: m.Spot, from: d.At, to: to, t: m.T + d.Athlete.React})
		for i := range nb.Spots {
			if nb.Spots[i].Label == r.Labels[m.Spot] {
				nb.Spots[i].At = to
			}
		}
	}
	out, err := NewReps(&nb, pl)
	if err == nil {
		out.bumps = moves
	}
	return out, err
}

// own is a man's own depth, if he has one.
func (b *Board) own(label string) *call.Depth {
	for i := range b.Spots {
		if b.Spots[i].Label == label {
			return b.Spots[i].Depth
		}
	}
	return nil
}

// motion puts the keys before the snap in front: the play's man goes, who bumps
// bumps, all others stand.
func (r *Reps) motion(t *Track) {
	tl, ok := r.timeline()
	if !ok {
		return
	}
	n := int(-tl.Start/t.Step) + 1
	t.From = -float64(n) * t.Step
	for k := n; k > 0; k-- {
		at := -float64(k) * t.Step
		now := tl.At(at)
		var key []field.Offset
		for _, tag := range t.Men {
			m, _ := now.Find(tag)
			key = append(key, m.At)
		}
		for i := range r.Board.Spots {
			key = append(key, r.spotAt(i, at))
		}
		t.Keys = append(t.Keys, key)
		t.Ball = append(t.Ball, field.Offset{})
	}
	t.Events = append(t.Events, Event{T: t.From, What: rep.Motion, Who: t.Men[r.Picture.Moved], Lane: -1,
		Say: t.Men[r.Picture.Moved] + " goes in motion"})
	for _, m := range r.bumps {
		t.Events = append(t.Events, Event{T: m.t, What: rep.Bump, Who: r.Labels[m.spot], Lane: -1, Say: r.Labels[m.spot] + " lines up anew: the numbers have changed"})
	}
	slices.SortStableFunc(t.Events, func(a, b Event) int {
		switch {
		case a.T < b.T:
			return -1
		case a.T > b.T:
			return 1
		}
		return 0
	})
}

// spotAt is where a spot is at a time before the snap.
func (r *Reps) spotAt(i int, at float64) field.Offset {
	for _, m := range r.bumps {
		if m.spot != i {
			continue
		}
		way := m.to.Vec().Sub(m.from.Vec())
		run := min(r.Board.Spots[i].Athlete.Run(at-m.t), way.Norm())
		return m.from.Add(way.Unit().Mul(run).Offset())
	}
	return r.Board.Spots[i].At
}
