package judge_test

import (
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// FuzzBoard: whatever stands on the board, the answer is there for everybody, all
// its numbers are numbers, and the mirrored board has the mirrored answer.
func FuzzBoard(f *testing.F) {
	seeds(f)
	bk := book.Builtin()
	f.Fuzz(func(t *testing.T, data []byte) {
		d := dice(data)
		frozen := d.one(2)
		b := d.board(bk)
		if frozen {
			d.freeze(&b)
		}
		r := judge.Run(&b)
		if bad := sane(&b, &r); bad != "" {
			t.Fatalf("%s\n%s", bad, shown(&b))
		}
		m := mirrored(b)
		if frozen {
			m.Moment = turned(b.Moment)
		}
		mr := judge.Run(&m)
		if bad := sameAnswer(&r, &mr); bad != "" {
			t.Fatalf("%s\n%s", bad, shown(&b))
		}
		for i := range r.Spots {
			if r.Spots[i].Race.Margin != mr.Spots[i].Race.Margin {
				t.Fatalf("%s: margin %v, mirrored %v\n%s", r.Spots[i].Label, r.Spots[i].Race.Margin, mr.Spots[i].Race.Margin, shown(&b))
			}
		}
	})
}

// turned is a moment on the other side of the field.
func turned(m *judge.Moment) *judge.Moment {
	out := *m
	out.Makes = maps.Clone(m.Makes)
	for who, w := range out.Makes {
		w.Going = field.Left.Flip(w.Going)
		out.Makes[who] = w
	}
	return &out
}

// FuzzFreeze: any run against any board freezes to a moment in which everybody
// has a place, or says that nobody can carry it; and the frozen board is judged.
func FuzzFreeze(f *testing.F) {
	seeds(f)
	bk := book.Builtin()
	f.Fuzz(func(t *testing.T, data []byte) {
		d := dice(data)
		b := d.board(bk)
		pl := bk.Plays[d.of(len(bk.Plays))]
		fr, ok := judge.Freeze(&b, pl)
		if !ok {
			return
		}
		if pl.Kind == play.Pass {
			t.Fatalf("a pass freezes\n%s", shown(&b))
		}
		if len(fr.Places) != len(b.Men)+len(b.Spots) {
			t.Fatalf("%d places for %d men\n%s", len(fr.Places), len(b.Men)+len(b.Spots), shown(&b))
		}
		l := b.Shown()
		z := b
		z.Before, z.Moment, z.Play = &l, &fr.Moment, pl
		z.Men, z.Spots = slices.Clone(b.Men), slices.Clone(b.Spots)
		for i := range z.Men {
			z.Men[i].At = fr.Places[z.Men[i].Tag]
		}
		for i := range z.Spots {
			z.Spots[i].At = fr.Places[z.Spots[i].Label]
		}
		r := judge.Run(&z)
		if bad := sane(&z, &r); bad != "" {
			t.Fatalf("%s\n%s", bad, shown(&z))
		}
		m := mirrored(b)
		mf, ok := judge.Freeze(&m, pl)
		for who, o := range fr.Places {
			if !ok || mf.Places[who] != field.Left.FlipOffset(o) {
				t.Fatalf("%s is at %v, mirrored at %v\n%s", who, o, mf.Places[who], shown(&b))
			}
		}
	})
}

// FuzzDepth: every man's depth window and pocket come out, whoever he is: a
// window within the bounds of its search, outlines that close on the grid.
func FuzzDepth(f *testing.F) {
	seeds(f)
	bk := book.Builtin()
	f.Fuzz(func(t *testing.T, data []byte) {
		d := dice(data)
		b := d.board(bk)
		if len(b.Spots) == 0 {
			if _, ok := judge.Depth(&b, "C"); ok {
				t.Fatal("the window of nobody")
			}
			return
		}
		who := b.Spots[d.of(len(b.Spots))].Label
		w, ok := judge.Depth(&b, who)
		if !ok {
			t.Fatalf("%s has no answer\n%s", who, shown(&b))
		}
		if x := w.Window; w.OK && !(x.Least >= 4-1e-9 && x.Most <= 20+1e-9 && x.Least <= x.Most) {
			t.Fatalf("%s: window %+v\n%s", who, x, shown(&b))
		}
		if m := w.Least.Margin; math.IsNaN(m) || math.IsInf(m, 0) {
			t.Fatalf("%s: %+v\n%s", who, w.Least, shown(&b))
		}
		if !d.one(8) {
			return // a pocket takes a hundred times as long
		}
		p, ok := judge.Pocket(&b, who)
		if !ok {
			return
		}
		for _, loop := range slices.Concat(p.Keeps, p.Maybe) {
			if len(loop) < 4 {
				t.Fatalf("%s: an outline of %d corners\n%s", who, len(loop), shown(&b))
			}
			for i, o := range loop {
				next := loop[(i+1)%len(loop)]
				if (o.X == next.X) == (o.Y == next.Y) || (next.X-o.X)%leverage.PocketStep != 0 || (next.Y-o.Y)%leverage.PocketStep != 0 {
					t.Fatalf("%s: from %v to %v\n%s", who, o, next, shown(&b))
				}
			}
		}
	})
}

// FuzzScene: a scene that is read is judged, from the text to the words.
func FuzzScene(f *testing.F) {
	bk := book.Builtin()
	for _, name := range []string{"three-on-three.scene.yaml", "apex-over-the-top.scene.yaml"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "scenes", name))
		require.NoError(f, err)
		f.Add(data)
	}
	for _, c := range laneCases(f) {
		f.Add([]byte(c.Scene))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := book.ReadScene("f.scene.yaml", data, bk)
		if err != nil {
			return
		}
		b := judge.FromScene(s, bk)
		r := judge.Run(&b)
		if bad := sane(&b, &r); bad != "" {
			t.Fatal(bad)
		}
		if b.Moment != nil {
			return
		}
		for _, pl := range b.Menu {
			judge.Freeze(&b, pl)
		}
		for _, sp := range b.Spots {
			judge.Depth(&b, sp.Label)
		}
	})
}

// FuzzReplay: any play against any board, with any rule broken, runs to an end or
// is refused; all of its track is on the field and its numbers are numbers.
func FuzzReplay(f *testing.F) {
	seeds(f)
	bk := book.Builtin()
	f.Fuzz(func(t *testing.T, data []byte) {
		d := dice(data)
		b := d.board(bk)
		b.Moment = nil
		pl := bk.Plays[d.of(len(bk.Plays))]
		o := judge.RepOptions{Force: d.of(5) - 1, Seed: uint64(d.of(256)), Spread: d.one(2), Bump: d.one(2), Errors: map[string]rep.Error{}}
		for _, s := range b.Spots {
			if e := d.of(len(rep.Errors) + 6); e < len(rep.Errors) {
				one := judge.RepOptions{Force: -1, Errors: map[string]rep.Error{s.Label: rep.Errors[e]}}
				if _, err := judge.Replay(&b, pl, one); err == nil {
					o.Errors[s.Label] = rep.Errors[e]
				}
			}
		}
		tr, err := judge.Replay(&b, pl, o)
		if err != nil {
			return
		}
		for k, key := range tr.Keys {
			if len(key) != len(tr.Men)+len(tr.Spots) {
				t.Fatalf("key %d holds %d men\n%s", k, len(key), shown(&b))
			}
			for i, at := range key {
				if !b.Ball.Inside(at) {
					t.Fatalf("%s: man %d is off the field at key %d: %v\n%s", pl.ID, i, k, at, shown(&b))
				}
			}
		}
		for _, x := range []float64{tr.End.Gain, tr.End.T} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%s: the end is no number: %+v\n%s", pl.ID, tr.End, shown(&b))
			}
		}
		for i := range tr.Faults {
			if tr.Because(i) == "" || tr.Faults[i].Who == "" {
				t.Fatalf("%s: fault %d says nothing\n%s", pl.ID, i, shown(&b))
			}
		}
	})
}
