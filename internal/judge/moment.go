package judge

import (
	"fmt"
	"slices"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
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
	r.Play = pl
	m, ok := w.laneMoment(pl)
	if !ok {
		for k := range w.order {
			r.Spots = append(r.Spots, w.inMoment(k, m, lane.Result{}))
		}
		return
	}
	lr := lane.Judge(m, b.Model)
	r.Sound, r.Lanes = lr.Sound, w.lanes(m, lr)
	for _, f := range lr.Faults {
		r.Faults = append(r.Faults, w.fault(m, lr, f))
	}
	for k := range w.order {
		r.Spots = append(r.Spots, w.inMoment(k, m, lr))
	}
}

// laneMoment turns the board into what the lane rule reads, out-terms.
func (w *work) laneMoment(pl *play.Play) (lane.Moment, bool) {
	b, s := w.b, w.b.Side
	m := lane.Moment{Edge: w.lv.Count.BoxEdge(s), Sideline: b.Ball.Sideline(s)}
	ci := slices.IndexFunc(b.Men, func(o Man) bool { return o.Tag == b.Moment.Carrier })
	if ci < 0 || pl == nil {
		return m, false
	}
	m.Kind = pl.Kind
	m.Ball = s.FlipOffset(b.Men[ci].At)
	m.Carrier = b.Men[ci].Athlete
	m.Carrier.Top *= b.Carry
	m.Going = pl.Going
	if v := b.Men[ci].Vel; v != nil {
		m.Going = s.Flip(*v)
	}
	for k, i := range w.order {
		sp := b.Spots[i]
		man := lane.Man{Label: sp.Label, At: s.FlipOffset(sp.At), Athlete: sp.Athlete, Late: slices.Contains(b.Moment.Late, sp.Label), Order: w.orderOf(k, pl)}
		if sp.Vel != nil {
			v := s.Flip(*sp.Vel)
			man.Vel = &v
		}
		if n, ok := b.Moment.Makes[sp.Label]; ok {
			v := s.Flip(n.Going)
			man.Makes, man.Vel = &n.Lane, &v
		}
		m.Men = append(m.Men, man)
	}
	outermost := ""
	for _, r := range w.lv.Numbers(s) {
		if r.Tag != b.Moment.Carrier {
			outermost = r.Tag
			break
		}
	}
	for _, bl := range b.Moment.Blocks {
		bi := slices.IndexFunc(b.Men, func(o Man) bool { return o.Tag == bl.By })
		on := slices.IndexFunc(m.Men, func(o lane.Man) bool { return o.Label == bl.On })
		if bi < 0 || on < 0 {
			continue
		}
		at := s.FlipOffset(b.Men[bi].At)
		if at.X <= m.Edge-field.Yard && at.X <= 0 {
			continue // a block on the other side of the ball makes no lane here
		}
		crack := bl.By == outermost && m.Men[on].Order.Role != play.Corner
		m.Blocks = append(m.Blocks, lane.Block{By: bl.By, At: at, On: on, Hat: bl.Hat, Crack: crack})
	}
	return m, true
}

// inMoment is one man's answer in a frozen moment.
func (w *work) inMoment(k int, m lane.Moment, lr lane.Result) SpotResult {
	d := &w.lv.Spots[k]
	s := SpotResult{Label: w.b.Spots[w.order[k]].Label, Duty: d.Duty, At: d.At, Keeps: leverage.Yes, Held: true,
		Speed: d.Athlete.Top, Hat: call.HatEither, Side: call.HeadUp, Rule: assign.Result{Verdict: assign.Right}}
	if k >= len(m.Men) {
		s.Why = Why{"no play tells his part in this moment", "answers for no lane here", "Stay"}
		return s
	}
	o := m.Men[k].Order
	if o.Known {
		s.Hat = o.Fit.Hat
		if s.Hat == call.HatOnBall || s.Hat == call.HatIfOpen {
			s.Hat = call.HatOutside
		}
	}
	side := w.b.Side
	blocked := -1
	for i, b := range lr.Blocks {
		if b.On == k {
			blocked = i
		}
	}
	var fault *lane.Fault
	for i := range lr.Faults {
		if lr.Faults[i].Who == k {
			fault = &lr.Faults[i]
			break
		}
	}
	if blocked >= 0 {
		b := lr.Blocks[blocked]
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
			l := lr.Lanes[fault.Opens]
			s.Landmark = fmt.Sprintf("lane %d", fault.Opens)
			s.Rule.Verdict, s.Rule.Move = toLane(l, m.Men[k], m.Ball.X, fault.Opens == len(lr.Lanes)-1)
			s.Rule.Move = side.FlipOffset(s.Rule.Move)
		}
	}
	s.Fix = s.Rule.Move
	s.Why = w.whyMoment(s, m, lr, k, blocked, fault)
	return s
}

func near(off field.Inches) bool {
	return (off.Abs()-field.Yard/2).Abs() <= 3 && off.Abs() < field.Yard/2
}

// toLane is how a free man gets to the lane he should fit.
func toLane(l lane.Lane, d lane.Man, ball field.Inches, last bool) (assign.Verdict, field.Offset) {
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

// lookMen is used by the words: the receivers of a half, with numbers.
func (w *work) lookMen(half field.Side) []look.Man { return w.lv.Numbers(half) }
