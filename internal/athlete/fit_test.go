package athlete

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"
)

// pairs makes splits from distance, time, distance, time...
func pairs(x ...float64) (s []Split) {
	for i := 0; i < len(x); i += 2 {
		s = append(s, Split{At: x[i], T: x[i+1]})
	}
	return s
}

// later adds sec to every time.
func later(s []Split, sec float64) []Split {
	out := append([]Split(nil), s...)
	for i := range out {
		out[i].T += sec
	}
	return out
}

// kimberley is the published simulated athlete of the README of
// mladenjovanovic/shorts, metres (status RC).
var kimberley = pairs(5, 1.158, 10, 1.893, 15, 2.541, 20, 3.149, 30, 4.313, 40, 5.444)

// Case A: README of mladenjovanovic/shorts (status RC).
func TestCaseA(t *testing.T) {
	f, err := FitSplits(kimberley)
	require.NoError(t, err)
	assert.InDelta(t, 8.5911, f.Top, 5e-5)
	assert.InDelta(t, 0.8113, f.Tau, 5e-5)
	assert.InDelta(t, 10.59, f.A0, 5e-3)
	assert.InDelta(t, 22.74, f.Top*f.A0/4, 5e-3) // Pmax per kg
	assert.InDelta(t, 0.034, f.RSE, 5e-4)
	assert.InDeltaSlice(t, []float64{-0.053, -0.004, 0.020, 0.027, 0.014, -0.022}, f.Residuals, 5.1e-4)
}

// Case B: the same with 0.3 s added to each (README of shorts, status RC).
func TestCaseB(t *testing.T) {
	f, err := FitSplits(later(kimberley, 0.3))
	require.NoError(t, err)
	assert.InDelta(t, 9.1278, f.Top, 5e-5)
	assert.InDelta(t, 1.3776, f.Tau, 5e-5)
	assert.InDelta(t, 6.6, f.A0, 0.05)
}

// Case C: the time correction estimated (README of shorts M 8.97, T 1.23, TC
// 0.23; recomputed 8.9748 1.2349 0.2347, status RC).
func TestCaseC(t *testing.T) {
	f, tc, err := FitSplitsCorrected(kimberley)
	require.NoError(t, err)
	assert.InDelta(t, 8.9748, f.Top, 1e-4)
	assert.InDelta(t, 1.2349, f.Tau, 1e-4)
	assert.InDelta(t, 0.2347, tc, 1e-4)

	// A clock that starts 0.3 s earlier moves the correction by just that.
	g, tc3, err := FitSplitsCorrected(later(kimberley, 0.3))
	require.NoError(t, err)
	assert.InDelta(t, tc-0.3, tc3, 1e-6)
	assert.InDelta(t, f.Top, g.Top, 1e-6)
}

// Case D: the flying distance estimated (README of shorts M 9.0, T 1.3, FD 0.3;
// recomputed 9.0027 1.2877 0.3016, status RC; the generator's truth is 9, 9/7,
// 0.3).
func TestCaseD(t *testing.T) {
	f, fd, err := FitSplitsWithDistance(kimberley)
	require.NoError(t, err)
	assert.InDelta(t, 9.0027, f.Top, 1e-4)
	assert.InDelta(t, 1.2877, f.Tau, 1e-4)
	assert.InDelta(t, 0.3016, fd, 1e-4)
	assert.InDelta(t, 9.0, f.Top, 0.01)
	assert.InDelta(t, 9.0/7, f.Tau, 0.01)
	assert.InDelta(t, 0.3, fd, 0.01)
}

// Case F: the older example of the manual of shorts 1.1.4 (zenodo 4296844,
// status RC). Metres.
func TestCaseF(t *testing.T) {
	f, err := FitSplits(pairs(5, 1.21, 10, 1.99, 20, 3.38, 30, 4.71, 35, 5.30))
	require.NoError(t, err)
	assert.InDelta(t, 7.553185, f.Top, 1e-5)
	assert.InDelta(t, 0.706663, f.Tau, 1e-5)
	assert.InDelta(t, 10.68852, f.A0, 1e-4)
	assert.InDelta(t, 20.1831, f.Top*f.A0/4, 1e-3)
}

// Case I: 20 m splits of the 100 m world record of 2009, reaction 0.146 s taken
// off (2.89, peak 12.35 m/s: Reuters 23 Aug 2009; 6.31: speedendurance.com;
// 0.146: adriansprints; 4.64 M; the fit RC).
func TestCaseI(t *testing.T) {
	const react = 0.146
	f, err := FitSplits(later(pairs(20, 2.89, 40, 4.64, 60, 6.31), -react))
	require.NoError(t, err)
	assert.InDelta(t, 12.134, f.Top, 5e-4)
	assert.InDelta(t, 1.228, f.Tau, 5e-4)
	for i, want := range []float64{2.891, 4.639, 6.311} {
		assert.InDelta(t, want, runner(f.Top, f.Tau).TimeFor(float64(20*i+20))+react, 6e-4)
	}
	assert.InDelta(t, 6.31, runner(f.Top, f.Tau).TimeFor(60)+react, 0.003)
	assert.InDelta(t, 12.35, f.Top, 0.25) // the measured peak
}

// bolt2008 is the 2008 record's 10 m splits less 0.165 s of reaction
// (pixelbeat.org R, reaction M, the fit RC).
func bolt2008() (s []Split) {
	sum := -0.165
	for i, d := range []float64{1.85, 1.02, 0.91, 0.87, 0.85, 0.82, 0.82, 0.83, 0.84, 0.88} {
		sum += d
		s = append(s, Split{At: float64(10*i + 10), T: sum})
	}
	return s
}

// Case J, and the model's limit: it cannot show the slowing of the last 40 m.
func TestCaseJ(t *testing.T) {
	all := bolt2008()
	assert.InDelta(t, 9.69, all[9].T+0.165, 1e-9)
	f, err := FitSplits(all[:6])
	require.NoError(t, err)
	assert.InDelta(t, 11.83, f.Top, 5e-3)
	assert.InDelta(t, 1.11, f.Tau, 5e-3)
	for _, r := range f.Residuals {
		assert.LessOrEqual(t, math.Abs(r), 0.033)
	}
	whole, err := FitSplits(all)
	require.NoError(t, err, "7 % slower at the end is still a sprint")
	assert.Negative(t, whole.Residuals[0])
	assert.Positive(t, whole.Residuals[9], "timed later than any sprint that never slows")
}

// Three splits are enough: the documented example of `halfline athlete`. The
// numbers are of the same size as a public combine's (tau 0.77 +/- 0.07, Clark
// 2017, status R).
func TestThreeSplits(t *testing.T) {
	f, err := FitSplits(pairs(10, 1.75, 20, 2.95, 40, 5.10))
	require.NoError(t, err)
	assert.InDelta(t, 0.77, f.Tau, 0.07)
	assert.InDelta(t, 9.2, f.Top, 0.1)
	assert.Less(t, f.RSE, 0.05)
	assert.NoError(t, Athlete{Top: f.Top, Tau: f.Tau}.Validate())
}

// gonum's Nelder-Mead (v0.17), which needs no derivatives and shares no code,
// finds no smaller sum of squares and the same numbers.
func TestFitAgainstNelderMead(t *testing.T) {
	cases := [][]Split{
		kimberley, later(kimberley, 0.3), bolt2008(),
		pairs(5, 1.21, 10, 1.99, 20, 3.38, 30, 4.71, 35, 5.30),
		pairs(10, 1.75, 20, 2.95, 40, 5.10),
		pairs(10, 1.6, 40, 4.5, 60, 6.3),
	}
	for _, splits := range cases {
		sse := func(x []float64) (sum float64) {
			a := runner(math.Exp(x[0]), math.Exp(x[1]))
			for _, s := range splits {
				sum += math.Pow(a.TimeFor(s.At)-s.T, 2)
			}
			return sum
		}
		// A tight simplex restarted once: the default stops at a flat step.
		start := []float64{math.Log(8), 0}
		var min *optimize.Result
		for range 3 {
			var err error
			min, err = optimize.Minimize(optimize.Problem{Func: sse}, start, &optimize.Settings{
				Converger: &optimize.FunctionConverge{Absolute: 1e-18, Iterations: 300},
			}, &optimize.NelderMead{SimplexSize: 0.1})
			require.NoError(t, err)
			start = min.X
		}
		f, err := FitSplits(splits)
		require.NoError(t, err)
		assert.InDelta(t, math.Exp(min.X[0]), f.Top, 1e-5, "%v", splits)
		assert.InDelta(t, math.Exp(min.X[1]), f.Tau, 1e-5, "%v", splits)
		mine := f.RSE * f.RSE * float64(len(splits)-2)
		assert.LessOrEqual(t, mine, min.F+1e-12, "%v", splits)
	}
}

// Whoever runs by the law is found again from his own times.
func TestFitFindsTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := runner(rapid.Float64Range(5, 12.5).Draw(t, "top"), rapid.Float64Range(0.45, 1.5).Draw(t, "tau"))
		n := rapid.IntRange(3, 8).Draw(t, "splits")
		var s []Split
		for i := range n {
			d := 5 + 35*float64(i)/float64(n-1)
			s = append(s, Split{At: d, T: a.TimeFor(d)})
		}
		f, err := FitSplits(s)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.Top-a.Top) > 1e-6 || math.Abs(f.Tau-a.Tau) > 1e-6 || f.RSE > 1e-8 {
			t.Fatalf("%v comes back as %+v", a, f)
		}
	})
}

func TestRefusedSplits(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		splits []Split
		want   string
	}{
		{nil, "0 given: want at least 3, such as"},
		{pairs(10, 1.75, 40, 5.1), "2 given: want at least 3"},
		{pairs(10, nan, 20, 2.95, 40, 5.1), "number 1 is 10=NaN: want a distance and seconds"},
		{pairs(10, 1.75, inf, 2.95, 40, 5.1), "number 2 is +Inf=2.95"},
		{pairs(-10, 1.75, 20, 2.95, 40, 5.1), "number 1 is -10=1.75: want both above 0"},
		{pairs(10, 1.75, 20, -2.95, 40, 5.1), "number 2 is 20=-2.95: want both above 0"},
		{pairs(0, 0, 20, 2.95, 40, 5.1), "want both above 0, measured from the start"},
		{pairs(10, 1.75, 10, 2.95, 40, 5.1), "10 comes after 10: give them nearest first"},
		{pairs(20, 2.95, 10, 1.75, 40, 5.1), "10 comes after 20: give them nearest first"},
		{pairs(10, 1.75, 20, 1.2, 40, 2.15), "20=1.2 comes no later than 10=1.75: want times from the start, not of each stretch"},
		{pairs(10, 1.75, 20, 2.95, 40, 4.1), "17.4 a second from 20 to 40: nobody runs more than 14"},
		{pairs(10, 12, 20, 24, 40, 48), "0.833 a second from 0 to 10 is slower than a walk"},
		{pairs(10, 2, 20, 3, 40, 5.8), "he slows from 10 to 7.14 a second between 20 and 40"},
		{pairs(10, 1.2, 20, 2.4, 40, 4.8), "at full speed from the first yard on: time him from a standing start"},
		{pairs(10, 2.5, 20, 3.55, 30, 4.35, 40, 5.1), "still gains speed at 40, so his top speed cannot be told: add a longer split"},
		{pairs(10, 1.2, 20, 2.2, 40, 4.2), "a first step of 49.9 a second per second, nobody starts so"},
		{pairs(5, 1.5, 10, 2.3, 20, 3.1, 40, 5.1), "off any sprint by 0.17 s at 20=3.1: time that one again"},
	} {
		f, err := FitSplits(c.splits)
		require.Error(t, err, "%v gave %+v", c.splits, f)
		assert.ErrorContains(t, err, "splits: ")
		assert.ErrorContains(t, err, c.want)
		assert.Zero(t, f)
	}
	_, _, err := FitSplitsCorrected(pairs(10, 1.75, 20, 2.95, 40, 5.1))
	assert.ErrorContains(t, err, "3 given: want at least 4")
	_, _, err = FitSplitsWithDistance(pairs(10, 1.75, 20, 2.95, 40, 5.1))
	assert.ErrorContains(t, err, "3 given: want at least 4")
	_, _, err = FitSplitsCorrected(later(kimberley, 1.5))
	assert.ErrorContains(t, err, "no correction within 1 s")
	_, _, err = FitSplitsWithDistance(later(kimberley, -0.5))
	assert.ErrorContains(t, err, "no start within 5 behind the line")
}

// The fit hands out what it was given: it may not sort or round the caller's
// slice.
func TestFitLeavesSplitsAlone(t *testing.T) {
	mine := append([]Split(nil), kimberley...)
	_, err := FitSplits(mine)
	require.NoError(t, err)
	assert.Equal(t, kimberley, mine)
}
