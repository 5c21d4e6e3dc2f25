package athlete

import (
	"fmt"
	"math"
)

// How far the third number of a fit may go: beyond it something else is wrong.
const (
	maxCorrection = 1 // s
	maxBehind     = 5 // yards or metres
)

// Split is one timed split of a straight sprint: so far, in so much time from
// the start. Yards give yards, metres give metres: the fit does not care.
type Split struct {
	At float64 // distance from the start line
	T  float64 // seconds from the start
}

// Fit is what splits say about a man, in their own unit of length.
type Fit struct {
	Top       float64   // top speed
	Tau       float64   // time constant of acceleration, s
	A0        float64   // acceleration of the first step, Top/Tau
	RSE       float64   // residual standard error, s: sqrt(SSE/(n - numbers fitted))
	Residuals []float64 // timed minus predicted, s, one per split
}

// FitSplits finds the athlete whose times at the split distances, from rest at
// time 0, come nearest to the timed ones (least squares in time). It wants three
// splits or more. Splits that no sprint gives are refused, with the reason and
// the mend.
func FitSplits(splits []Split) (Fit, error) {
	f, _, err := fitSprint(splits, 2, span{}, func(i int, at unknowns) (float64, unknowns) {
		t, g := sprintTime(splits[i].At, at)
		return t - splits[i].T, unknowns{g.top, g.tau}
	})
	return f, err
}

// FitSplitsCorrected fits a third number as well: the seconds to add to every
// timed split to make it a time from rest. It is positive when the clock started
// late (on his first step, at a gate) and negative when his reaction is in the
// times. It wants four splits or more.
func FitSplitsCorrected(splits []Split) (f Fit, correction float64, err error) {
	f, third, err := fitSprint(splits, 3, span{lo: -maxCorrection, hi: maxCorrection}, func(i int, at unknowns) (float64, unknowns) {
		t, g := sprintTime(splits[i].At, at)
		return t - at[2] - splits[i].T, unknowns{g.top, g.tau, -1}
	})
	if err != nil {
		return Fit{}, 0, err
	}
	if math.Abs(third) >= maxCorrection {
		return Fit{}, 0, fmt.Errorf("splits: no correction within %d s makes one sprint of them: check the times", maxCorrection)
	}
	return f, third, nil
}

// FitSplitsWithDistance fits a third number as well: how far behind the line he
// really started, so that he was running when he crossed it and started the
// clock. It wants four splits or more.
func FitSplitsWithDistance(splits []Split) (f Fit, behind float64, err error) {
	s := span{lo: math.Log(1e-4), start: math.Log(0.2), hi: math.Log(maxBehind)}
	f, third, err := fitSprint(splits, 3, s, func(i int, at unknowns) (float64, unknowns) {
		b := math.Exp(at[2])
		t1, g1 := sprintTime(splits[i].At+b, at)
		t0, g0 := sprintTime(b, at)
		return t1 - t0 - splits[i].T, unknowns{g1.top - g0.top, g1.tau - g0.tau, b * (g1.at - g0.at)}
	})
	if err != nil {
		return Fit{}, 0, err
	}
	if third >= s.hi {
		return Fit{}, 0, fmt.Errorf("splits: no start within %d behind the line makes one sprint of them: check the first split", maxBehind)
	}
	return f, math.Exp(third), nil
}

// growth is how the time to a distance grows with ln(top), ln(tau) and the
// distance.
type growth struct{ top, tau, at float64 }

// sprintTime is the time from rest to distance d; the first two unknowns are
// ln(top) and ln(tau).
func sprintTime(d float64, at unknowns) (float64, growth) {
	a := Athlete{Top: math.Exp(at[0]), Tau: math.Exp(at[1])}
	t := a.TimeFor(d)
	s := t / a.Tau
	e := decay(s)
	pace := 1 / (a.Top * (1 - e)) // seconds per length there
	return t, growth{top: -d * pace, tau: a.Tau * (1 - s*e/(1-e)), at: pace}
}

// span is where a third unknown may lie and where the search for it starts.
type span struct{ lo, start, hi float64 }

// fitSprint fits k unknowns: ln(top), ln(tau) and perhaps a third.
func fitSprint(splits []Split, k int, third span, m model) (Fit, float64, error) {
	fastest, err := checkSplits(splits, k+1)
	if err != nil {
		return Fit{}, 0, err
	}
	lo := unknowns{math.Log(0.1), math.Log(1e-3), third.lo}
	hi := unknowns{math.Log(100), math.Log(30), third.hi}
	var best unknowns
	least := math.Inf(1)
	for _, tau := range [...]float64{0.25, 0.8, 1.6} { // from three sides, against a false bottom
		start := unknowns{math.Log(fastest), math.Log(tau), third.start}
		if at, sse := leastSquares(len(splits), k, start, lo, hi, m); sse < least {
			best, least = at, sse
		}
	}
	f := Fit{Top: math.Exp(best[0]), Tau: math.Exp(best[1]), Residuals: make([]float64, len(splits))}
	f.A0 = f.Top / f.Tau
	f.RSE = math.Sqrt(least / float64(len(splits)-k))
	for i := range splits {
		miss, _ := m(i, best)
		f.Residuals[i] = -miss
	}
	if err := checkFit(splits, f); err != nil {
		return Fit{}, 0, err
	}
	return f, best[2], nil
}
