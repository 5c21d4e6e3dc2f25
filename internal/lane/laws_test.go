package lane_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// sameHowSeen holds an answer to the laws of the rule: whoever is listed first,
// whatever men are called and wherever across the field it happens, the same
// lanes are shut and open. A moment is in out-terms, so the mirror is the sign of
// the side: mirrored is the same moment, and its law is held on whole boards in
// package judge.
func sameHowSeen(t *testing.T, r *rand.Rand, m lane.Moment, want twin, got lane.Result) {
	t.Helper()
	was := slices.Clone(got.Lanes) // got's memory may be the caller's
	by := field.Inches(r.IntN(721) - 360)
	var other lane.Result
	if !crosses(m, by) {
		other = lane.Judge(shifted(m, by), leverage.Default())
	}
	for i, l := range other.Lanes {
		o := was[i]
		if l.ShutBy != o.ShutBy || l.FitBy != o.FitBy || l.Inner-by != o.Inner || l.Outer-by != o.Outer || math.Abs(l.Gain-o.Gain) > 1e-6 {
			t.Fatalf("lane %d is %+v, %d in further out %+v\n%+v", i, o, by, l, m)
		}
	}
	men := r.Perm(len(m.Men))
	other = lane.Judge(relabelled(r, m, men), leverage.Default())
	back := func(k int) int {
		if k < 0 {
			return k
		}
		return men[k]
	}
	if other.Sound != (want.open == want.most) {
		t.Fatalf("sound %v, listed otherwise %v\n%+v", got.Sound, other.Sound, m)
	}
	for i, l := range other.Lanes {
		o := was[i]
		if back(l.ShutBy) != o.ShutBy || l.Open() != o.Open() || l.Gain != o.Gain {
			t.Fatalf("lane %d is %+v, listed otherwise %+v (men %v)\n%+v", i, o, l, men, m)
		}
		if l.FitBy >= 0 && !slices.Contains(want.fitters[i], back(l.FitBy)) {
			t.Fatalf("lane %d: listed otherwise %d fits it\n%+v", i, back(l.FitBy), m)
		}
	}
}

// crosses: shifted so, somebody comes into the box from beyond it on the other
// side of the ball, or leaves it.
func crosses(m lane.Moment, by field.Inches) bool {
	for _, d := range m.Men {
		if (d.At.X > -m.Edge) != (d.At.X+by > -m.Edge-by) {
			return true
		}
	}
	return false
}

// shifted is the moment as much further out, sideline, box edge, ball and all.
func shifted(m lane.Moment, by field.Inches) lane.Moment {
	m.Edge, m.Sideline, m.Ball.X = m.Edge+by, m.Sideline+by, m.Ball.X+by
	m.Men, m.Blocks = slices.Clone(m.Men), slices.Clone(m.Blocks)
	for k := range m.Men {
		m.Men[k].At.X += by
	}
	for i := range m.Blocks {
		m.Blocks[i].At.X += by
	}
	return m
}

// relabelled lists the men in the order of old places and calls them anew; the
// blocks come in any order.
func relabelled(r *rand.Rand, m lane.Moment, men []int) lane.Moment {
	out := m
	out.Men, out.Blocks = nil, slices.Clone(m.Blocks)
	place := make([]int, len(men))
	for i, k := range men {
		d := m.Men[k]
		d.Label = "man " + d.Label
		out.Men = append(out.Men, d)
		place[k] = i
	}
	r.Shuffle(len(out.Blocks), func(i, j int) { out.Blocks[i], out.Blocks[j] = out.Blocks[j], out.Blocks[i] })
	for i := range out.Blocks {
		out.Blocks[i].On = place[out.Blocks[i].On]
	}
	return out
}
