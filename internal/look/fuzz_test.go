package look_test

import (
	"math"
	"testing"

	"halfline/internal/field"
	"halfline/internal/look"
)

// FuzzLook: whatever stands on offense and wherever a man goes before the snap,
// it is counted: nobody twice, the mirror image alike, every motion judged and
// laid out in time, and a motion let through ends in a look that is on the field.
func FuzzLook(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"))
	f.Add([]byte{2, 1, 200, 3, 1, 40, 250, 2, 90, 7, 255, 255, 9, 17, 33, 65, 129, 3, 5, 9, 11, 13, 200, 100, 50, 25})
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() int {
			if len(data) == 0 {
				return 0
			}
			b := int(data[0])
			data = data[1:]
			return b
		}
		b := field.Ball{Rules: field.AllRules[next()%3], Hash: []field.Hash{field.MiddleHash, field.LeftHash, field.RightHash}[next()%3], Yard: 1 + next()%99}
		place := func() field.Offset {
			return b.Clamp(field.Offset{X: field.Inches(next()*10 + next()%10 - 1280), Y: -field.Inches(next() + next()%200)})
		}
		men := []look.Man{{Tag: "SN", Line: true}}
		for _, tag := range []string{"Q", "B", "F", "H", "W", "X", "Y", "Z", "LT", "RT", "77"} {
			if k := next(); k%3 > 0 {
				men = append(men, look.Man{Tag: tag, At: place(), Line: k%3 == 2})
			}
		}
		l := look.New(b, men)
		if k := next(); k > 200 {
			l.Box, l.BoxSide = field.Inches(k), []field.Side{field.Left, field.Right}[k%2]
		}
		counted(t, l)
		m := look.Motion{Who: men[next()%len(men)].Tag, Kind: look.MotionKinds[next()%len(look.MotionKinds)], Speed: float64(next()%120) / 10}
		for range next() % 5 {
			m.Path = append(m.Path, place())
		}
		v := l.MotionViolation(m)
		tl := l.Timeline(m)
		for k := range 5 {
			sec := tl.Start * float64(k) / 4
			if p := tl.Place(sec); !p.Finite() {
				t.Fatalf("%+v: at %v %g s before the snap", m, p, sec)
			}
		}
		if math.IsNaN(tl.Start) || math.IsInf(tl.Start, 0) || tl.Start > 0 {
			t.Fatalf("%+v starts at %g", m, tl.Start)
		}
		after := tl.At(0)
		counted(t, after)
		for _, o := range after.Men {
			if v == "" && !b.Inside(o.At) {
				t.Fatalf("%+v is let through and ends at %v", m, o.At)
			}
		}
	})
}

// counted holds a look to what is true of every look.
func counted(t *testing.T, l look.Look) {
	t.Helper()
	m := l.Mirror()
	seen := map[string]bool{}
	for _, s := range []field.Side{field.Left, field.Right} {
		if facts(l, s) != facts(m, s.Other()) {
			t.Fatalf("%s: %s; mirrored %s", s, facts(l, s), facts(m, s.Other()))
		}
		for _, o := range l.Numbers(s) {
			if seen[o.Tag] || l.Interior(o) {
				t.Fatalf("%s is counted twice, or is a lineman", o.Tag)
			}
			seen[o.Tag] = true
		}
		if l.BoxEdge(s) <= 0 {
			t.Fatalf("the box ends at %d on the %s", l.BoxEdge(s), s)
		}
	}
	for _, o := range l.Backfield(field.Right) {
		if seen[o.Tag] {
			t.Fatalf("%s is a number and in the backfield", o.Tag)
		}
	}
	if a, b := l.Violations(), m.Violations(); len(a) != len(b) {
		t.Fatalf("%q; mirrored %q", a, b)
	}
	if len(l.Notes()) != len(m.Notes()) {
		t.Fatalf("%q; mirrored %q", l.Notes(), m.Notes())
	}
}
