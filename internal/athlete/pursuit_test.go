package athlete

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
)

// chase steps a pursuer from p who always pushes straight at a runner who leaves
// 0 at the constant velocity u, until he is within near of him. watch sees every
// step's time, place of the pursuer and of the runner; caught is false when it
// takes longer than most. The path is what the pursuer ran.
func chase(a Athlete, p, u field.Vec, dt, near, most float64, watch func(t float64, p, q field.Vec)) (sec, path float64, caught bool) {
	var v field.Vec
	for i := 0; ; i++ {
		t := float64(i) * dt
		q := u.Mul(t)
		if watch != nil {
			watch(t, p, q)
		}
		if p.Dist(q) <= near {
			return t, path, true
		}
		if t > most {
			return t, path, false
		}
		// At the runner's place half a step later: the error is then of second order.
		was := p
		p, v = a.Step(p, v, u.Mul(t+dt/2).Sub(p).Unit(), dt)
		path += p.Dist(was)
	}
}

// Pure pursuit of a runner at right angles: T = L v/(v^2-u^2), path as long as v
// runs in it; L 10, v 8, u 6: 2.857143 s, where the straight intercept takes
// 1.889822 s (Bouguer 1732; both forms in the Great Soviet Encyclopedia, "Curve of
// pursuit"; status RC).
func TestPurePursuitAtRightAngles(t *testing.T) {
	const l, v, u = 10.0, 8.0, 6.0
	sec, path, caught := chase(instant(v), at(l, 0), at(0, u), 1e-4, 1e-3, 10, nil)
	require.True(t, caught)
	assert.InDelta(t, l*v/(v*v-u*u), sec, 1e-3)
	assert.InDelta(t, 2.857143, sec, 1e-3)
	assert.InDelta(t, l*v*v/(v*v-u*u), path, 1e-2)

	straight, ok := intercept(instant(v), at(l, 0), field.Vec{}, at(0, u), 60)
	require.True(t, ok)
	assert.InDelta(t, 1.889822, straight, 1e-6)
	assert.InDelta(t, 1.51, sec/straight, 5e-3, "chasing the hip takes 51 % longer than taking the angle")

	// The gap by an adaptive integration of the curve (npm odex 2.0.4): 0.114286 at
	// 2.8 s (status RC).
	chase(instant(v), at(l, 0), at(0, u), 1e-4, 1e-3, 2.81, func(sec float64, p, q field.Vec) {
		if math.Abs(sec-2.8) < 5e-5 {
			assert.InDelta(t, 0.114286, p.Dist(q), 1e-3)
		}
	})
}

// Pure pursuit at any angle a between the runner's course and the line of sight
// from pursuer to runner: T = r0 (v + u cos a)/(v^2-u^2), for r0 10, v 8, u 6 and
// a 0, 60, 90, 120, 180 degrees 5.0, 3.928571, 2.857143, 1.785714, 0.714286 s; and
// all along the way r (v + u cos a) falls by v^2-u^2 a second (standard; status RC).
func TestPurePursuitAtAnyAngle(t *testing.T) {
	const r0, v, u = 10.0, 8.0, 6.0
	for _, c := range []struct{ deg, want float64 }{{0, 5}, {60, 3.928571}, {90, 2.857143}, {120, 1.785714}, {180, 0.714286}} {
		course := turned(at(u, 0), c.deg*math.Pi/180)
		worst := 0.0
		sec, _, caught := chase(instant(v), at(-r0, 0), course, 1e-4, 1e-3, 10, func(sec float64, p, q field.Vec) {
			sight := q.Sub(p)
			if r := sight.Norm(); r > 0.1 {
				cos := sight.Dot(course) / (r * u)
				left := r0*(v+u*math.Cos(c.deg*math.Pi/180)) - (v*v-u*u)*sec
				worst = max(worst, math.Abs(r*(v+u*cos)-left))
			}
		})
		require.True(t, caught, "%g degrees", c.deg)
		assert.InDelta(t, c.want, sec, 1e-3, "%g degrees", c.deg)
		assert.Less(t, worst, 1e-2, "%g degrees: the curve on the way", c.deg)
	}
}

// At the runner's own speed and from the side the pursuer never catches him: the
// gap tends to half of the first (Bouguer 1732; Boole; status RC: 10 yd tends to
// 5.000000).
func TestPurePursuitAtEqualSpeedNeverCatches(t *testing.T) {
	gap := 0.0
	_, _, caught := chase(instant(8), at(10, 0), at(0, 8), 1e-3, 1e-3, 30, func(_ float64, p, q field.Vec) { gap = p.Dist(q) })
	assert.False(t, caught)
	assert.InDelta(t, 5, gap, 5e-3)
}

// A man of flesh, who must get going first, takes longer than the pursuer of the
// books, and chasing takes him longer than taking the angle.
func TestPursuitOfAManWhoMustStart(t *testing.T) {
	a := runner(8, 0.77)
	sec, _, caught := chase(a, at(10, 0), at(0, 6), 1e-3, 0.05, 20, nil)
	require.True(t, caught)
	assert.Greater(t, sec, 2.857143)
	straight, ok := intercept(a, at(10, 0), field.Vec{}, at(0, 6), 60)
	require.True(t, ok)
	assert.Greater(t, straight, 1.889822)
	assert.Greater(t, sec, straight)
}

// Two pursuers of the runner's speed at (+-a, b) pinch a runner straight up the
// middle at y = (a^2+b^2)/(2b); the depth that squeezes soonest is b = a, at y = a
// (perpendicular bisectors, formula RC; "two cutters" of Isaacs 1965 from memory).
func TestTwoPursuersPinchTheMiddle(t *testing.T) {
	const u = 8.0
	pinch := func(a, b float64) float64 {
		left, okL := intercept(instant(u), at(-a, b), field.Vec{}, at(0, u), 60)
		right, okR := intercept(instant(u), at(a, b), field.Vec{}, at(0, u), 60)
		require.True(t, okL && okR)
		assert.Equal(t, left, right, "both at once")
		return u * left
	}
	for _, c := range []struct{ a, b, y float64 }{{5, 5, 5}, {5, 10, 6.25}, {10, 5, 12.5}} {
		assert.InDelta(t, c.y, pinch(c.a, c.b), 1e-5, "%+v", c)
	}
	for b := 1.0; b <= 16; b += 0.5 {
		y := pinch(5, b)
		assert.InDelta(t, (25+b*b)/(2*b), y, 1e-4)
		assert.GreaterOrEqual(t, y, 5-1e-6, "no depth squeezes sooner than half of the width")
	}
}

// Two faster pursuers: the runner is safe within the overlap of two circles of
// Apollonius, and no course takes him higher than its corner, straight up (Isaacs
// 1965; Garcia et al 2017 and later; status M: who wins, not a figure).
func TestNoCourseBeatsTheCorner(t *testing.T) {
	const u, v, a, b = 6.0, 8.0, 5.0, 6.0
	// The corner: a^2 + (y-b)^2 = (y v/u)^2.
	k := v*v/(u*u) - 1
	corner := (-b + math.Sqrt(b*b+k*(a*a+b*b))) / k
	top, best := 0.0, 0
	for deg := -80; deg <= 80; deg++ {
		course := turned(at(0, u), float64(deg)*math.Pi/180)
		left, okL := intercept(instant(v), at(-a, b), field.Vec{}, course, 60)
		right, okR := intercept(instant(v), at(a, b), field.Vec{}, course, 60)
		require.True(t, okL && okR)
		if y := course.Y * min(left, right); y > top {
			top, best = y, deg
		}
	}
	assert.Zero(t, best, "straight up the middle")
	assert.InDelta(t, corner, top, 1e-5)
}
