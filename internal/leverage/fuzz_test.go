package leverage_test

import (
	"math"
	"testing"

	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/leverage"
)

// FuzzHatMargin: between any two men the hat race has an answer, the inside hat
// is the mirror image of the outside hat, no man is asked to be farther out than
// he must, and who starts to act later has as much less to spare.
func FuzzHatMargin(f *testing.F) {
	f.Add(6.0, 5.0, 9.0, -1.0, 8.6, 1.1, 8.6, 1.1, 0.35, 0.15, 0.0)   // reached
	f.Add(8.0, 5.0, 9.0, -1.0, 8.6, 0.77, 8.6, 0.77, 0.35, 0.15, 0.1) // two yards wider
	f.Add(10.0, 5.0, 9.0, -1.0, 8.6, 0.77, 8.6, 0.77, 0.35, 0.15, 0.3)
	f.Add(9.0, 5.0, 9.0, 5.0, 1.0, 3.0, 13.0, 0.05, 2.0, 0.0, 0.0) // the same place
	f.Add(-20.0, 20.0, 30.0, -10.0, 13.0, 0.05, 1.0, 3.0, 0.0, 2.0, 1.0)
	f.Fuzz(func(t *testing.T, dx, dy, bx, by, topD, tauD, topB, tauB, react, start, set float64) {
		da, ba := athlete.Athlete{Top: topD, Tau: tauD}, athlete.Athlete{Top: topB, Tau: tauB, React: start}
		if da.Validate() != nil || ba.Validate() != nil {
			return
		}
		for _, v := range []float64{dx, dy, bx, by} {
			if !(math.Abs(v) < 200) {
				return
			}
		}
		if !(react >= 0 && react < 5 && set >= 0 && set < 5) {
			return
		}
		d, b := field.Vec{X: dx, Y: dy}, field.Vec{X: bx, Y: by}
		r := leverage.HatMargin(d, b, da, ba, true, react, set)
		if !r.At.Finite() || math.Abs(r.Margin) > 1e4 || math.IsNaN(r.Margin) || r.Mine < react || r.His < start+set || math.Abs(r.His-r.Mine-r.Margin) > 1e-9 {
			t.Fatalf("%+v", r)
		}
		if want := math.Max(dx, bx+0.5); r.At.X != want {
			t.Fatalf("he holds %v, the outer of %g and half a man past %g", r.At, dx, bx)
		}
		if lo, hi := math.Min(dy, by), math.Max(dy, by); r.At.Y < lo-1e-9 || r.At.Y > hi+1e-9 {
			t.Fatalf("he holds %v, between %g and %g", r.At, lo, hi)
		}
		m := leverage.HatMargin(field.Left.Flip(d), field.Left.Flip(b), da, ba, false, react, set)
		if m.Margin != r.Margin || m.At != field.Left.Flip(r.At) {
			t.Fatalf("outside %+v, inside mirrored %+v", r, m)
		}
		later := leverage.HatMargin(d, b, da, ba, true, react+0.1, set)
		if math.Abs(r.Margin-later.Margin-0.1) > 1e-9 {
			t.Fatalf("%g, and %g a tenth later", r.Margin, later.Margin)
		}
	})
}
