package athlete

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
)

// instant gets to his top speed at once: the constant-speed pursuer of the
// textbooks.
func instant(top float64) Athlete { return runner(top, 1e-9) }

// Straight intercepts, smallest positive root of (u.u-v^2)t^2 + 2(d.u)t + d.d = 0,
// with the two Pythagorean triples (elementary; cases without a root after
// bluewalrus.org/interception; status RC).
func TestStraightIntercepts(t *testing.T) {
	for _, c := range []struct {
		d, u  field.Vec
		v     float64
		want  float64
		never bool
	}{
		{d: at(8, 0), u: at(0, 3), v: 5, want: 2},
		{d: at(12, 0), u: at(0, 5), v: 13, want: 1},
		{d: at(8, 0), u: at(1, 5), v: 5, never: true},
		{d: at(8, 0), u: at(6, 0), v: 6, never: true},
	} {
		got, ok := intercept(instant(c.v), field.Vec{}, c.d, c.u, 60)
		require.Equal(t, !c.never, ok, "%+v", c)
		assert.InDelta(t, c.want, got, 1e-6, "%+v", c)
	}
}

// At equal speeds the cutoff comes at r/(2u cos th), th between the runner's
// course and his line to the defender; from 90 degrees on there is none (algebra
// of the row above; r 10, u 8, th 60 degrees: 1.25 s; status RC).
func TestEqualSpeedCutoff(t *testing.T) {
	const r, u = 10.0, 8.0
	for _, deg := range []float64{0, 20, 45, 60, 80} {
		th := deg * math.Pi / 180
		got, ok := intercept(instant(u), turned(at(r, 0), th), field.Vec{}, at(u, 0), 60)
		require.True(t, ok, "%g degrees", deg)
		assert.InDelta(t, r/(2*u*math.Cos(th)), got, 1e-5, "%g degrees", deg)
	}
	sixty, _ := intercept(instant(u), turned(at(r, 0), math.Pi/3), field.Vec{}, at(u, 0), 60)
	assert.InDelta(t, 1.25, sixty, 1e-6)
	for _, deg := range []float64{90, 91, 120, 180} {
		_, ok := intercept(instant(u), turned(at(r, 0), deg*math.Pi/180), field.Vec{}, at(u, 0), 60)
		assert.False(t, ok, "%g degrees: he is behind the runner's shoulder", deg)
	}
}

// Every intercept of a runner at 0 (6 yd/s) by a pursuer at L = 10 (8 yd/s) lies
// on the circle of Apollonius, centre -k^2 L/(1-k^2) = -12.857143, radius
// kL/(1-k^2) = 17.142857 with k = 6/8 (takayaiwamoto.com, Apollonius; Isaacs
// 1965; status RC).
func TestApolloniusCircle(t *testing.T) {
	const l, u, v = 10.0, 6.0, 8.0
	centre, radius := at(-12.857143, 0), 17.142857
	for deg := 0; deg < 360; deg += 5 {
		course := turned(at(u, 0), float64(deg)*math.Pi/180)
		sec, ok := intercept(instant(v), at(l, 0), field.Vec{}, course, 60)
		require.True(t, ok, "%d degrees", deg)
		assert.InDelta(t, radius, course.Mul(sec).Dist(centre), 2e-6, "%d degrees", deg)
	}
	// Nearest and farthest meeting points divide the line k:1.
	near, _ := intercept(instant(v), at(l, 0), field.Vec{}, at(u, 0), 60)
	far, _ := intercept(instant(v), at(l, 0), field.Vec{}, at(-u, 0), 60)
	assert.InDelta(t, l/(u+v), near, 1e-6)
	assert.InDelta(t, l/(v-u), far, 1e-6)
}
