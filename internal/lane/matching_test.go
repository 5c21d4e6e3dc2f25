package lane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// simplex is the least cost of a linear programme: variables x >= 0, every row's
// sum of its variables equal to (slack false) or at most (true) 1. gonum v0.17.
func simplex(t *testing.T, cost []float64, rows [][]int, slack bool) float64 {
	n := len(cost)
	wide := n
	if slack {
		wide += len(rows)
	}
	a, c, b := mat.NewDense(len(rows), wide, nil), make([]float64, wide), make([]float64, len(rows))
	copy(c, cost)
	for i, r := range rows {
		b[i] = 1
		for _, j := range r {
			a.Set(i, j, 1)
		}
		if slack {
			a.Set(i, n+i, 1)
		}
	}
	z, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	require.NoError(t, err)
	return z
}

// rows are the constraints of an assignment: each left end once, each right end
// once, over edges.
func rows(left, right int, edges [][2]int) [][]int {
	out := make([][]int, left+right)
	for e, x := range edges {
		out[x[0]] = append(out[x[0]], e)
		out[left+x[1]] = append(out[left+x[1]], e)
	}
	return out
}

// The published matrix of the munkres packages: least cost 850 by 0-1, 1-0, 2-2
// (status RC). The engine has no cost assignment, only the matching of lanes and
// men below; this holds the yardstick of that test to a published optimum.
func TestYardstickFindsThePublishedAssignment(t *testing.T) {
	cost := []float64{400, 150, 400, 400, 450, 600, 300, 225, 300}
	var edges [][2]int
	for i := range 9 {
		edges = append(edges, [2]int{i / 3, i % 3})
	}
	r := rows(3, 3, edges)
	assert.InDelta(t, 850, simplex(t, cost, r[:5], false), 1e-9, "the sixth row follows from the others")
}

// As many lanes find a man as can be: a maximum matching is a linear programme
// whose corners are whole (Birkhoff; Koenig), so its optimum by gonum's simplex is
// the size that claim must find. Graphs of up to 7 lanes and 11 men, of every
// density, candidates in any order.
func TestMatchingAgainstTheLinearProgramme(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	short, rerouted := 0, 0
	for range 1000 {
		lanes, men, density := 1+r.IntN(7), 1+r.IntN(11), r.Float64()
		w := Work{cand: make([][]candidate, lanes), taken: make([]int, men), seen: make([]bool, men)}
		var edges [][2]int
		for l := range lanes {
			for _, k := range r.Perm(men) {
				if r.Float64() < density {
					edges = append(edges, [2]int{l, k})
					w.cand[l] = append(w.cand[l], candidate{man: k})
				}
			}
		}
		for k := range w.taken {
			w.taken[k] = -1
		}
		got, first := 0, map[int]bool{} // first: what taking the first free man would do
		for l := range lanes {
			clear(w.seen)
			if w.claim(l) {
				got++
			}
			for _, c := range w.cand[l] {
				if !first[c.man] {
					first[c.man] = true
					break
				}
			}
		}
		want := 0.0
		if len(edges) > 0 {
			cost := make([]float64, len(edges))
			for e := range cost {
				cost[e] = -1
			}
			want = -simplex(t, cost, rows(lanes, men, edges), true)
		}
		if math.Abs(want-float64(got)) > 1e-6 {
			t.Fatalf("%d lanes of %d are matched to %d men, the linear programme finds %g: %v", got, lanes, men, want, edges)
		}
		used := 0
		for k, l := range w.taken {
			if l < 0 {
				continue
			}
			used++
			has := false
			for _, c := range w.cand[l] {
				has = has || c.man == k
			}
			require.True(t, has, "man %d cannot fit lane %d", k, l)
		}
		require.Equal(t, got, used, "one man a lane")
		if got < lanes {
			short++
		}
		if got > len(first) {
			rerouted++
		}
	}
	assert.Greater(t, short, 150)
	assert.Greater(t, rerouted, 30, "graphs where the first free man is not good enough")
}
