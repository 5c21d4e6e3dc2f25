package judge

import (
	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/look"
)

// Run judges a board.
func Run(b *Board) Result {
	var j Judge
	var r Result
	j.Run(b, &r)
	return r
}

// Judge judges boards one after the other in the same memory. It is for one
// goroutine at a time.
type Judge struct{ w work }

// Run judges a board into r, whose memory is used again. What r says in words is
// to be asked for before the next Run.
func (j *Judge) Run(b *Board, r *Result) {
	w := &j.w
	w.set(b)
	*r = Result{Spots: r.Spots[:0], Lanes: r.Lanes[:0], Faults: r.Faults[:0],
		Look: LookResult{Right: r.Look.Right[:0], Left: r.Look.Left[:0]}, Runner: RunnerResult{Lane: -1, Lost: r.Runner.Lost[:0]}, words: words{model: b.Model, numbers: &w.lv.Count}}
	w.lookResult(&r.Look)
	if b.Moment != nil {
		w.moment(r)
	} else {
		w.beforeSnap(r)
	}
}

// words is what a result needs to be told in words.
type words struct {
	model   leverage.Model
	numbers *look.Count
	plays   int // of the menu that the look can run
	frozen  bool
	moment  lane.Moment // of a frozen board
	lane    lane.Result
}

func (w *work) lookResult(r *LookResult) {
	if w.b.Moment == nil {
		r.Violations, r.Notes = w.lv.Look.Violations(), w.lv.Look.Notes()
	}
	r.Right, r.Left = tags(r.Right, w.lv.Numbers(field.Right)), tags(r.Left, w.lv.Numbers(field.Left))
}

func tags(out []string, men []look.Man) []string {
	for i := range men {
		out = append(out, men[i].Tag)
	}
	return out
}

// beforeSnap judges the alignment, and the lanes of one play as they will be
// when the carrier commits if every race ends as it stands.
func (w *work) beforeSnap(r *Result) {
	w.draw()
	r.words.plays = len(w.pics)
	for k := range w.order {
		r.Spots = append(r.Spots, SpotResult{})
		w.spot(&r.Spots[k], k)
	}
	r.Sound = true
	if show := w.shown(); show != nil {
		r.Play = show.Play
		w.ahead = w.commit.Commit(&w.lv, show, w.labels)
		lr := w.lane.Judge(&w.ahead, w.b.Model)
		r.Sound = lr.Sound
		w.lanes(r, &w.ahead, &lr)
	}
	for k := range r.Spots {
		f := FaultResult{Who: r.Spots[k].Label, Kind: string(lane.WrongSide), Opens: -1, spot: k}
		switch r.Spots[k].Rule.Verdict {
		case assign.Right:
			continue
		case assign.TooDeep, assign.TooShallow:
			f.Kind = string(lane.OffDepth)
		}
		r.Faults = append(r.Faults, f)
	}
}

func (w *work) spot(s *SpotResult, k int) {
	d := &w.lv.Spots[k]
	a := w.lv.Judge(w.pics, k)
	*s = SpotResult{
		Label: w.labels[k], Duty: d.Duty, At: d.At, Rule: a.Rule, Keeps: a.Keeps, Race: a.Race,
		Speed: d.Athlete.Top, Fix: a.Fix, Held: a.Held, Hat: call.HatEither,
	}
	if d.Duty.Placed {
		s.Landmark, s.Side = string(d.Duty.Stand.Keep.Off), d.Duty.Stand.Keep.Side
		s.Box = boxOf(&d.Duty)
	}
	if a.Race.Kind != leverage.NoRace {
		s.By = w.lv.Men[a.Race.By].Man.Tag
	}
	w.blockOn(s, k)
}

// blockOn finds who can block a man first over the menu, and the hat he needs.
func (w *work) blockOn(s *SpotResult, k int) {
	for p := range w.pics {
		fit, ok := s.Duty.Spot.Fits[w.pics[p].Play.Kind]
		if !ok {
			continue
		}
		if p == 0 || s.Hat == call.HatEither {
			s.Hat = fit.Hat
		}
		for i := range w.pics[p].Blocks {
			if b := &w.pics[p].Blocks[i]; b.On == k && s.BlockBy == "" {
				s.BlockBy = w.lv.Men[b.By].Man.Tag
			}
		}
	}
	if s.Hat == call.HatOnBall || s.Hat == call.HatIfOpen {
		s.Hat = call.HatOutside
	}
}

func boxOf(d *assign.Duty) BoxResult {
	a := d.Half.FlipOffset(field.Offset{X: d.Box.Inner, Y: d.Box.Least})
	c := d.Half.FlipOffset(field.Offset{X: d.Box.Outer, Y: d.Box.Most})
	return BoxResult{min(a.X, c.X), a.Y, max(a.X, c.X), c.Y}
}

// lanes turns the lane rule's answer into labels and field terms.
func (w *work) lanes(r *Result, m *lane.Moment, lr *lane.Result) {
	name := func(i int) string {
		if i < 0 {
			return ""
		}
		return m.Men[i].Label
	}
	for i := range lr.Lanes {
		l := &lr.Lanes[i]
		r.Lanes = append(r.Lanes, LaneResult{N: l.N, Inside: l.Inside, Outside: l.Outside, ShutBy: name(l.ShutBy), FitBy: name(l.FitBy),
			Gain: l.Gain, HasGain: l.ShutBy < 0, Inner: w.b.Side.OutInches(l.Inner), Outer: w.b.Side.OutInches(l.Outer)})
	}
	r.Runner = RunnerOf(r.Lanes, r.Runner.Lost)
}
