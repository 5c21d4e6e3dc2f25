package judge_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"halfline/internal/athlete"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/look"
)

// dice turns any bytes into choices; when they are used up every choice is the
// first.
type dice []byte

func (d *dice) of(n int) int {
	if len(*d) == 0 {
		return 0
	}
	b := int((*d)[0])
	*d = (*d)[1:]
	return b * n / 256
}

func (d *dice) one(in int) bool { return d.of(in) == in-1 }

// between is any whole number of the range.
func (d *dice) between(lo, hi int) int { return lo + (d.of(256)<<8|d.of(256))*(hi-lo+1)>>16 }

func (d *dice) inches(lo, hi int) field.Inches { return field.Inches(d.between(lo, hi)) }

func (d *dice) athlete() athlete.Athlete {
	return athlete.Athlete{Top: float64(d.between(10, 130)) / 10, Tau: float64(d.between(5, 300)) / 100,
		React: float64(d.between(0, 200)) / 100, Reach: float64(d.between(0, 300)) / 100}
}

func (d *dice) speed() *field.Vec {
	return &field.Vec{X: float64(d.between(-130, 130)) / 10, Y: float64(d.between(-130, 130)) / 10}
}

// seeds are byte strings that make boards with everything in them.
func seeds(f *testing.F) {
	r := rand.New(rand.NewPCG(41, 42))
	f.Add([]byte{})
	for n := range 40 {
		b := make([]byte, 20+20*n)
		for i := range b {
			b[i] = byte(r.UintN(256))
		}
		f.Add(b)
	}
}

// board is any board that a session or a scene could hold, likely or not: men
// anywhere on the field, each tag and label once, after a motion, perhaps frozen.
func (d *dice) board(bk *book.Book) judge.Board {
	b := judge.Board{
		Ball:  field.Ball{Rules: field.AllRules[d.of(3)], Hash: []field.Hash{field.MiddleHash, field.LeftHash, field.RightHash}[d.of(3)], Yard: 1 + d.between(0, 98)},
		Side:  []field.Side{field.Right, field.Left}[d.of(2)],
		Model: bk.Model, Carry: bk.Athletes.Carry(),
		Call: bk.Calls[d.of(len(bk.Calls))],
	}
	if d.one(30) {
		b.Call = nil
	}
	for _, p := range bk.Plays {
		if d.one(2) && len(b.Menu) < 8 {
			b.Menu = append(b.Menu, p)
		}
	}
	if d.one(3) {
		b.Play = bk.Plays[d.of(len(bk.Plays))]
	}
	if d.one(6) {
		b.Box = d.inches(18, 400)
	}
	d.offense(&b, bk)
	d.defense(&b, bk)
	return b
}

func (d *dice) offense(b *judge.Board, bk *book.Book) {
	men := []look.Man{{Tag: "SN", Line: true}}
	for _, tag := range []string{"B", "Z", "H", "Q", "X", "Y", "W", "F", "LT", "RT", "77"} {
		if d.one(4) {
			continue
		}
		o := b.Ball.Clamp(field.Offset{X: d.inches(-1300, 1300), Y: d.inches(-300, 0)})
		men = append(men, look.Man{Tag: tag, At: o, Line: d.one(3)})
	}
	l := look.New(b.Ball, men)
	l.Box, l.BoxSide = b.Box, b.Side
	if who := men[d.of(len(men))].Tag; d.one(3) {
		to := b.Ball.Clamp(field.Offset{X: d.inches(-1300, 1300), Y: d.inches(-300, 0)})
		l = l.Timeline(l.Usual(look.MotionKinds[d.of(len(look.MotionKinds))], who, to)).At(0)
	}
	for _, m := range l.Men {
		jm := judge.Man{Man: m, Athlete: bk.Offense(l, m)}
		if d.one(5) {
			jm.Athlete = d.athlete()
		}
		b.Men = append(b.Men, jm)
	}
}

func (d *dice) defense(b *judge.Board, bk *book.Book) {
	spots := []call.Spot{{Label: "K", Half: call.This}} // a man the call does not know
	if b.Call != nil {
		spots = append(spots, b.Call.Spots...)
	}
	for i := range spots {
		s := &spots[i]
		if d.one(3) {
			continue
		}
		sp := judge.Spot{Label: s.Label, Athlete: bk.Defense(s)}
		sp.At = b.Ball.Clamp(field.Offset{X: d.inches(-1300, 1300), Y: d.inches(0, 900)})
		if d.one(5) {
			sp.Athlete = d.athlete()
		}
		if d.one(6) {
			lo := d.inches(0, 700)
			sp.Depth = &call.Depth{Best: lo, Least: lo, Most: lo + d.inches(0, 200)}
		}
		b.Spots = append(b.Spots, sp)
	}
}

// freeze makes a frozen moment of a board.
func (d *dice) freeze(b *judge.Board) {
	if d.one(2) {
		l := b.Shown()
		b.Before = &l
	}
	m := judge.Moment{Carrier: b.Men[d.of(len(b.Men))].Tag, Makes: map[string]judge.Way{}}
	if d.one(20) {
		m.Carrier = "nobody"
	}
	for i := range b.Men {
		if d.one(4) {
			b.Men[i].Vel = d.speed()
		}
		if len(b.Spots) > 0 && d.one(3) && b.Men[i].Tag != m.Carrier {
			m.Blocks = append(m.Blocks, judge.Block{By: b.Men[i].Tag, On: b.Spots[d.of(len(b.Spots))].Label,
				Hat: []lane.Hat{lane.Auto, lane.In, lane.Even, lane.Outside}[d.of(4)]})
		}
	}
	for i := range b.Spots {
		switch d.of(8) {
		case 5:
			m.Late = append(m.Late, b.Spots[i].Label)
		case 6:
			b.Spots[i].Vel = d.speed()
		case 7:
			m.Makes[b.Spots[i].Label] = judge.Way{Lane: d.of(7), Going: *d.speed()}
		}
	}
	b.Moment = &m
}

// sane says which number of an answer is none, and what is missing from it.
func sane(b *judge.Board, r *judge.Result) string {
	finite := func(vs ...float64) bool {
		for _, v := range vs {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return false
			}
		}
		return true
	}
	if len(r.Spots) != len(b.Spots) {
		return fmt.Sprintf("%d men of %d are answered", len(r.Spots), len(b.Spots))
	}
	for i := range r.Spots {
		s := &r.Spots[i]
		if !finite(s.Race.Margin, s.Race.Mine, s.Race.His, s.Race.At.X, s.Race.At.Y, s.Speed) {
			return fmt.Sprintf("%s: %+v", s.Label, s.Race)
		}
		if w := r.Why(i); w.Rule == "" || w.Leverage == "" || w.Fix == "" {
			return fmt.Sprintf("%s is told %+v", s.Label, w)
		}
	}
	open := 0
	for i, l := range r.Lanes {
		if l.N != i || !finite(l.Gain) || l.Gain > b.Model.Broke || (l.ShutBy == "") != l.HasGain {
			return fmt.Sprintf("%+v", l)
		}
		if l.ShutBy == "" && l.FitBy == "" {
			open++
		}
	}
	if len(r.Lanes) > 0 && r.Sound != (open == 0) {
		return fmt.Sprintf("sound %v with %d lanes open", r.Sound, open)
	}
	for i, f := range r.Faults {
		if !finite(f.Cost) || f.Cost < 0 || f.Opens >= max(len(r.Lanes), 1) || r.Because(i) == "" {
			return fmt.Sprintf("%+v", f)
		}
	}
	return ""
}

// shown is a board that failed, to read.
func shown(b *judge.Board) string {
	out := fmt.Sprintf("%+v, side %s, box %d\n", b.Ball, b.Side, b.Box)
	if b.Call != nil {
		out += "call " + b.Call.ID + "\n"
	}
	if b.Play != nil {
		out += "play " + b.Play.ID + "\n"
	}
	for _, p := range b.Menu {
		out += "menu " + p.ID + "\n"
	}
	for _, m := range b.Men {
		out += fmt.Sprintf("%s %v line %v %+v\n", m.Tag, m.At, m.Line, m.Athlete)
	}
	for _, s := range b.Spots {
		out += fmt.Sprintf("%s %v %+v %v %v\n", s.Label, s.At, s.Athlete, s.Depth, s.Vel)
	}
	if b.Moment != nil {
		out += fmt.Sprintf("%+v\n", *b.Moment)
	}
	return out
}
