package athlete

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
)

// Disk radii and shifts of the drag model of Fujimura & Sugihara 2005 (status RC
// for the forms; the constants V 7.8 m/s, a 1.3 1/s are from memory, M; that
// real players reach a circle: Narizuka, Takizawa & Yamazaki 2023 Sci Rep 13:865,
// status R).
func TestPublishedDisks(t *testing.T) {
	a := runner(7.8, 1/1.3)
	for i, sec := range []float64{0.5, 1, 2} {
		c, r := a.Disk(at(3, -2), at(4, 0), sec)
		assert.InDelta(t, []float64{1.0323, 3.4352, 10.0456}[i], r, 5e-5, "radius at %g s", sec)
		assert.InDelta(t, 3+[]float64{1.4706, 2.2384, 2.8484}[i], c.X, 5e-5, "shift at %g s", sec)
		assert.Equal(t, -2.0, c.Y)
		assert.InDelta(t, a.Run(sec), r, 1e-12, "the radius is the distance run from rest")
	}
	c, r := a.Disk(at(3, -2), at(4, 0), -1)
	assert.Equal(t, at(3, -2), c)
	assert.Zero(t, r)
}

// drawn is a rapid athlete on the move.
func drawn(t *rapid.T) (a Athlete, p, v field.Vec) {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	a = runner(f("top", 3, 12), f("tau", 0.2, 1.6))
	v = turned(at(a.Top*f("share", 0, 1), 0), f("heading", 0, 2*math.Pi))
	return a, at(f("x", -25, 25), f("y", -10, 30)), v
}

// Many small steps are one big step: the step is exact, not an approximation.
func TestStepsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, p, v := drawn(t)
		u := turned(at(rapid.Float64Range(0, 1.5).Draw(t, "push"), 0), rapid.Float64Range(0, 7).Draw(t, "way"))
		n := rapid.IntRange(2, 400).Draw(t, "steps")
		dt := rapid.Float64Range(0.01, 5).Draw(t, "seconds")
		bp, bv := a.Step(p, v, u, dt)
		for range n {
			p, v = a.Step(p, v, u, dt/float64(n))
		}
		if p.Dist(bp) > 1e-9 || v.Dist(bv) > 1e-9 {
			t.Fatalf("%d small steps end at %v %v, one big at %v %v", n, p, v, bp, bv)
		}
	})
}

// Whatever he does in steps of 1/60 s, he stays in his disk and below his top
// speed, and a push cut to 1 is what a longer one is worth.
func TestStepsStayInReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, p0, v0 := drawn(t)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		p, v := p0, v0
		for i := range 120 {
			u := turned(at(r.Float64()*1.2, 0), 2*math.Pi*r.Float64())
			if i < 60 {
				u = turned(at(5, 0), 1) // all out one way at first, to get to the edge
			}
			p, v = a.Step(p, v, u, 1./60)
			if v.Norm() > a.Top*(1+1e-12) {
				t.Fatalf("%v runs %g after %d steps", a, v.Norm(), i+1)
			}
			c, far := a.Disk(p0, v0, float64(i+1)/60)
			if p.Dist(c) > far+1e-9 {
				t.Fatalf("%v is %g yd outside his disk after %d steps", a, p.Dist(c)-far, i+1)
			}
		}
	})
}

func TestStepAllOutIsRun(t *testing.T) {
	a := runner(8.6, 1.1)
	for _, sec := range []float64{0.01, 0.3, 1, 4} {
		p, v := a.Step(at(1, 2), field.Vec{}, at(0, 1), sec)
		assert.InDelta(t, a.Run(sec), p.Y-2, 1e-12)
		assert.InDelta(t, a.Speed(sec), v.Y, 1e-12)
		assert.Equal(t, 1.0, p.X)
		assert.Zero(t, v.X)
	}
	p, v := a.Step(at(1, 2), at(3, 4), at(1, 0), 0)
	assert.Equal(t, at(1, 2), p)
	assert.Equal(t, at(3, 4), v)
}

// The edge of the disk is reached by one constant push, in any direction.
func TestDiskEdgeIsReached(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, p, v := drawn(t)
		sec := rapid.Float64Range(0.05, 4).Draw(t, "seconds")
		u := turned(at(1, 0), rapid.Float64Range(0, 7).Draw(t, "way"))
		c, r := a.Disk(p, v, sec)
		end, _ := a.Step(p, v, u, sec)
		if end.Dist(c.Add(u.Mul(r))) > 1e-9 {
			t.Fatalf("pushed along %v he ends at %v, not at the edge %v", u, end, c.Add(u.Mul(r)))
		}
	})
}
