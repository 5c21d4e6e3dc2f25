package judge

import (
	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// Run judges a board.
func Run(b *Board) Result {
	w := newWork(b)
	var r Result
	r.Look = w.lookResult()
	if b.Moment != nil {
		w.moment(&r)
	} else {
		w.beforeSnap(&r)
	}
	return r
}

// work is one judgement under way.
type work struct {
	b      *Board
	lv     leverage.Board
	order  []int // index into b.Spots, in the call's order
	duties []assign.Duty
	pics   []leverage.Picture
}

func newWork(b *Board) *work {
	w := &work{b: b}
	w.lv = leverage.Board{Look: b.Shown(), Side: b.Side, Model: b.Model, Carry: b.Carry}
	w.lv.Men = make([]leverage.Runner, len(b.Men))
	for i, m := range w.lv.Look.Men {
		for _, o := range b.Men {
			if o.Tag == m.Tag {
				w.lv.Men[i] = leverage.Runner{Man: m, Athlete: o.Athlete}
			}
		}
	}
	w.lv.Reset()
	w.arrange()
	return w
}

// unknown is a man to whom the call gives nothing.
var unknown = call.Spot{Half: call.This}

// arrange puts the spots in the call's order and lays their rules over the look.
func (w *work) arrange() {
	used := make([]bool, len(w.b.Spots))
	add := func(i int, sp *call.Spot) {
		used[i] = true
		s := w.b.Spots[i]
		d := assign.Lay(sp, w.lv.Look.Ball, &w.lv.Count, w.b.Side, s.Depth)
		w.order = append(w.order, i)
		w.duties = append(w.duties, d)
		w.lv.Spots = append(w.lv.Spots, leverage.Defender{Duty: d, At: s.At, Athlete: s.Athlete})
	}
	if w.b.Call != nil {
		for k := range w.b.Call.Spots {
			for i := range w.b.Spots {
				if w.b.Spots[i].Label == w.b.Call.Spots[k].Label {
					add(i, &w.b.Call.Spots[k])
				}
			}
		}
	}
	for i := range w.b.Spots {
		if !used[i] {
			add(i, &unknown)
		}
	}
}

func (w *work) lookResult() LookResult {
	var r LookResult
	if w.b.Moment == nil {
		r.Violations, r.Notes = w.lv.Look.Violations(), w.lv.Look.Notes()
	}
	for _, m := range w.lv.Numbers(field.Right) {
		r.Right = append(r.Right, m.Tag)
	}
	for _, m := range w.lv.Numbers(field.Left) {
		r.Left = append(r.Left, m.Tag)
	}
	return r
}

// beforeSnap judges the alignment, and the lanes of one play as they will be
// when the carrier commits if every race ends as it stands.
func (w *work) beforeSnap(r *Result) {
	for _, pl := range w.b.Menu {
		var p leverage.Picture
		if w.lv.Draw(&p, pl) {
			w.pics = append(w.pics, p)
		}
	}
	for i := range w.order {
		r.Spots = append(r.Spots, w.spot(i, w.lv.Judge(w.pics, i)))
	}
	show := w.shown()
	r.Sound = true
	if show != nil {
		r.Play = show.Play
		m := rep.Commit(&w.lv, show, w.labels())
		lr := lane.Judge(m, w.b.Model)
		r.Sound = lr.Sound
		r.Lanes = w.lanes(m, lr)
	}
	for i, s := range r.Spots {
		switch s.Rule.Verdict {
		case assign.Right:
		case assign.TooDeep, assign.TooShallow:
			r.Faults = append(r.Faults, w.standing(i, s, lane.OffDepth))
		default:
			r.Faults = append(r.Faults, w.standing(i, s, lane.WrongSide))
		}
	}
}

func (w *work) standing(i int, s SpotResult, k lane.Kind) FaultResult {
	return FaultResult{Who: s.Label, Kind: string(k), Opens: -1, Because: s.Why.Rule}
}

// shown is the picture whose lanes are shown: of the board's own play, or of
// the first of the menu.
func (w *work) shown() *leverage.Picture {
	if w.b.Play != nil {
		var p leverage.Picture
		if w.b.Play.Kind != play.Pass && w.lv.Draw(&p, w.b.Play) {
			return &p
		}
		return nil
	}
	for i := range w.pics {
		if w.pics[i].Play.Kind != play.Pass {
			return &w.pics[i]
		}
	}
	return nil
}

func (w *work) labels() []string {
	out := make([]string, len(w.order))
	for k, i := range w.order {
		out[k] = w.b.Spots[i].Label
	}
	return out
}

func (w *work) spot(k int, a leverage.Answer) SpotResult {
	d := &w.lv.Spots[k]
	s := SpotResult{
		Label: w.b.Spots[w.order[k]].Label, Duty: d.Duty, At: d.At, Rule: a.Rule, Keeps: a.Keeps, Race: a.Race,
		Speed: d.Athlete.Top, Fix: a.Fix, Held: a.Held, Hat: call.HatEither,
	}
	if d.Duty.Placed {
		s.Landmark, s.Side = string(d.Duty.Stand.Keep.Off), d.Duty.Stand.Keep.Side
		s.Box = boxOf(d.Duty)
	}
	if a.Race.Kind != leverage.NoRace {
		s.By = w.lv.Men[a.Race.By].Man.Tag
	}
	w.blockOn(&s, k)
	s.Why = w.why(s)
	return s
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
		for _, b := range w.pics[p].Blocks {
			if b.On == k && s.BlockBy == "" {
				s.BlockBy = w.lv.Men[b.By].Man.Tag
			}
		}
	}
	if s.Hat == call.HatOnBall || s.Hat == call.HatIfOpen {
		s.Hat = call.HatOutside
	}
}

func boxOf(d assign.Duty) BoxResult {
	a := d.Half.FlipOffset(field.Offset{X: d.Box.Inner, Y: d.Box.Least})
	c := d.Half.FlipOffset(field.Offset{X: d.Box.Outer, Y: d.Box.Most})
	return BoxResult{min(a.X, c.X), a.Y, max(a.X, c.X), c.Y}
}

// lanes turns the lane rule's answer into labels and field terms.
func (w *work) lanes(m lane.Moment, lr lane.Result) []LaneResult {
	out := make([]LaneResult, len(lr.Lanes))
	name := func(i int) string {
		if i < 0 {
			return ""
		}
		return m.Men[i].Label
	}
	for i, l := range lr.Lanes {
		out[i] = LaneResult{N: l.N, Inside: l.Inside, Outside: l.Outside, ShutBy: name(l.ShutBy), FitBy: name(l.FitBy),
			Gain: l.Gain, HasGain: l.ShutBy < 0, Inner: w.b.Side.OutInches(l.Inner), Outer: w.b.Side.OutInches(l.Outer)}
	}
	return out
}

// orderOf is what the call wants of a man against a kind of play.
func (w *work) orderOf(k int, pl *play.Play) lane.Order {
	return rep.OrderOf(&w.lv.Spots[k].Duty, pl, w.b.Side)
}
