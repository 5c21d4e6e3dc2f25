package judge_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/book"
	"halfline/internal/judge"
)

// The carrier's side of the worked lane cases: his lane, then the blocks that
// lost one. It follows from rules 1 to 4 of the lane rule (common practice, no
// source); of T25's two lanes that a man fits, the one worth more.
var runners = map[string]string{
	"T01": "1 H>N:0 Z>C:2", "T02": "2 H>N:0 Z>C:1", "T03": "0 H>N:1 H>N:2", "T04": "0 H>N:1 H>N:2", "T05": "1 Z>C:2",
	"T06": "1 H>N:0 Z>C:2", "T07": "0 H>N:1 H>N:2", "T08": "0 H>N:1 H>N:2", "T09": "2 H>N:0 Z>C:1", "T10": "1 H>N:0 Z>C:2",
	"T11": "1 H>N:0 Z>C:2", "T12": "0 H>N:1 H>N:2", "T13": "0 H>N:1 H>N:2", "T14": "0 T>FS:1 T>FS:2 T>FS:3", "T15": "0 T>FS:1 T>FS:2 T>FS:3",
	"T16": "0 H>N:1 H>N:2", "T17": "0 Z>C:1", "T18": "1 Z>C:0", "T19": "0 Z>C:1", "T20": "1 Z>N:0",
	"T21": "1 Z>N:0", "T22": "0 H>C:1", "T23": "1 H>C:0", "T24": "0 H>N:1 H>N:2", "T25": "1 Z>C:2",
	"T26": "1 Z>C:2", "T27": "0 H>N:1 H>N:2", "T28": "1 H>N:0 Z>C:2", "T29": "1 Z>SS:0 T>C:2", "T30": "1 Z>SS:0",
	"T31": "0 H>SS:1 H>SS:2", "T32": "1 H>N:0 Z>C:2", "T33": "0 H>N:1 H>N:2", "T34": "1 H>N:0 Z>C:2", "T35": "0 H>N:1 H>N:2",
	"T36": "2 H>LB:0 Z>N:1", "T37": "2 H>LB:0 Z>N:1", "T38": "1 Z>C:2", "T39": "1 H>N:0 T>FS:2 T>FS:3", "T40": "1 H>N:0 Z>C:2",
	"T41": "0 H>N:1 H>N:2", "T42": "1 H>N:0 Z>C:2", "T43": "1 H>N:0 Z>C:2", "T44": "2 H>N:0 Z>C:1",
}

func runnerLine(r *judge.RunnerResult) string {
	s := fmt.Sprint(r.Lane)
	for _, b := range r.Lost {
		s += fmt.Sprintf(" %s>%s:%d", b.By, b.On, b.Lane)
	}
	return s
}

// Every worked case, on the right and mirrored.
func TestRunnerOfWorkedCases(t *testing.T) {
	require.Len(t, runners, 44)
	for _, c := range laneCases(t) {
		t.Run(c.ID+" "+c.What, func(t *testing.T) {
			s, err := book.ReadScene(c.ID+".scene.yaml", c.Scene, book.Builtin())
			require.NoError(t, err)
			b := judge.FromScene(s, book.Builtin())
			r := judge.Run(&b)
			assert.Equal(t, runners[strings.TrimSuffix(c.ID, "m")], runnerLine(&r.Runner))
			assert.Equal(t, r.Lanes[r.Runner.Lane].FitBy, r.Runner.Fit)
			if open := r.Runner.Fit == ""; open == r.Sound {
				t.Errorf("sound %v, and his lane is open: %v", r.Sound, open)
			}
		})
	}
}

// Some lane always is without a hat that shuts it, since every block has one man
// and one hat; the runner's is open if any is, and the one worth most of its sort;
// each shut lane is lost by the block on the man who shuts it.
func TestRunnerLaws(t *testing.T) {
	lanes, lost := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		run := &r.Runner
		if (run.Lane < 0) != (len(r.Lanes) == 0) {
			t.Fatalf("lane %d of %d", run.Lane, len(r.Lanes))
		}
		if run.Lane < 0 {
			return
		}
		lanes++
		his := &r.Lanes[run.Lane]
		if his.ShutBy != "" || his.FitBy != run.Fit || his.Gain != run.Gain {
			t.Fatalf("%+v is not %+v", run, his)
		}
		left := map[int]judge.LostBlock{}
		for _, l := range run.Lost {
			left[l.Lane] = l
		}
		for i := range r.Lanes {
			l := &r.Lanes[i]
			if l.ShutBy != "" {
				lost++
				if got := left[l.N]; got.On != l.ShutBy || got.By == "" {
					t.Fatalf("lane %d is shut by %s and lost by %+v", l.N, l.ShutBy, got)
				}
				delete(left, l.N)
				continue
			}
			if l.FitBy == "" && run.Fit != "" {
				t.Fatalf("lane %d is open and he takes %d, which %s fits", l.N, run.Lane, run.Fit)
			}
			if (l.FitBy == "") == (run.Fit == "") && l.Gain > run.Gain {
				t.Fatalf("lane %d is worth %v and he takes %d for %v", l.N, l.Gain, run.Lane, run.Gain)
			}
		}
		if len(left) > 0 {
			t.Fatalf("lost, but not shut: %+v", left)
		}
		if !strings.Contains(run.Because(), fmt.Sprintf("lane %d", run.Lane)) || !strings.Contains(run.Because(), fmt.Sprintf("%.1f yd", run.Gain)) {
			t.Fatalf("%+v because %q", run, run.Because())
		}
	})
	assert.Positive(t, lanes)
	assert.Positive(t, lost)
}
