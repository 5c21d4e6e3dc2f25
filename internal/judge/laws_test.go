package judge_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/wire"
)

// told is all that a judgement says, words included, as text to compare.
func told(b *judge.Board, r *judge.Result) string {
	out, err := json.MarshalIndent(wire.AnswerOf(b, r), "", " ")
	if err != nil {
		panic(err)
	}
	return string(out)
}

// mirrored is the same board on the other side of the field.
func mirrored(b judge.Board) judge.Board {
	out := b
	out.Ball.Hash, out.Side = b.Ball.Hash.Mirror(), b.Side.Other()
	out.Men, out.Spots = slices.Clone(b.Men), slices.Clone(b.Spots)
	turn := func(v *field.Vec) *field.Vec {
		if v == nil {
			return nil
		}
		w := field.Left.Flip(*v)
		return &w
	}
	for i := range out.Men {
		out.Men[i].At, out.Men[i].Vel = field.Left.FlipOffset(out.Men[i].At), turn(out.Men[i].Vel)
	}
	for i := range out.Spots {
		out.Spots[i].At, out.Spots[i].Vel = field.Left.FlipOffset(out.Spots[i].At), turn(out.Spots[i].Vel)
	}
	if b.Before != nil {
		l := b.Before.Mirror()
		out.Before = &l
	}
	return out
}

// unmirrored turns an answer back: the numbers of the sides, moves and spans.
func unmirrored(a wire.Answer) wire.Answer {
	a.Look.Numbers.Left, a.Look.Numbers.Right = a.Look.Numbers.Right, a.Look.Numbers.Left
	slices.Sort(a.Look.Notes) // told side by side, left first
	turn := func(v float64) float64 {
		if v == 0 {
			return 0
		}
		return -v
	}
	for i := range a.Defenders {
		d := &a.Defenders[i]
		d.Half = map[string]string{"left": "right", "right": "left"}[d.Half]
		d.Rule.Move[0] = turn(d.Rule.Move[0])
		d.Rule.Box[0], d.Rule.Box[2] = -d.Rule.Box[2], -d.Rule.Box[0]
		d.Fix.Move[0] = -d.Fix.Move[0]
	}
	for i := range a.Lanes {
		a.Lanes[i].Span = [2]int{-a.Lanes[i].Span[0], -a.Lanes[i].Span[1]}
	}
	return a
}

// Every rule is written once in out-terms: the mirrored board gives the mirrored
// answer to the last bit, in the same words.
func TestMirrorLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		m := mirrored(b)
		mr := judge.Run(&m)
		want, got := wire.AnswerOf(&b, &r), unmirrored(wire.AnswerOf(&m, &mr))
		slices.Sort(want.Look.Notes)
		w, _ := json.Marshal(want)
		g, _ := json.Marshal(got)
		if string(w) != string(g) {
			t.Fatalf("as drawn\n%s\nmirrored\n%s", w, g)
		}
		for i := range r.Spots {
			if r.Spots[i].Race.Margin != mr.Spots[i].Race.Margin {
				t.Fatalf("%s: margin %v and %v", r.Spots[i].Label, r.Spots[i].Race.Margin, mr.Spots[i].Race.Margin)
			}
		}
	})
}

// The same board gives the same answer, whatever the order in which men, spots,
// late men and blocks are listed.
func TestListOrderSaysNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		want := judge.Run(&b)
		p := b
		p.Men = rapid.Permutation(slices.Clone(b.Men)).Draw(t, "men")
		p.Spots = rapid.Permutation(slices.Clone(b.Spots)).Draw(t, "spots")
		if b.Moment != nil {
			m := *b.Moment
			m.Late = rapid.Permutation(slices.Clone(m.Late)).Draw(t, "late")
			m.Blocks = rapid.Permutation(slices.Clone(m.Blocks)).Draw(t, "blocks")
			p.Moment = &m
		}
		got := judge.Run(&p)
		if told(&b, &want) != told(&p, &got) {
			t.Fatalf("listed so\n%s\nand so\n%s", told(&b, &want), told(&p, &got))
		}
	})
}

// What receivers are called says nothing: other tags in the same order of tags
// give the same answer in other names.
func TestTagsSayNothing(t *testing.T) {
	name := map[string]string{"B": "Da", "H": "Ha", "W": "Wa", "X": "Xa", "Y": "Ya", "Z": "Za"}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		p := b
		p.Men = slices.Clone(b.Men)
		rename := func(tag string) string {
			if n, ok := name[tag]; ok {
				return n
			}
			return tag
		}
		for i := range p.Men {
			p.Men[i].Tag = rename(p.Men[i].Tag)
		}
		if b.Before != nil {
			l := *b.Before
			l.Men = slices.Clone(l.Men)
			for i := range l.Men {
				l.Men[i].Tag = rename(l.Men[i].Tag)
			}
			p.Before = &l
		}
		if b.Moment != nil {
			m := *b.Moment
			m.Carrier, m.Blocks = rename(m.Carrier), slices.Clone(m.Blocks)
			for i := range m.Blocks {
				m.Blocks[i].By = rename(m.Blocks[i].By)
			}
			p.Moment = &m
		}
		got := judge.Run(&p)
		if len(got.Spots) != len(r.Spots) || got.Sound != r.Sound || len(got.Faults) != len(r.Faults) {
			t.Fatalf("%s\n%s", told(&b, &r), told(&p, &got))
		}
		for i := range r.Spots {
			x, y := r.Spots[i], got.Spots[i]
			if x.Keeps != y.Keeps || x.Rule != y.Rule || x.Race.Margin != y.Race.Margin || x.Fix != y.Fix || rename(x.By) != y.By || rename(x.BlockBy) != y.BlockBy || rename(x.Duty.KeyTag) != y.Duty.KeyTag {
				t.Fatalf("%s: %+v\n%+v", x.Label, x, y)
			}
		}
	})
}

// Where on the field the ball lies along it changes nothing.
func TestYardLineSaysNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		p := b
		p.Ball.Yard = rapid.IntRange(1, 99).Draw(t, "other yard")
		if b.Before != nil {
			l := *b.Before
			l.Ball.Yard = p.Ball.Yard
			p.Before = &l
		}
		got := judge.Run(&p)
		if told(&b, &r) != told(&p, &got) {
			t.Fatalf("%s\n%s", told(&b, &r), told(&p, &got))
		}
	})
}

// What must hold of lanes and faults of any board.
func TestLanesAndFaultsHangTogether(t *testing.T) {
	var boards, lanes, sound, faults, opening, saved int
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		open := 0
		boards++
		lanes += len(r.Lanes)
		if r.Sound && len(r.Lanes) > 0 {
			sound++
		}
		fit := map[string]bool{}
		for i, l := range r.Lanes {
			if l.N != i {
				t.Fatalf("lane %d is called %d", i, l.N)
			}
			if (l.ShutBy == "") != l.HasGain {
				t.Fatalf("lane %d: shut by %q, has a gain: %v", i, l.ShutBy, l.HasGain)
			}
			if l.ShutBy != "" && (l.FitBy != "" || l.Gain != 0) {
				t.Fatalf("lane %d is shut and has a fitter or a gain: %+v", i, l)
			}
			if math.IsNaN(l.Gain) || l.Gain > b.Model.Broke {
				t.Fatalf("lane %d: gain %v", i, l.Gain)
			}
			if l.ShutBy == "" && l.FitBy == "" {
				open++
			}
			if l.FitBy != "" && fit[l.FitBy] {
				t.Fatalf("%s fits two lanes", l.FitBy)
			}
			fit[l.FitBy] = true
		}
		if len(r.Lanes) > 0 && r.Sound != (open == 0) {
			t.Fatalf("sound %v with %d open lanes", r.Sound, open)
		}
		for _, f := range r.Faults {
			faults++
			if f.Opens >= 0 {
				opening++
			}
			if f.SavedBy != "" {
				saved++
			}
			if f.Who == "" || f.Kind == "" || f.Who == f.SavedBy {
				t.Fatalf("%+v", f)
			}
			switch {
			case f.Opens < 0:
				if f.Cost != 0 {
					t.Fatalf("opens nothing and costs: %+v", f)
				}
			case f.Opens >= len(r.Lanes):
				t.Fatalf("opens lane %d of %d", f.Opens, len(r.Lanes))
			case f.SavedBy != r.Lanes[f.Opens].FitBy:
				t.Fatalf("saved by %q, fit by %q: %+v", f.SavedBy, r.Lanes[f.Opens].FitBy, f)
			case r.Lanes[f.Opens].ShutBy != "":
				t.Fatalf("opens a lane that %s shuts: %+v", r.Lanes[f.Opens].ShutBy, f)
			case f.Cost < 0 || f.Cost > b.Model.Broke+5:
				t.Fatalf("cost %v", f.Cost)
			}
		}
		seen := map[string]bool{}
		for _, s := range r.Spots {
			if seen[s.Label] {
				t.Fatalf("%s twice", s.Label)
			}
			seen[s.Label] = true
		}
		if len(r.Spots) != len(b.Spots) {
			t.Fatalf("%d of %d spots", len(r.Spots), len(b.Spots))
		}
	})
	// The boards drawn must be worth it.
	for what, n := range map[string]int{"lanes": lanes, "sound boards": sound, "faults": faults, "faults that open a lane": opening} {
		assert.Greater(t, n, boards/20, what)
	}
	assert.Greater(t, saved, boards/100)
}

// A Judge that has judged other boards says what a new one says.
func TestJudgeRemembersNothing(t *testing.T) {
	var j judge.Judge
	var r judge.Result
	boards, same := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		boards++
		for range 3 {
			fresh := judge.Run(&b)
			j.Run(&b, &r)
			if told(&b, &fresh) != told(&b, &r) {
				t.Fatalf("fresh\n%s\nin used memory\n%s", told(&b, &fresh), told(&b, &r))
			}
			// The next board differs in the defense alone, or in the offense too.
			if len(b.Spots) > 0 && one(t, "a defender moves", 2) {
				b.Spots[0].At.X += inches(t, "by", -2, 2)
				same++
				continue
			}
			b.Men[len(b.Men)-1].At.X += inches(t, "by", -1, 1)
		}
	})
	assert.Greater(t, same, boards/4)
}
