package lane_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// twin is the lane rule read off the trade brief, section 3, rules 1 to 4
// (common practice, no source), without a thought for speed.
type twin struct {
	edges    []field.Inches // of the lanes: the box edge, the blocks, the sideline
	shutters [][]int        // by lane: men whose hats shut it
	fitters  [][]int        // by lane: free men who may answer for it
	near     bool           // a man in motion is in time, or not, by rounding alone
	most     int            // the most lanes without a shutter that free men can share out
	open     int            // lanes without a shutter
}

func read(m lane.Moment) twin {
	// Rule 1: blocks ordered by the blocker's x; a double team is one block, at
	// the outer blocker.
	type block struct {
		x   field.Inches
		on  int
		by  string
		hat lane.Hat
	}
	var bs []block
	blocked := map[int]bool{}
	for man := range m.Men {
		var outer *lane.Block
		for i := range m.Blocks {
			if b := &m.Blocks[i]; b.On == man && (outer == nil || b.At.X > outer.At.X || b.At.X == outer.At.X && b.By > outer.By) {
				outer = b
			}
		}
		if outer == nil {
			continue
		}
		blocked[man] = true
		// Rule 2: out or in by half a yard, else even.
		hat := outer.Hat
		if hat == lane.Auto {
			switch d := m.Men[man].At.X - outer.At.X; {
			case d >= 18:
				hat = lane.Outside
			case d <= -18:
				hat = lane.In
			default:
				hat = lane.Even
			}
		}
		bs = append(bs, block{outer.At.X, man, outer.By, hat})
	}
	// Of ties the brief says nothing: here the man further in comes first, then
	// the blocker whose tag does.
	slices.SortFunc(bs, func(a, b block) int {
		return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(m.Men[a.on].At.X, m.Men[b.on].At.X), cmp.Compare(a.by, b.by))
	})
	n := len(bs)
	t := twin{edges: []field.Inches{m.Edge}, shutters: make([][]int, n+1), fitters: make([][]int, n+1)}
	for _, b := range bs {
		t.edges = append(t.edges, b.x)
	}
	t.edges = append(t.edges, m.Sideline)
	// Rule 3: a hat inside on block i (from 1) shuts lane i-1 only; a hat outside
	// on block i shuts lane i and all beyond, if it is outside the ball too.
	for k, b := range bs {
		i := k + 1
		if b.hat == lane.In {
			t.shutters[i-1] = append(t.shutters[i-1], b.on)
		}
		if b.hat == lane.Outside && m.Men[b.on].At.X > m.Ball.X {
			for l := i; l <= n; l++ {
				t.shutters[l] = append(t.shutters[l], b.on)
			}
		}
	}
	// Rule 4: what is left needs a free man of its own; the last lane one who is
	// outside the ball. A man who stands still answers for the lane he stands
	// in, and for lane 0 from in the box too, but not from beyond it; a man in motion for every
	// lane where he meets the carrier within the gain limit; a man of whom a race
	// has told already, for the lane that he makes.
	for l := 0; l <= n; l++ {
		if len(t.shutters[l]) > 0 {
			continue
		}
		t.open++
		for k, d := range m.Men {
			if blocked[k] || d.Late || l == n && d.At.X <= m.Ball.X {
				continue
			}
			in := (d.At.X >= t.edges[l] || l == 0 && d.At.X > -m.Edge) && d.At.X < t.edges[l+1]
			if d.Makes != nil {
				in = *d.Makes == l
			} else if d.Vel != nil {
				slack := slowSlack(m, gatesOf(t.edges[l], t.edges[l+1], l == n), k, leverage.Default())
				t.near = t.near || math.Abs(slack) < 1e-9
				in = slack >= 0
			}
			if in {
				t.fitters[l] = append(t.fitters[l], k)
			}
		}
	}
	t.most = share(t, 0, map[int]bool{})
	return t
}

// share tries every way to give lanes from l on free men of their own.
func share(t twin, l int, used map[int]bool) int {
	if l == len(t.shutters) {
		return 0
	}
	best := share(t, l+1, used)
	for _, k := range t.fitters[l] {
		if !used[k] {
			used[k] = true
			best = max(best, 1+share(t, l+1, used))
			delete(used, k)
		}
	}
	return best
}

// anyMoment draws a moment on a coarse grid, so that boundaries are hit often.
func anyMoment(r *rand.Rand) lane.Moment {
	grid := func(lo, hi int) field.Inches { return field.Inches(lo + r.IntN((hi-lo)/6)*6) }
	m := lane.Moment{Edge: grid(72, 216), Sideline: grid(480, 1200), Ball: field.Offset{X: grid(0, 600), Y: grid(-180, 36)},
		Going: field.Vec{X: r.Float64()*8 - 1, Y: r.Float64() * 5}, Carrier: athlete.Athlete{Top: 7.5, Tau: 0.8}}
	for i := range 1 + r.IntN(7) {
		m.Men = append(m.Men, lane.Man{Label: string(rune('A' + i)), At: field.Offset{X: grid(-300, 900), Y: grid(0, 540)},
			Late: r.IntN(6) == 0, Athlete: athlete.Athlete{Top: 8, Tau: 0.8, React: 0.35}})
	}
	for i := range r.IntN(5) {
		on := r.IntN(len(m.Men))
		near := m.Men[on].At.X + grid(-36, 42)
		b := lane.Block{By: string(rune('a' + i)), On: on, At: field.Offset{X: max(near, m.Edge), Y: grid(0, 200)}}
		if r.IntN(4) == 0 {
			b.Hat = []lane.Hat{lane.In, lane.Even, lane.Outside}[r.IntN(3)]
		}
		m.Blocks = append(m.Blocks, b)
	}
	return m
}

// moving sets some men of a moment in motion, and gives some the lane they make.
func moving(r *rand.Rand, m lane.Moment) lane.Moment {
	for k := range m.Men {
		switch r.IntN(4) {
		case 0:
			m.Men[k].Vel = &field.Vec{X: r.Float64()*12 - 6, Y: r.Float64()*8 - 7}
		case 1:
			if r.IntN(3) == 0 {
				n := r.IntN(len(m.Blocks) + 1)
				m.Men[k].Makes, m.Men[k].Vel = &n, &field.Vec{X: r.Float64()*4 - 2, Y: -r.Float64() * 6}
			}
		}
	}
	return m
}

// tied: two blockers are equally far out.
func tied(m lane.Moment) bool {
	seen := map[field.Inches]bool{}
	for _, b := range m.Blocks {
		if seen[b.At.X] {
			return true
		}
		seen[b.At.X] = true
	}
	return false
}

func TestLaneRuleAgainstTheBrief(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	sound, matched, double, chosen, ties := 0, 0, 0, 0, 0
	var w lane.Work
	for n := 0; n < twinScenes; {
		m := anyMoment(r)
		if n%3 == 0 {
			m = moving(r, m)
		}
		want := read(m)
		if want.near {
			continue
		}
		n++
		got := w.Judge(&m, leverage.Default())
		if bad := agrees(want, got); bad != "" {
			t.Fatalf("%s\n%+v\n%+v", bad, got.Lanes, m)
		}
		if len(got.Blocks) < len(m.Blocks) {
			double++
		}
		if tied(m) {
			ties++
		}
		if got.Sound {
			sound++
		}
		matched += want.most
		if want.most < want.open && want.most > 0 {
			chosen++
		}
		sameHowSeen(t, r, m, want, got)
	}
	t.Logf("%d moments: %d sound, %d lanes fit, %d double teams", twinScenes, sound, matched, double)
	// The moments drawn must be worth the comparison.
	assert.Greater(t, sound, twinScenes/12)
	assert.Greater(t, matched, twinScenes*2/5)
	assert.Greater(t, double, twinScenes/25)
	assert.Greater(t, ties, twinScenes/100)
	assert.Greater(t, chosen, twinScenes/10, "moments with fewer fitters than lanes")
}

// agrees says what in an answer is not as the brief wants it.
func agrees(want twin, got lane.Result) string {
	if len(got.Lanes) != len(want.shutters) {
		return "the number of lanes"
	}
	used, fits, open := map[int]bool{}, 0, 0
	for i, l := range got.Lanes {
		switch {
		case l.N != i, l.Inner != want.edges[i], l.Outer != max(want.edges[i+1], want.edges[i]):
			return fmt.Sprintf("where lane %d lies", i)
		case l.ShutBy < 0 && len(want.shutters[i]) > 0:
			return fmt.Sprintf("lane %d is shut by %v", i, want.shutters[i])
		case l.ShutBy >= 0 && !slices.Contains(want.shutters[i], l.ShutBy):
			return fmt.Sprintf("%d does not shut lane %d", l.ShutBy, i)
		case l.ShutBy >= 0 && (l.Gain != 0 || l.FitBy >= 0):
			return "a shut lane has no gain and no fitter"
		}
		if l.Open() {
			open++
		}
		if l.FitBy < 0 {
			continue
		}
		if used[l.FitBy] || !slices.Contains(want.fitters[i], l.FitBy) {
			return fmt.Sprintf("%d cannot fit lane %d: %v can", l.FitBy, i, want.fitters[i])
		}
		used[l.FitBy] = true
		fits++
	}
	switch {
	case fits != want.most:
		return fmt.Sprintf("%d lanes fit, %d can be", fits, want.most)
	case open != want.open-want.most:
		return fmt.Sprintf("%d lanes open of %d that no hat shuts", open, want.open)
	case got.Sound != (want.open == want.most):
		return "sound"
	case len(got.Faults) > 0:
		return "without orders nobody is at fault"
	}
	return ""
}
