package strip

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"halfline/internal/judge"
	"halfline/internal/rep"
)

const (
	leastPanels = 5
	mostPanels  = 8
	// together: what happens within so many seconds is one moment.
	together = 0.12
	// mostSays is how many lines are told of one moment.
	mostSays = 4
)

// moment is one panel: its time, and what is told of it.
type moment struct {
	t    float64
	says []string
}

// ranked are the events that make a panel, the ones that a rep cannot be told
// without first. Of several alike the first counts, unless all do.
var ranked = []struct {
	what rep.What
	all  bool
}{
	{rep.Commits, false}, {rep.Catch, false}, {"", false}, // here stands the first fault
	{rep.Gives, false}, {rep.Motion, false}, {rep.Breaks, true}, {rep.Replaces, true}, {rep.Cuts, true}, {rep.Open, false},
	{rep.Meets, true}, {rep.Declares, false}, {rep.Sheds, true}, {rep.Matches, true},
}

// choose picks the moments of a strip. The snap and the end always; then by rank
// the carrier's choice, the catch, the first fault, the throw, the start of a
// motion, a bite on a fake, who replaces, cuts, a free receiver, blocks, the ball
// declared, sheds, receivers taken; what lies together with a chosen one is told
// there. There are at most eight; if there are fewer than five, the middle of the
// longest gap comes in until there are.
func choose(t *judge.Track) []moment {
	end := t.End.T
	times := []float64{0, end}
	add := func(at float64) {
		if len(times) < mostPanels && at >= t.From && at <= end && !near(times, at) {
			times = append(times, at)
		}
	}
	for _, r := range ranked {
		if r.what == "" {
			if len(t.Faults) > 0 {
				add(t.Faults[0].T)
			}
			continue
		}
		for i := range t.Events {
			if e := &t.Events[i]; e.What == r.what {
				add(e.T)
				if !r.all {
					break
				}
			}
		}
	}
	for len(times) < leastPanels {
		slices.Sort(times)
		at, most := 0.0, 0.0
		for i := 1; i < len(times); i++ {
			if g := times[i] - times[i-1]; g > most {
				at, most = (times[i]+times[i-1])/2, g
			}
		}
		times = append(times, at)
	}
	slices.Sort(times)
	out := make([]moment, len(times))
	for i, at := range times {
		out[i] = moment{t: at, says: says(t, times, i)}
	}
	return out
}

func near(times []float64, at float64) bool {
	return slices.ContainsFunc(times, func(x float64) bool { return math.Abs(x-at) < together })
}

// says is what is told of panel i: the events that lie nearer to it than to any
// other, those of the moment itself first, and how the rep ended at the last.
func says(t *judge.Track, times []float64, i int) []string {
	type said struct {
		away float64
		text string
	}
	var found []said
	for k := range t.Events {
		e := &t.Events[k]
		if e.Say != "" && closest(times, e.T) == i {
			found = append(found, said{math.Abs(e.T - times[i]), e.Say})
		}
	}
	for k := range t.Faults {
		if f := &t.Faults[k]; closest(times, f.T) == i { // told before what happens with it
			found = append(found, said{math.Abs(f.T-times[i]) - 1e-3, fmt.Sprintf("fault %d: %s, %s", k+1, f.Who, judge.FaultWords(f.Kind))})
		}
	}
	last := i == len(times)-1
	slices.SortStableFunc(found, func(a, b said) int {
		ai, bi := a.away >= together, b.away >= together
		if ai != bi {
			if ai {
				return 1
			}
			return -1
		}
		return cmp.Compare(math.Round(a.away*30), math.Round(b.away*30))
	})
	var out []string
	if last {
		out = append(out, t.End.Say)
	}
	for _, f := range found {
		if len(out) < mostSays && !slices.Contains(out, f.text) {
			out = append(out, f.text)
		}
	}
	if len(out) == 0 {
		out = append(out, "on the way")
	}
	return out
}

// closest is the panel whose time is nearest; of two, the earlier.
func closest(times []float64, at float64) int {
	best := 0
	for i, x := range times {
		if math.Abs(x-at) < math.Abs(times[best]-at)-1e-9 {
			best = i
		}
	}
	return best
}
