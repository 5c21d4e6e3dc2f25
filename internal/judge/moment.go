package judge

import (
	"fmt"
	"slices"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// moment judges a frozen moment: the lane rule, and every man by his hat, lane
// or edge.
func (w *work) moment(r *Result) {
	b := w.b
	pl := b.Play
	for i := 0; pl == nil && i < len(b.Menu); i++ {
		if b.Menu[i].Kind != play.Pass {
			pl = b.Menu[i]
		}
	}
	r.Play, r.words.frozen = pl, true
	if w.laneMoment(pl) {
		m := &w.frozen
		lr := w.lane.Judge(m, b.Model)
		r.Sound = lr.Sound
		w.lanes(r, m, &lr)
		for i := range lr.Faults {
			r.Faults = append(r.Faults, fault(m, &lr.Faults[i]))
		}
		r.words.moment, r.words.lane = *m, lr
	}
	for k := range w.order {
		r.Spots = append(r.Spots, SpotResult{})
		w.inMoment(&r.Spots[k], k, &r.words.moment, &r.words.lane)
	}
}

func fault(m *lane.Moment, f *lane.Fault) FaultResult {
	out := FaultResult{Who: m.Men[f.Who].Label, Kind: string(f.Kind), Opens: f.Opens, Cost: f.Cost, spot: f.Who}
	if f.SavedBy >= 0 {
		out.SavedBy = m.Men[f.SavedBy].Label
	}
	return out
}

// laneMoment turns the board into what the lane rule reads, out-terms. It is
// false when nobody carries the ball or no play says who does what.
func (w *work) laneMoment(pl *play.Play) bool {
	b, s, m := w.b, w.b.Side, &w.frozen
	*m = lane.Moment{Edge: w.lv.Count.BoxEdge(s), Sideline: b.Ball.Sideline(s), Men: m.Men[:0], Blocks: m.Blocks[:0]}
	ci := slices.IndexFunc(b.Men, func(o Man) bool { return o.Tag == b.Moment.Carrier })
	if ci < 0 || pl == nil {
		return false
	}
	m.Kind = pl.Kind
	m.Ball = s.FlipOffset(b.Men[ci].At)
	m.Carrier = b.Men[ci].Athlete
	m.Carrier.Top *= b.Carry
	m.Going = pl.Going
	if v := b.Men[ci].Vel; v != nil {
		m.Going = s.Flip(*v)
	}
	w.vels, w.makes = make([]field.Vec, len(w.order)), make([]int, len(w.order))
	for k, i := range w.order {
		sp := &b.Spots[i]
		man := lane.Man{Label: sp.Label, At: s.FlipOffset(sp.At), Athlete: sp.Athlete, Late: slices.Contains(b.Moment.Late, sp.Label),
			Order: rep.OrderOf(&w.lv.Spots[k].Duty, pl, s)}
		if sp.Vel != nil {
			w.vels[k] = s.Flip(*sp.Vel)
			man.Vel = &w.vels[k]
		}
		if n, ok := b.Moment.Makes[sp.Label]; ok {
			w.vels[k], w.makes[k] = s.Flip(n.Going), n.Lane
			man.Vel = &w.vels[k]
			if n.Lane >= 0 {
				man.Makes = &w.makes[k]
			}
		}
		m.Men = append(m.Men, man)
	}
	outermost := rep.Outermost(w.lv.Numbers(s), b.Moment.Carrier)
	for _, bl := range b.Moment.Blocks {
		bi := slices.IndexFunc(b.Men, func(o Man) bool { return o.Tag == bl.By })
		on := slices.IndexFunc(m.Men, func(o lane.Man) bool { return o.Label == bl.On })
		if bi < 0 || on < 0 {
			continue
		}
		at := s.FlipOffset(b.Men[bi].At)
		if !lane.Here(at, m.Edge) {
			continue
		}
		crack := bl.By == outermost && m.Men[on].Order.Role != play.Corner
		m.Blocks = append(m.Blocks, lane.Block{By: bl.By, At: at, On: on, Hat: bl.Hat, Crack: crack})
	}
	return true
}

// part finds a man's block and fault in a frozen moment, -1 without.
func part(lr *lane.Result, k int) (block, fault int) {
	return slices.IndexFunc(lr.Blocks, func(b lane.Block) bool { return b.On == k }),
		slices.IndexFunc(lr.Faults, func(f lane.Fault) bool { return f.Who == k })
}

// inMoment is one man's answer in a frozen moment.
func (w *work) inMoment(s *SpotResult, k int, m *lane.Moment, lr *lane.Result) {
	d := &w.lv.Spots[k]
	*s = SpotResult{Label: w.labels[k], Duty: d.Duty, At: d.At, Keeps: leverage.Yes, Held: true,
		Speed: d.Athlete.Top, Hat: call.HatEither, Side: call.HeadUp, Rule: assign.Result{Verdict: assign.Right}}
	if k >= len(m.Men) {
		return
	}
	o := &m.Men[k].Order
	if o.Known {
		s.Hat = o.Fit.Hat
		if s.Hat == call.HatOnBall || s.Hat == call.HatIfOpen {
			s.Hat = call.HatOutside
		}
	}
	side := w.b.Side
	blocked, at := part(lr, k)
	var fault *lane.Fault
	if at >= 0 {
		fault = &lr.Faults[at]
	}
	if blocked >= 0 {
		b := &lr.Blocks[blocked]
		s.BlockBy, s.By, s.Landmark = b.By, b.By, b.By
		if o.Known && s.Hat != call.HatEither {
			s.Side = call.ShadeSide(s.Hat)
		}
		if off := m.Men[k].At.X - b.At.X; b.Hat == lane.Even || near(off) {
			s.Keeps = leverage.Contested
		}
		if fault != nil {
			s.Keeps, s.Rule.Verdict = leverage.No, assign.WrongSide
			want := b.At.X + field.Yard/2
			if s.Hat == call.HatInside {
				want = b.At.X - field.Yard/2
			} else if fault.Kind == lane.EdgeLost {
				want = max(want, m.Ball.X+1)
			}
			s.Rule.Move = side.FlipOffset(field.Offset{X: want - m.Men[k].At.X})
		}
	} else if fault != nil {
		s.Keeps = leverage.No
		s.Landmark = "lane"
		if fault.Opens >= 0 {
			l := &lr.Lanes[fault.Opens]
			s.Landmark = fmt.Sprintf("lane %d", fault.Opens)
			s.Rule.Verdict, s.Rule.Move = toLane(l, &m.Men[k], m.Ball.X, fault.Opens == len(lr.Lanes)-1)
			s.Rule.Move = side.FlipOffset(s.Rule.Move)
		}
	}
	s.Fix = s.Rule.Move
}

func near(off field.Inches) bool {
	return (off.Abs()-field.Yard/2).Abs() <= 3 && off.Abs() < field.Yard/2
}

// toLane is how a free man gets to the lane he should fit.
func toLane(l *lane.Lane, d *lane.Man, ball field.Inches, last bool) (assign.Verdict, field.Offset) {
	in, out := l.Inner, l.Outer
	if last {
		in = max(in, ball+field.Yard/2)
	}
	switch {
	case d.At.X < in:
		return assign.TooTight, field.Offset{X: in + min(field.Yard, (out-in)/2) - d.At.X}
	case d.At.X > out:
		return assign.TooWide, field.Offset{X: out - min(field.Yard, (out-in)/2) - d.At.X}
	}
	if up := d.At.Y - 4*field.Yard; up > 0 {
		return assign.TooDeep, field.Offset{Y: -up}
	}
	return assign.TooDeep, field.Offset{}
}
