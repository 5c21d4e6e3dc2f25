package strip_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/look"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// board is three on three with a linebacker, every man where his rule likes him
// best, to either side; the ball lies on a hash as the right side sees it.
func board(t testing.TB, call string, side field.Side, hash field.Hash) judge.Board {
	b := book.Builtin()
	c, ok := b.Call(call)
	require.True(t, ok, call)
	ball := field.Ball{Rules: field.NFHS, Hash: hash, Yard: 42}
	if side == field.Left {
		ball.Hash = hash.Mirror()
	}
	at := func(x, y float64) field.Offset { return side.FlipOffset(field.At(x, y)) }
	z, h := 17.0, 9.0
	if hash == field.RightHash {
		z, h = 11, 6
	}
	l := look.New(ball, []look.Man{{Tag: "B", At: at(1.5, -5)}, {Tag: "H", At: at(h, -1)}, {Tag: "Q", At: at(0, -5)},
		{Tag: "SN", Line: true}, {Tag: "X", At: at(-14, -0.5), Line: true}, {Tag: "Z", At: at(z, -0.5), Line: true}})
	out := judge.Board{Ball: ball, Side: side, Call: c, Menu: b.MenuPlays(nil), Model: b.Model, Carry: b.Athletes.Carry()}
	for _, m := range l.Men {
		out.Men = append(out.Men, judge.Man{Man: m, Athlete: b.Offense(l, m)})
	}
	for i := range c.Spots {
		s := &c.Spots[i]
		if s.Half == "this" && s.Stand != nil {
			out.Spots = append(out.Spots, judge.Spot{Label: s.Label, At: at(8, 5), Athlete: b.Defense(s)})
		}
	}
	res := judge.Run(&out)
	for i := range out.Spots {
		for _, s := range res.Spots {
			if s.Label == out.Spots[i].Label && s.Duty.Placed {
				out.Spots[i].At = s.Duty.Half.FlipOffset(s.Duty.Best)
			}
		}
	}
	return out
}

func replay(t testing.TB, b *judge.Board, id string, errs map[string]rep.Error) *judge.Track {
	pl, ok := book.Builtin().Play(id)
	require.True(t, ok, id)
	tr, err := judge.Replay(b, pl, judge.RepOptions{Force: -1, Errors: errs})
	require.NoError(t, err)
	return tr
}

func plays() []*play.Play { return book.Builtin().Plays }

// element is one element of a document, with the text directly in it.
type element struct {
	name  string
	attrs map[string]string
	text  string
	depth int
}

// parsed reads a document; it is an error if it is not well formed.
func parsed(t testing.TB, doc []byte) []element {
	dec := xml.NewDecoder(bytes.NewReader(doc))
	dec.Strict = true
	var out []element
	var open []int
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch x := tok.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attrs: map[string]string{}, depth: len(open)}
			for _, a := range x.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			out = append(out, e)
			open = append(open, len(out)-1)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(x)
			}
		}
	}
	require.Empty(t, open)
	return out
}
