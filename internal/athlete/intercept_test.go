package athlete

import (
	"math"
	"math/rand/v2"
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

// Standing men of equal speed divide the field into Voronoi cells, each the
// places nearest to its man (Taki & Hasegawa 1996/2000, cited in Brefeld et al
// 2019; Efthimiou 2021; status R).
func TestStandingDominanceIsVoronoi(t *testing.T) {
	three := []field.Vec{at(0, 0), at(4, 0), at(0, 4)}
	assert.Equal(t, 0, first(runner(7.8, 0.77), three, make([]field.Vec, 3), at(1, 1)), "the worked point")

	r := rand.New(rand.NewPCG(3, 0))
	place := func() field.Vec { return at(53.3333*r.Float64(), 60*r.Float64()) }
	checked := 0
	for range 40 {
		men := make([]field.Vec, 11)
		for i := range men {
			men[i] = place()
		}
		a := twinAthletes[r.IntN(len(twinAthletes))]
		for range 100 {
			q := place()
			nearest, second := -1, math.Inf(1)
			best := math.Inf(1)
			for i, m := range men {
				if d := m.Dist(q); d < best {
					nearest, best, second = i, d, best
				} else if d < second {
					second = d
				}
			}
			if second-best < 1e-6 {
				continue // on the border
			}
			checked++
			if got := first(a, men, make([]field.Vec, len(men)), q); got != nearest {
				t.Fatalf("%v of %v: man %d is first, man %d nearest", q, men, got, nearest)
			}
		}
	}
	assert.Greater(t, checked, 3900)
}

// With momentum the nearest man is not always the first: otherwise the Voronoi
// test would hold of any rule that ignores velocity (same sources, status R).
func TestMomentumMovesDominance(t *testing.T) {
	men, still := []field.Vec{at(-1, 0), at(1.2, 0)}, make([]field.Vec, 2)
	a := runner(7.8, 0.77)
	assert.Equal(t, 0, first(a, men, still, at(0, 0)))
	assert.Equal(t, 1, first(a, men, []field.Vec{at(-6, 0), {}}, at(0, 0)))
}

// first is who is at q first.
func first(a Athlete, men, vel []field.Vec, q field.Vec) (who int) {
	best := math.Inf(1)
	for i, p := range men {
		if t := a.TimeTo(p, vel[i], q, 0.25, 0.5); t < best {
			who, best = i, t
		}
	}
	return who
}
