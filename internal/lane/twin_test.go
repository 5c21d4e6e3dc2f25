package lane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	most     int            // the most lanes without a shutter that free men can share out
	open     int            // lanes without a shutter
}

func read(m lane.Moment) twin {
	// Rule 1: blocks ordered by the blocker's x; a double team is one block, at
	// the outer blocker.
	type block struct {
		x   field.Inches
		on  int
		hat lane.Hat
	}
	var bs []block
	blocked := map[int]bool{}
	for man := range m.Men {
		var outer *lane.Block
		for i := range m.Blocks {
			if b := &m.Blocks[i]; b.On == man && (outer == nil || b.At.X > outer.At.X) {
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
		bs = append(bs, block{outer.At.X, man, hat})
	}
	for i := range bs {
		for j := range bs {
			if bs[i].x < bs[j].x && i > j {
				bs[i], bs[j] = bs[j], bs[i]
			}
		}
	}
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
	// in, and for lane 0 from inside the box edge too.
	for l := 0; l <= n; l++ {
		if len(t.shutters[l]) > 0 {
			continue
		}
		t.open++
		for k, d := range m.Men {
			in := (d.At.X >= t.edges[l] || l == 0) && d.At.X < t.edges[l+1]
			if !blocked[k] && !d.Late && in && (l < n || d.At.X > m.Ball.X) {
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
		m.Men = append(m.Men, lane.Man{Label: string(rune('A' + i)), At: field.Offset{X: grid(0, 900), Y: grid(0, 540)},
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

// distinct: no two blockers equally far out, where the order of a tie is free.
func distinct(m lane.Moment) bool {
	seen := map[field.Inches]bool{}
	for _, b := range m.Blocks {
		if seen[b.At.X] {
			return false
		}
		seen[b.At.X] = true
	}
	return true
}

func TestLaneRuleAgainstTheBrief(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	sound, matched, double := 0, 0, 0
	for n := 0; n < 25000; {
		m := anyMoment(r)
		if !distinct(m) {
			continue
		}
		n++
		want, got := read(m), lane.Judge(m, leverage.Default())
		require.Len(t, got.Lanes, len(want.shutters), "%+v", m)
		if len(got.Blocks) < len(m.Blocks) {
			double++
		}
		used := map[int]bool{}
		fits := 0
		for i, l := range got.Lanes {
			require.Equal(t, i, l.N)
			require.Equal(t, want.edges[i], l.Inner)
			require.Equal(t, max(want.edges[i+1], want.edges[i]), l.Outer)
			if l.ShutBy < 0 {
				require.Empty(t, want.shutters[i], "lane %d of %+v", i, m)
			} else {
				require.Contains(t, want.shutters[i], l.ShutBy, "lane %d of %+v", i, m)
				require.Zero(t, l.Gain, "a shut lane has no gain")
				require.Negative(t, l.FitBy, "nor a fitter")
			}
			if l.FitBy >= 0 {
				require.Contains(t, want.fitters[i], l.FitBy, "lane %d of %+v", i, m)
				require.False(t, used[l.FitBy], "one man for one lane")
				used[l.FitBy] = true
				fits++
			}
		}
		require.Equal(t, want.most, fits, "as many lanes fit as can be: %+v", m)
		require.Equal(t, want.open == want.most, got.Sound, "%+v", m)
		require.Empty(t, got.Faults, "without orders nobody is at fault")
		if got.Sound {
			sound++
		}
		matched += fits
	}
	// The moments drawn must be worth the comparison.
	assert.Greater(t, sound, 2000)
	assert.Greater(t, matched, 10000)
	assert.Greater(t, double, 1000)
}

// slowGain is how deep a carrier gets in a lane: by the best of its gates he runs
// his quickest straight way and on upfield; the first man whose disk reaches him,
// looked at every tenth of a second, meets him.
func slowGain(m lane.Moment, got lane.Result, l lane.Lane, model leverage.Model, who func(k int) bool) float64 {
	in, out := l.Inner.Yards(), l.Outer.Yards()
	gates := []float64{in + 1.2, (in + out) / 2, out - 1.2}
	switch {
	case l.N == len(got.Blocks):
		out = math.Min(out-1.2, in+6)
		gates = []float64{math.Min(in+1, out), (in + out) / 2, math.Max(out, in)}
	case out-in < 2.4:
		gates = []float64{(in + out) / 2}
	}
	best := math.Inf(-1)
	for _, x := range gates {
		from, gate := m.Ball.Vec(), field.Vec{X: x, Y: 1}
		if from.Y >= 1 {
			gate.Y = from.Y + 0.5
		}
		there := m.Carrier.TimeTo(from, m.Going, gate, 0, 0)
		met := model.Broke
	run:
		for t := 0.1; ; t += 0.1 {
			p := from.Add(gate.Sub(from).Mul(math.Min(t/there, 1)))
			if t > there {
				p.Y = gate.Y + m.Carrier.Top*(t-there)
			}
			if p.Y >= model.Broke {
				break
			}
			for k, d := range m.Men {
				if !who(k) {
					continue
				}
				delay := model.Ball
				for i, b := range got.Blocks {
					if b.On == k {
						delay = model.Blocked
						if b.Hat == lane.In && l.N <= i || b.Hat == lane.Outside && l.N > i {
							delay = model.Loose
						}
					}
				}
				var v field.Vec
				if d.Vel != nil {
					v = *d.Vel
				}
				at, act := d.At.Vec(), t
				drift := math.Min(t, delay)
				at, act = at.Add(v.Mul(drift)), t-drift
				c, reach := d.Athlete.Disk(at, v, act)
				if c.Dist(p) <= reach+model.Tackle {
					met = p.Y
					break run
				}
			}
		}
		best = math.Max(best, met)
	}
	return best
}

// Gains, and the men in motion who make a lane in time, against plain sums.
func TestGainsAgainstASlowTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	model := leverage.Default()
	met, made := 0, 0
	for n := 0; n < 2000; {
		m := anyMoment(r)
		if !distinct(m) {
			continue
		}
		n++
		for k := range m.Men {
			if r.IntN(2) == 0 {
				m.Men[k].Vel = &field.Vec{X: r.Float64()*12 - 6, Y: r.Float64()*8 - 7}
			}
		}
		got := lane.Judge(m, model)
		for _, l := range got.Lanes {
			if l.ShutBy >= 0 {
				continue
			}
			want := slowGain(m, got, l, model, func(k int) bool { return !m.Men[k].Late })
			require.InDelta(t, want, l.Gain, 1e-6, "lane %d of %+v", l.N, m)
			if want < model.Broke {
				met++
			}
			if k := l.FitBy; k >= 0 && m.Men[k].Vel != nil {
				made++
				require.LessOrEqual(t, slowGain(m, got, l, model, func(i int) bool { return i == k }), model.Limit+1e-6)
			}
		}
	}
	assert.Greater(t, met, 1000)
	assert.Greater(t, made, 200)
}
