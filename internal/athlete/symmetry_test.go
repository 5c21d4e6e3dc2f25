package athlete

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"halfline/internal/field"
)

// drawnScene draws corner cases (0, whole numbers) as gladly as others.
func drawnScene(t *rapid.T) scene {
	a, p, v := drawn(t)
	return scene{a: a, p: p, v: v,
		q:     at(rapid.Float64Range(-30, 30).Draw(t, "qx"), rapid.Float64Range(-30, 30).Draw(t, "qy")),
		delay: rapid.Float64Range(0, 1).Draw(t, "delay"),
		reach: rapid.Float64Range(0, 2).Draw(t, "reach"),
	}
}

func (s scene) moved(f func(field.Vec) field.Vec, by field.Vec) scene {
	s.p, s.v, s.q = f(s.p).Add(by), f(s.v), f(s.q).Add(by)
	return s
}

// sameTime holds that a and b, the same scene seen two ways, have one answer. If
// a man only grazes the place, rounding decides whether he is there now or comes
// back to it: then the earlier answer must be in reach of the other by a hair.
func sameTime(t interface{ Fatalf(string, ...any) }, a, b scene) {
	ta, tb := a.timeTo(), b.timeTo()
	if ta > tb {
		a, b, ta, tb = b, a, tb, ta
	}
	if tb-ta <= 1e-7 {
		return
	}
	if b.gap(ta) > 1e-7 || b.wider(1e-6).timeTo() > ta+1e-3 {
		t.Fatalf("%.12g s for %+v\n%.12g s for %+v", ta, a, tb, b)
	}
}

// sameHowSeen holds a scene to its laws: in the mirror it takes the same time to
// the last bit, turned and shifted the same time.
func sameHowSeen(t *testing.T, s scene, r *rand.Rand) {
	t.Helper()
	if m := s.moved(field.Left.Flip, field.Vec{}); m.timeTo() != s.timeTo() {
		t.Fatalf("%+v: %g s, in the mirror %g", s, s.timeTo(), m.timeTo())
	}
	angle, by := 2*math.Pi*r.Float64(), at(100*r.Float64()-50, 100*r.Float64()-50)
	sameTime(t, s, s.moved(func(v field.Vec) field.Vec { return v }, by))
	sameTime(t, s, s.moved(func(v field.Vec) field.Vec { return turned(v, angle) }, by))
}

func TestMirroredIsTheSameToTheLastBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawnScene(t)
		for _, side := range []field.Side{field.Left, field.Right} {
			m := s.moved(side.Flip, field.Vec{})
			if m.timeTo() != s.timeTo() {
				t.Fatalf("%g s mirrored, %g s not", m.timeTo(), s.timeTo())
			}
			at := rapid.Float64Range(0, 6).Draw(t, "t")
			if m.by(at) != s.by(at) {
				t.Fatalf("By at %g differs in the mirror", at)
			}
			p, v := s.a.Step(s.p, s.v, s.q.Unit(), at)
			mp, mv := m.a.Step(m.p, m.v, m.q.Unit(), at)
			if side.Flip(p) != mp || side.Flip(v) != mv {
				t.Fatal("a step differs in the mirror")
			}
		}
	})
}

func TestTurnedAndShiftedIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawnScene(t)
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		by := at(rapid.Float64Range(-50, 50).Draw(t, "dx"), rapid.Float64Range(-50, 50).Draw(t, "dy"))
		sameTime(t, s, s.moved(func(v field.Vec) field.Vec { return turned(v, angle) }, by))
	})
}

// Units do not matter: a field of half the size run at half the speed takes as
// long, and everything twice as quick takes half as long.
func TestScaleIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawnScene(t)
		half := s.moved(func(v field.Vec) field.Vec { return v.Mul(0.5) }, field.Vec{})
		half.a.Top, half.reach = s.a.Top/2, s.reach/2
		sameTime(t, s, half)

		quick := s
		quick.a.Top, quick.a.Tau, quick.delay, quick.v = s.a.Top*2, s.a.Tau/2, s.delay/2, s.v.Mul(2)
		ts, tq := s.timeTo(), quick.timeTo()
		if math.Abs(ts-2*tq) > 1e-7 && s.gap(2*tq) > 1e-6 && s.gap(ts) > 1e-6 {
			t.Fatalf("%g s, and %g s at twice the pace", ts, tq)
		}
	})
}

// More reach, or a faster man of the same quickness, is never later; no man is
// there before the straight line allows.
func TestBetterIsNeverLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawnScene(t)
		sec := s.timeTo()
		if sec < s.straight()-1e-7 {
			t.Fatalf("%g s, the straight line takes %g", sec, s.straight())
		}
		if more := s.wider(rapid.Float64Range(1e-6, 1).Draw(t, "more reach")).timeTo(); more > sec+1e-7 {
			t.Fatalf("%g s with more reach, %g s without", more, sec)
		}
		fast := s
		fast.a.Top += rapid.Float64Range(1e-3, 3).Draw(t, "more speed")
		if more := fast.timeTo(); more > sec+1e-7 {
			t.Fatalf("%g s with more speed, %g s without", more, sec)
		}
	})
}
