package judge_test

import (
	"flag"
	"os"
	"testing"

	"pgregory.net/rapid"

	"halfline/internal/assign"
	"halfline/internal/athlete"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/look"
)

// TestMain asks for 2,000 boards of every law unless the command line says
// otherwise: a hundred seldom hold a stack, a crack and a late man at once.
func TestMain(m *testing.M) {
	flag.Parse()
	asked := false
	flag.Visit(func(f *flag.Flag) { asked = asked || f.Name == "rapid.checks" })
	if !asked {
		if err := flag.Set("rapid.checks", "2000"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

func inches(t *rapid.T, what string, least, most float64) field.Inches {
	return field.Inches(rapid.IntRange(int(least*36), int(most*36)).Draw(t, what))
}

func one(t *rapid.T, what string, in int) bool { return rapid.IntRange(1, in).Draw(t, what) == 1 }

func anyAthlete(t *rapid.T, react float64) athlete.Athlete {
	return athlete.Athlete{Top: float64(rapid.IntRange(60, 100).Draw(t, "top")) / 10, Tau: float64(rapid.IntRange(5, 14).Draw(t, "tau")) / 10, React: react}
}

// anyBoard draws a board: any rulebook, hash and side, any call, half the men or
// all, most near where they should be and some anywhere, perhaps a moment.
func anyBoard(t *rapid.T) judge.Board {
	bk := book.Builtin()
	b := judge.Board{
		Ball: field.Ball{Rules: rapid.SampledFrom(field.AllRules).Draw(t, "rules"),
			Hash: rapid.SampledFrom([]field.Hash{field.LeftHash, field.MiddleHash, field.RightHash}).Draw(t, "hash"), Yard: rapid.IntRange(1, 99).Draw(t, "yard")},
		Side:  rapid.SampledFrom([]field.Side{field.Left, field.Right}).Draw(t, "side"),
		Model: bk.Model, Carry: bk.Athletes.Carry(),
	}
	b.Call = bk.Calls[rapid.IntRange(0, len(bk.Calls)-1).Draw(t, "call")]
	if one(t, "no call", 40) {
		b.Call = nil
	}
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(bk.Plays)-1), 0, 4, rapid.ID).Draw(t, "menu") {
		b.Menu = append(b.Menu, bk.Plays[i])
	}
	if one(t, "a play", 3) {
		b.Play = bk.Plays[rapid.IntRange(0, len(bk.Plays)-1).Draw(t, "play")]
	}
	if one(t, "own box", 8) {
		b.Box = inches(t, "box", 1, 7)
	}
	offense(t, &b, bk)
	defense(t, &b, bk)
	if one(t, "moment", 3) {
		moment(t, &b)
	}
	return b
}

func offense(t *rapid.T, b *judge.Board, bk *book.Book) {
	men := []look.Man{{Tag: "SN", Line: true}}
	for _, m := range []struct {
		tag    string
		in, of int     // how often he is there
		x, y   float64 // around where, as on the right
	}{{"Q", 4, 5, 0, -5}, {"B", 5, 6, 1.5, -5}, {"Z", 9, 10, 17, -0.5}, {"H", 5, 6, 9, -1}, {"Y", 1, 3, 5, -0.5}, {"W", 1, 4, 7, -1.5}, {"X", 3, 4, -14, -0.5}, {"RT", 1, 3, 3, 0}} {
		if rapid.IntRange(1, m.of).Draw(t, m.tag) > m.in {
			continue
		}
		o := field.At(m.x, m.y)
		if one(t, "anywhere", 6) {
			o = field.Offset{X: inches(t, "x", -26, 26), Y: inches(t, "y", -8, 0)}
		} else {
			o = o.Add(field.Offset{X: inches(t, "dx", -3, 3), Y: inches(t, "dy", -1, 0.5)})
		}
		men = append(men, look.Man{Tag: m.tag, At: b.Ball.Clamp(b.Side.FlipOffset(o)), Line: o.Y > -36})
	}
	l := look.New(b.Ball, men)
	for _, m := range l.Men {
		jm := judge.Man{Man: m, Athlete: bk.Offense(l, m)}
		if one(t, "own athlete", 4) {
			jm.Athlete = anyAthlete(t, 0.15)
		}
		b.Men = append(b.Men, jm)
	}
}

func defense(t *rapid.T, b *judge.Board, bk *book.Book) {
	l := b.Shown()
	spots := []call.Spot{{Label: "K", Half: call.This}} // a man the call does not know
	if b.Call != nil {
		spots = append(spots, b.Call.Spots...)
	}
	for i := range spots {
		s := &spots[i]
		if s.Label == "K" && !one(t, "with K", 10) || s.Label != "K" && one(t, "without "+s.Label, 3) {
			continue
		}
		d := assign.For(s, l, b.Side, nil)
		sp := judge.Spot{Label: s.Label, Athlete: bk.Defense(s)}
		o := field.Offset{X: inches(t, "dx", -3, 3), Y: inches(t, "dy", -3, 3)}
		switch {
		case d.Placed && rapid.Bool().Draw(t, "at his best"):
			o = d.Best
		case d.Placed:
			o = o.Add(d.Best)
		default:
			o = o.Add(field.At(8, 5))
		}
		sp.At = b.Ball.Clamp(d.Half.FlipOffset(o))
		if one(t, "own athlete", 4) {
			sp.Athlete = anyAthlete(t, 0.35)
		}
		if one(t, "own depth", 8) {
			lo := inches(t, "least", 1, 13)
			sp.Depth = &call.Depth{Best: lo, Least: lo, Most: lo + inches(t, "more", 0, 3)}
		}
		b.Spots = append(b.Spots, sp)
	}
}

func moment(t *rapid.T, b *judge.Board) {
	if one(t, "look before is known", 2) {
		l := b.Shown()
		b.Before = &l
	}
	m := judge.Moment{Carrier: b.Men[rapid.IntRange(0, len(b.Men)-1).Draw(t, "carrier")].Tag}
	speed := func(what string) *field.Vec {
		return &field.Vec{X: float64(rapid.IntRange(-12, 12).Draw(t, what)) / 2, Y: float64(rapid.IntRange(-12, 12).Draw(t, what)) / 2}
	}
	for i := range b.Men {
		if b.Men[i].Tag == m.Carrier {
			if one(t, "carrier's speed", 2) {
				b.Men[i].Vel = speed("v")
			}
			continue
		}
		if len(b.Spots) > 0 && one(t, "blocks", 3) {
			on := b.Spots[rapid.IntRange(0, len(b.Spots)-1).Draw(t, "on")]
			b.Men[i].At = b.Ball.Clamp(on.At.Add(field.Offset{X: inches(t, "hat", -1.5, 1.5), Y: -18}))
			m.Blocks = append(m.Blocks, judge.Block{By: b.Men[i].Tag, On: on.Label})
		}
	}
	for i := range b.Spots {
		if one(t, "late", 8) {
			m.Late = append(m.Late, b.Spots[i].Label)
		}
		if one(t, "his speed", 4) {
			b.Spots[i].Vel = speed("v")
		}
	}
	b.Moment = &m
}
