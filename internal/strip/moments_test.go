package strip

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/judge"
	"halfline/internal/rep"
)

// Whatever happens, a strip has five to eight panels in order of time, the snap and
// the end among them; what a rep cannot be told without is told at its own time;
// every panel says something, and none says one thing twice.
func TestMomentsOfAnyRep(t *testing.T) {
	whats := []rep.What{rep.Keys, rep.Gives, rep.Catch, rep.Meets, rep.Commits, rep.Cuts, rep.Declares, rep.Sheds, rep.Replaces, rep.Matches, rep.Breaks, rep.Open, rep.Tackles}
	rapid.Check(t, func(t *rapid.T) {
		tr := &judge.Track{Step: 0.1, End: judge.End{T: rapid.Float64Range(0, 8).Draw(t, "end"), Say: "the end"}}
		if rapid.Bool().Draw(t, "motion") {
			tr.From = -2
			tr.Events = append(tr.Events, judge.Event{T: -2, What: rep.Motion, Say: "motion"})
		}
		tr.Events = append(tr.Events, judge.Event{What: rep.Snap, Say: "snap"})
		for range rapid.IntRange(0, 30).Draw(t, "events") {
			w := rapid.SampledFrom(whats).Draw(t, "what")
			tr.Events = append(tr.Events, judge.Event{T: rapid.Float64Range(0, tr.End.T).Draw(t, "at"), What: w, Say: string(w)})
		}
		for range rapid.IntRange(0, 3).Draw(t, "faults") {
			tr.Faults = append(tr.Faults, judge.FaultResult{T: rapid.Float64Range(0, tr.End.T).Draw(t, "fault"), Who: "N", Kind: "late-shed", Opens: -1})
		}
		ms := choose(tr)
		var times []float64
		for _, m := range ms {
			times = append(times, m.t)
			if len(m.says) == 0 || len(m.says) > mostSays {
				t.Fatalf("%d lines at %v", len(m.says), m.t)
			}
			for i, s := range m.says {
				if slices.Contains(m.says[:i], s) {
					t.Fatalf("%q twice", s)
				}
			}
		}
		if len(ms) < leastPanels || len(ms) > mostPanels || !slices.IsSorted(times) || !slices.Contains(times, 0) || times[len(times)-1] != tr.End.T {
			t.Fatalf("panels at %v of %v", times, tr.End.T)
		}
		if ms[len(ms)-1].says[0] != "the end" {
			t.Fatalf("the last says %v", ms[len(ms)-1].says)
		}
		for _, what := range []rep.What{rep.Commits, rep.Catch} {
			for _, e := range tr.Events {
				if e.What == what {
					if math.Abs(times[closest(times, e.T)]-e.T) > together {
						t.Fatalf("%s at %v has no panel of %v", what, e.T, times)
					}
					break
				}
			}
		}
		if len(tr.Faults) > 0 && math.Abs(times[closest(times, tr.Faults[0].T)]-tr.Faults[0].T) > together {
			t.Fatalf("the first fault at %v has no panel of %v", tr.Faults[0].T, times)
		}
	})
}

// Lines are broken at spaces and lose nothing.
func TestWrapLosesNothing(t *testing.T) {
	assert.Equal(t, []string{"aa bb", "cc"}, wrap("aa  bb cc", textWide("aa bb", 10), 10))
	assert.Equal(t, []string{"a-very-long-word", "b"}, wrap("a-very-long-word b", 10, 10))
	assert.Empty(t, wrap(" ", 10, 10))
}
