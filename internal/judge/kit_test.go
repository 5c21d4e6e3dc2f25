package judge_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/athlete"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/look"
)

// both runs a test on either side of the ball; rows are written for the right.
func both(t *testing.T, f func(t *testing.T, s field.Side)) {
	for _, s := range []field.Side{field.Right, field.Left} {
		t.Run(s.String(), func(t *testing.T) { f(t, s) })
	}
}

// staff is the built-in book with a staff's own settings over it.
func staff(t testing.TB, text string) *book.Book {
	b, err := book.Read("staff.book.yaml", []byte("book: 1\nname: A staff\n"+text))
	require.NoError(t, err)
	return b
}

// setup makes boards: of a book and a call, to the right, mirrored when asked.
type setup struct {
	book *book.Book
	call string
	ball field.Ball
	side field.Side
	menu []string
}

var middle = field.Ball{Rules: field.NFHS, Hash: field.MiddleHash, Yard: 42}

// at is a place for a tag or a label, as on the right side.
type at struct {
	tag  string
	x, y float64
}

// board puts men and spots on the field; tags Z, X, SN and Y are on the line.
func (s setup) board(t testing.TB, men, spots []at) judge.Board {
	if s.book == nil {
		s.book = book.Builtin()
	}
	if s.ball == (field.Ball{}) {
		s.ball = middle
	}
	if s.side == field.Left {
		s.ball.Hash = s.ball.Hash.Mirror()
	}
	c, ok := s.book.Call(s.call)
	require.True(t, ok, s.call)
	var ms []look.Man
	for _, m := range men {
		line := m.tag == "Z" || m.tag == "X" || m.tag == "SN" || m.tag == "Y"
		ms = append(ms, look.Man{Tag: m.tag, At: s.side.FlipOffset(field.At(m.x, m.y)), Line: line})
	}
	l := look.New(s.ball, ms)
	b := judge.Board{Ball: s.ball, Side: s.side, Call: c, Menu: s.book.MenuPlays(s.menu), Model: s.book.Model, Carry: s.book.Athletes.Carry()}
	for _, m := range l.Men {
		b.Men = append(b.Men, judge.Man{Man: m, Athlete: s.book.Offense(l, m)})
	}
	for _, d := range spots {
		sp := judge.Spot{Label: d.tag, At: s.side.FlipOffset(field.At(d.x, d.y)), Athlete: s.book.Athletes.ByKind["front"]}
		if cs, ok := c.Spot(d.tag); ok {
			sp.Athlete = s.book.Defense(cs)
		}
		b.Spots = append(b.Spots, sp)
	}
	return b
}

// trial gives everybody the athletes of the trade brief's races: top 8.6 yd/s,
// tau 1.1 s, reaction 0.35 on defense and 0.15 on offense.
func trial(b *judge.Board) {
	for i := range b.Men {
		b.Men[i].Athlete = athlete.Athlete{Top: 8.6, Tau: 1.1, React: 0.15}
	}
	for i := range b.Spots {
		b.Spots[i].Athlete = athlete.Athlete{Top: 8.6, Tau: 1.1, React: 0.35}
	}
}

func spotOf(t require.TestingT, r *judge.Result, label string) *judge.SpotResult {
	for i := range r.Spots {
		if r.Spots[i].Label == label {
			return &r.Spots[i]
		}
	}
	require.Fail(t, "no spot "+label)
	return nil
}

// twins is the look of most rows: the ball in the middle, Z and H to the right.
func twins(zx, hx float64) []at {
	return []at{{"SN", 0, 0}, {"Q", 0, -5}, {"B", 1.5, -5}, {"Z", zx, 0}, {"H", hx, -1}, {"X", -14, 0}}
}

func ownDepth(least, most float64) *call.Depth {
	return &call.Depth{Best: field.FromYards(least), Least: field.FromYards(least), Most: field.FromYards(most)}
}

func whyOf(r *judge.Result, i int) judge.Why  { return r.Why(i) }
func becauseOf(r *judge.Result, i int) string { return r.Because(i) }
