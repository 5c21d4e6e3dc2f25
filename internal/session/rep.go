package session

import (
	"cmp"
	"math"
	"slices"

	"halfline/internal/book"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// Rep is one run of a play for everybody to see. It says what is run and where
// the run is; the track follows from it and from the alignment. Times of the rep
// are milliseconds after the snap.
type Rep struct {
	Play string `json:"play"` // empty: there is no rep
	// Errors are the rules broken on purpose, by spot.
	Errors map[string]string `json:"errors"`
	Lane   int               `json:"lane"` // the one the carrier must take; -1: he chooses
	// Seed draws the spread of real reps; 0: everybody at his stated best.
	Seed  uint64 `json:"seed"`
	From  int    `json:"from"` // where it begins, below 0 while a motion goes before the snap
	Until int    `json:"until"`
	Speed string `json:"speed" enum:"walk,half,full,"`
	At    int    `json:"at"` // where it stands, or from where it rolls
	// Since is the hub's time when it begins or began to roll; 0: it stands.
	Since int64 `json:"since"`
}

// Speeds of a rep.
const (
	Walk = "walk"
	Half = "half"
	Full = "full"
)

// shares of real speed. A walk is slow enough to be walked along on a field.
var shares = map[string]float64{Walk: 0.25, Half: 0.5, Full: 1}

const (
	// repLead is how far ahead of the hub's time a rep begins to roll, ms: the
	// word of it is on every screen by then.
	repLead = 250
	// lanesMost is more lanes than eleven blocks can make.
	lanesMost = 12
)

func (r Rep) clone() Rep {
	r.Errors = clone(r.Errors)
	return r
}

// Now is where a rep is at a time of the hub. It ends by itself.
func (r *Rep) Now(hub int64) int {
	if r.Since == 0 || hub <= r.Since {
		return r.At
	}
	on := float64(hub-r.Since) * shares[r.Speed]
	if on >= float64(r.Until-r.At) {
		return max(r.Until, r.At)
	}
	return r.At + int(on)
}

// Track runs the rep again from the alignment: the same state gives the same
// track. The error says why there is none.
func (s *State) Track(b *book.Book) (*judge.Track, error) {
	board, pl := s.snapped(b)
	opt := judge.RepOptions{Force: s.Rep.Lane, Seed: s.Rep.Seed, Spread: s.Rep.Seed != 0, Errors: map[string]rep.Error{}}
	for spot, rule := range s.Rep.Errors {
		opt.Errors[spot] = rep.Error(rule)
	}
	return judge.Replay(&board, pl, opt)
}

// Breakable lists the rules that each man can break in a rep of this play: those
// that his job does not make impossible.
func (s *State) Breakable(b *book.Book) map[string][]string {
	out := map[string][]string{}
	board, pl := s.snapped(b)
	r, err := judge.NewReps(&board, pl)
	if err != nil {
		return out
	}
	for _, label := range s.labels() {
		for _, e := range rep.Errors {
			if _, err := r.Error(label, e); err == nil {
				out[label] = append(out[label], string(e))
			}
		}
	}
	return out
}

// Reps is what the rep under way is run with, so that it can be run many times,
// by anybody who has a copy of the state.
func (s *State) Reps(b *book.Book) (*judge.Reps, rep.Options, error) {
	board, pl := s.snapped(b)
	opt := rep.Options{Force: s.Rep.Lane, Errors: map[int]rep.Error{}}
	r, err := judge.NewReps(&board, pl)
	if err != nil {
		return nil, opt, err
	}
	for label, rule := range s.Rep.Errors {
		i, err := r.Error(label, rep.Error(rule))
		if err != nil {
			return nil, opt, err
		}
		opt.Errors[i] = rep.Error(rule)
	}
	return r, opt, nil
}

// snapped is the board that a rep is run on, and its play.
func (s *State) snapped(b *book.Book) (judge.Board, *play.Play) {
	before := *s
	before.Moment = Moment{}
	pl, _ := b.Play(s.Rep.Play)
	return before.Board(b, nil), pl
}

// rep handles a rep under way.
func (d decider) rep() (Change, *Refusal) {
	switch d.op.Do {
	case "snap":
		return d.snap()
	case "set":
		var c Change
		if d.s.Rep.Play != "" {
			c.Rep = &Rep{}
		}
		if d.s.Moment.Play != "" {
			c.Moment = &Moment{}
		}
		return c, nil
	}
	r := d.s.Rep.clone()
	if r.Play == "" {
		return refuse(CodeNoRep, "")
	}
	now := r.Now(d.a.Now)
	speed := cmp.Or(d.op.Mode, r.Speed)
	if shares[speed] == 0 {
		return refuse(CodeBadValue, "mode")
	}
	if d.op.Do == "stop" {
		r.At, r.Since = d.when(now), 0
	} else {
		d.roll(&r, speed, now)
	}
	r.Speed = speed
	if was := d.s.Rep; was.At == r.At && was.Since == r.Since && was.Speed == r.Speed {
		return Change{}, nil
	}
	return Change{Rep: &r}, nil
}

// roll lets a rep roll. One that rolls already only changes its speed, at once;
// one that is over begins again.
func (d decider) roll(r *Rep, speed string, now int) {
	switch rolls := r.Since != 0 && now < r.Until; {
	case d.op.Ms != nil, !rolls:
		if d.op.Ms == nil && now >= r.Until {
			now = r.From
		}
		r.At, r.Since = d.when(now), d.a.Now+repLead
	case speed != r.Speed:
		r.At, r.Since = now, max(d.a.Now, r.Since)
	}
}

// when is the time of the rep that is meant, within it.
func (d decider) when(now int) int {
	if d.op.Ms != nil {
		now = *d.op.Ms
	}
	return min(max(now, d.s.Rep.From), d.s.Rep.Until)
}

// snap starts a rep. Whatever cannot be run is found here, so that a rep in the
// state can always be run again.
func (d decider) snap() (Change, *Refusal) {
	op := d.op
	pl, ok := d.b.Play(op.Play)
	if !ok {
		return refuse(CodeUnknown, op.Play)
	}
	r := Rep{Play: pl.ID, Errors: map[string]string{}, Lane: -1, Seed: op.Seed, Speed: cmp.Or(op.Mode, Full)}
	if shares[r.Speed] == 0 {
		return refuse(CodeBadValue, "mode")
	}
	if op.Lane != nil {
		if r.Lane = *op.Lane; r.Lane < -1 || r.Lane > lanesMost {
			return refuse(CodeBadValue, "lane")
		}
	}
	for _, e := range op.Errors {
		_, on := d.s.Spots[e.Spot]
		switch {
		case !on:
			return refuse(CodeUnknown, e.Spot)
		case r.Errors[e.Spot] != "", !slices.Contains(rep.Errors, rep.Error(e.Rule)):
			return refuse(CodeBadValue, "errors")
		}
		r.Errors[e.Spot] = e.Rule
	}
	run := *d.s
	run.Rep = r
	if err := run.canBreak(d.b, op.Errors); err != nil {
		return refuse(CodeCannotRun, err.Error())
	}
	t, err := run.Track(d.b)
	if err != nil {
		return refuse(CodeCannotRun, err.Error())
	}
	ms := func(s float64) int { return int(math.Round(s * 1000)) }
	r.From = min(ms(t.From), 0)
	r.Until = max(ms(t.From+t.Step*float64(len(t.Keys)-1)), ms(t.End.T))
	r.At, r.Since = r.From, d.a.Now+repLead
	c := Change{Rep: &r}
	if d.s.Moment.Play != "" {
		c.Moment = &Moment{}
	}
	return c, nil
}

// canBreak tells of the first rule that a job makes impossible to break.
func (s *State) canBreak(b *book.Book, errors []Broken) error {
	board, pl := s.snapped(b)
	r, err := judge.NewReps(&board, pl)
	for i := 0; err == nil && i < len(errors); i++ {
		_, err = r.Error(errors[i].Spot, rep.Error(errors[i].Rule))
	}
	return err
}

// endRep ends a rep by whatever changes the board that it was run on: a rep
// that is shown is always one of the board that is shown.
func (d decider) endRep(c Change) Change {
	if d.s.Rep.Play != "" && c.Rep == nil && d.s.otherBoard(c) {
		c.Rep = &Rep{}
	}
	return c
}

// otherBoard reports whether a change makes another board to run reps on.
func (s *State) otherBoard(c Change) bool {
	for label, sp := range c.Spots {
		was, on := s.Spots[label]
		if sp == nil || !on || sp.At != was.At || sp.Man != was.Man {
			return true
		}
	}
	return c.Book != nil || c.Ball != nil || c.Side != nil || c.Look != nil || c.Call != nil || len(c.Men) > 0 ||
		c.Motion != nil || c.Moment != nil
}
