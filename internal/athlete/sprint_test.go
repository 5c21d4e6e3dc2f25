package athlete

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// The published simulated athletes: splits of a sprint whose clock starts s past
// the first step's place, t(d+s)-t(s), from M and a0 = M/T, no noise.
// mladenjovanovic/shorts, data-raw/split-times.R (status RC). Metres.
func TestPublishedGenerator(t *testing.T) {
	distances := []float64{5, 10, 15, 20, 30, 40}
	for _, c := range []struct {
		m, a0, s float64
		want     []float64
	}{
		{9, 7, 0.3, []float64{1.158, 1.893, 2.541, 3.149, 4.313, 5.444}},
		{8, 9, 0.5, []float64{1.035, 1.764, 2.432, 3.077, 4.341, 5.595}},
		{10, 9, 0.1, []float64{1.113, 1.772, 2.352, 2.897, 3.941, 4.957}},
	} {
		a := runner(c.m, c.m/c.a0)
		for i, d := range distances {
			assert.InDelta(t, c.want[i], a.TimeFor(d+c.s)-a.TimeFor(c.s), 5e-4, "M %g a0 %g at %g m", c.m, c.a0, d)
		}
	}
}

// Worked numbers of the mono-exponential sprint (Furusawa, Hill & Parkinson 1927
// Proc R Soc B 102:29-42; Samozino et al 2016), M 9 m/s, T 0.77 s, recomputed
// with SciPy's Lambert W (status RC).
func TestWorkedSprint(t *testing.T) {
	a := runner(9, 0.77)
	for i, sec := range []float64{0.5, 1, 1.5, 2} {
		assert.InDelta(t, []float64{1.1901, 3.9611, 7.5579, 11.5861}[i], a.Run(sec), 5e-5, "run %g s", sec)
	}
	for i, yd := range []float64{5, 10, 20, 40} {
		assert.InDelta(t, []float64{1.0914, 1.7015, 2.7812, 4.8326}[i], a.TimeFor(yd/yardsPerMetre), 5e-5, "%g yd", yd)
	}
}

// Combine class of 2016: T 0.768 +/- .068 s in the fast group, 0.773 +/- .070 in
// the slow (Clark, Rieger, Bruno, Stearne 2017 JSCR, status R); top speeds and
// 10-yard times with T 0.77 from the 40-yard times, recomputed (status RC).
func TestCombine2016(t *testing.T) {
	for _, c := range []struct{ forty, top, ten float64 }{
		{4.49, 10.75, 1.605},
		{4.71, 10.15, 1.667},
		{5.00, 9.45, 1.748},
		{5.27, 8.89, 1.823},
	} {
		lo, hi := 5.0, 13.0
		for range 60 {
			if m := (lo + hi) / 2; runner(m, 0.77).TimeFor(40) > c.forty {
				lo = m
			} else {
				hi = m
			}
		}
		assert.InDelta(t, c.top, hi, 5.1e-3, "top speed of %g", c.forty)
		assert.InDelta(t, c.ten, runner(hi, 0.77).TimeFor(10), 5.1e-4, "10 yd of %g", c.forty)
	}
}

// The distance run is the integral of the speed: Gauss-Legendre quadrature of
// gonum v0.17 as the second opinion.
func TestRunIsTheIntegralOfSpeed(t *testing.T) {
	for _, a := range []Athlete{runner(8.6, 1.1), runner(10.75, 0.77), runner(4, 0.3)} {
		for _, end := range []float64{0.1, 0.7, 2, 5} {
			assert.InDelta(t, quad.Fixed(a.Speed, 0, end, 40, nil, 0), a.Run(end), 1e-9, "%v to %g s", a, end)
		}
	}
}

func TestTimeForIsTheInverseOfRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := runner(rapid.Float64Range(1, 13).Draw(t, "top"), rapid.Float64Range(0.05, 3).Draw(t, "tau"))
		d := math.Exp(rapid.Float64Range(-14, 6).Draw(t, "log yards"))
		sec := a.TimeFor(d)
		if math.Abs(a.Run(sec)-d) > 1e-10*(1+d) {
			t.Fatalf("%v runs %g in the %g s that he needs for %g", a, a.Run(sec), sec, d)
		}
		if more := a.TimeFor(d * 1.001); !(more > sec) {
			t.Fatalf("%g s for %g yd, %g for more", sec, d, more)
		}
	})
}

func TestNothingTakesNoTime(t *testing.T) {
	a := runner(9, 0.77)
	for _, v := range []float64{0, -1, math.Inf(-1)} {
		assert.Zero(t, a.TimeFor(v))
		assert.Zero(t, a.Run(v))
		assert.Zero(t, a.Speed(v))
	}
	assert.InDelta(t, a.Top, a.Speed(60), 1e-12)
	assert.Equal(t, math.Inf(1), a.TimeFor(math.Inf(1)))
}

// decay against math.Exp: three units of the last place apart at most, from one end of its table
// to the other and over its edges.
func TestDecayIsTheExponential(t *testing.T) {
	for s := 0.0; s < 720; s += 0.000937 {
		want := math.Exp(-s)
		if got := decay(s); math.Abs(got-want) > 7e-16*want {
			t.Fatalf("decay(%g) = %g, want %g", s, got, want)
		}
	}
	for _, s := range []float64{0, 1e-300, math.Ln2 / 128, math.Nextafter(700, 0), 700, 1e9, math.Inf(1), -1} {
		assert.InEpsilon(t, 1+math.Exp(-s), 1+decay(s), 1e-15, "e^-%g", s)
	}
	assert.True(t, math.IsNaN(decay(math.NaN())))
	assert.Equal(t, 1.0, decay(0))
}

func TestValidate(t *testing.T) {
	good := Athlete{Top: 8.6, Tau: 1.1, React: 0.35, Reach: 0.5}
	assert.NoError(t, good.Validate())
	for want, bad := range map[string]func(*Athlete){
		"athlete: top speed 13.5 yd/s: want 1 to 13 yd/s": func(a *Athlete) { a.Top = 13.5 },
		"athlete: top speed NaN yd/s: want 1 to 13 yd/s":  func(a *Athlete) { a.Top = math.NaN() },
		"athlete: tau 0 s: want 0.05 to 3 s":              func(a *Athlete) { a.Tau = 0 },
		"athlete: tau +Inf s: want 0.05 to 3 s":           func(a *Athlete) { a.Tau = math.Inf(1) },
		"athlete: react -0.1 s: want 0 to 2 s":            func(a *Athlete) { a.React = -0.1 },
		"athlete: reach 36 yd: want 0 to 3 yd":            func(a *Athlete) { a.Reach = 36 },
	} {
		a := good
		bad(&a)
		assert.EqualError(t, a.Validate(), want)
	}
}
