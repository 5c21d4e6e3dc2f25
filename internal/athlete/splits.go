package athlete

import (
	"errors"
	"fmt"
	"math"
)

const (
	// maxPace is faster than anybody over any stretch, in yards or metres a
	// second: the best measured is 13.5 yd/s (12.35 m/s; Reuters, 23 Aug 2009).
	maxPace = 14
	// minPace is slower than a walk.
	minPace = 1
	// maxSlowing is how much slower than an earlier stretch a stretch may be. A
	// timed hand makes 10 % of a short one; a man in a 100 m loses 7 % at the end.
	maxSlowing = 0.2
	// maxFirstStep is more than any start, in yards or metres per second squared:
	// published fits of record sprinters give 10 to 11 m/s2, of a combine 14 yd/s2.
	maxFirstStep = 30
	// maxRSE is where the times no longer look like one sprint, s. Published fits
	// are off by 0.03, a hand on a watch by 0.1.
	maxRSE = 0.15
)

// checkSplits refuses splits that cannot be those of one sprint and gives the
// mean speed of the fastest stretch.
func checkSplits(splits []Split, want int) (fastest float64, err error) {
	if len(splits) < want {
		return 0, fmt.Errorf("splits: %d given: want at least %d, such as 10=1.75, 20=2.95, 40=5.10", len(splits), want)
	}
	var last Split
	for i, s := range splits {
		switch {
		case !finite(s.At) || !finite(s.T):
			return 0, fmt.Errorf("splits: number %d is %g=%g: want a distance and seconds, such as 10=1.75", i+1, s.At, s.T)
		case s.At <= 0 || s.T <= 0:
			return 0, fmt.Errorf("splits: number %d is %g=%g: want both above 0, measured from the start", i+1, s.At, s.T)
		case s.At <= last.At:
			return 0, fmt.Errorf("splits: %g comes after %g: give them nearest first, each distance once", s.At, last.At)
		case s.T <= last.T:
			return 0, fmt.Errorf("splits: %g=%g comes no later than %g=%g: want times from the start, not of each stretch", s.At, s.T, last.At, last.T)
		}
		pace := (s.At - last.At) / (s.T - last.T)
		switch {
		case pace > maxPace:
			return 0, fmt.Errorf("splits: %.3g a second from %g to %g: nobody runs more than %d; check the times and the unit", pace, last.At, s.At, maxPace)
		case pace < minPace:
			return 0, fmt.Errorf("splits: %.3g a second from %g to %g is slower than a walk: check the times and the unit", pace, last.At, s.At)
		case pace < fastest*(1-maxSlowing):
			return 0, fmt.Errorf("splits: he slows from %.3g to %.3g a second between %g and %g: time a straight sprint, and leave out what comes after he eases up", fastest, pace, last.At, s.At)
		}
		fastest = max(fastest, pace)
		last = s
	}
	return fastest, nil
}

// checkFit refuses numbers that the splits do not carry.
func checkFit(splits []Split, f Fit) error {
	far := splits[len(splits)-1].At
	switch {
	case f.Tau < minTau:
		return errors.New("splits: he is at full speed from the first yard on: time him from a standing start, and check the first split")
	case f.Tau > maxTau || f.Top > maxPace:
		return fmt.Errorf("splits: he still gains speed at %g, so his top speed cannot be told: add a longer split, and check the first", far)
	case f.A0 > maxFirstStep:
		return fmt.Errorf("splits: a first step of %.3g a second per second, nobody starts so: check the first split, and start the clock when he first moves", f.A0)
	case f.Top < minPace:
		return fmt.Errorf("splits: a top speed of %.3g a second: check the times and the unit", f.Top)
	case f.RSE > maxRSE:
		worst := 0
		for i, r := range f.Residuals {
			if math.Abs(r) > math.Abs(f.Residuals[worst]) {
				worst = i
			}
		}
		return fmt.Errorf("splits: off any sprint by %.2f s at %g=%g: time that one again", math.Abs(f.Residuals[worst]), splits[worst].At, splits[worst].T)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
