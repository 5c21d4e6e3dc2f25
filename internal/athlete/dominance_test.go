package athlete

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
)

// Standing men of equal speed divide the field into Voronoi cells, each the
// places nearest to its man (Taki & Hasegawa 1996/2000, cited in Brefeld et al
// 2019; Efthimiou 2021; status R; the worked point status RC).
func TestStandingDominanceIsVoronoi(t *testing.T) {
	three := []field.Vec{at(0, 0), at(4, 0), at(0, 4)}
	assert.Equal(t, 0, first(runner(7.8, 0.77), three, make([]field.Vec, 3), at(1, 1)), "the worked point")
	// Its cell ends half-way to the others.
	for _, c := range []struct {
		q    field.Vec
		want int
	}{{at(1.99, 0), 0}, {at(2.01, 0), 1}, {at(0, 1.99), 0}, {at(0, 2.01), 2}, {at(3, 2.99), 1}, {at(2.99, 3), 2}, {at(1.99, 1.99), 0}} {
		assert.Equal(t, c.want, first(runner(7.8, 0.77), three, make([]field.Vec, 3), c.q), "%v", c.q)
	}
}

// cells is testdata/voronoi.json: random standing men, and places with the man
// whose Voronoi cell holds them. The file names the library that made it, its
// version and the seed; places nearer than a hundredth of an inch to a border are
// left out.
type cells struct {
	Source string
	Seed   string
	Unit   string
	Sets   []struct {
		Men    [][2]float64
		Points [][3]float64
	}
}

// The cells of d3-delaunay 6.0.6 (npm), 60 sets of 2 to 22 men in general
// places, in one line and close together, 50 places each: whoever is there first
// is the man of the cell, for every athlete, in whatever order they are listed.
func TestStandingDominanceIsTheCellsOfD3(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "voronoi.json"))
	require.NoError(t, err)
	var g cells
	require.NoError(t, json.Unmarshal(data, &g))
	require.Contains(t, g.Source, "d3-delaunay 6.0.6")
	r := rand.New(rand.NewPCG(3, 0))
	checked := 0
	for n, set := range g.Sets {
		a := twinAthletes[n%len(twinAthletes)]
		order := r.Perm(len(set.Men))
		men, shuffled, still := make([]field.Vec, len(set.Men)), make([]field.Vec, len(set.Men)), make([]field.Vec, len(set.Men))
		for i, m := range set.Men {
			men[i] = at(m[0]/36, m[1]/36)
		}
		for i, k := range order {
			shuffled[i] = men[k]
		}
		for _, p := range set.Points {
			q, want := at(p[0]/36, p[1]/36), int(p[2])
			if got := first(a, men, still, q); got != want {
				t.Fatalf("set %d: %v lies in the cell of man %d, man %d is first", n, q, want, got)
			}
			if got := order[first(a, shuffled, still, q)]; got != want {
				t.Fatalf("set %d, listed otherwise: man %d is first at %v", n, got, q)
			}
			checked++
		}
	}
	assert.Equal(t, 3000, checked)
}

// With momentum the nearest man is not always the first: otherwise the Voronoi
// test would hold of any rule that ignores velocity (same sources, status R).
func TestMomentumMovesDominance(t *testing.T) {
	men, still := []field.Vec{at(-1, 0), at(1.2, 0)}, make([]field.Vec, 2)
	a := runner(7.8, 0.77)
	assert.Equal(t, 0, first(a, men, still, at(0, 0)))
	assert.Equal(t, 1, first(a, men, []field.Vec{at(-6, 0), {}}, at(0, 0)))
}

// first is who is at q first, without reach: in reach of two men it is nobody's.
func first(a Athlete, men, vel []field.Vec, q field.Vec) (who int) {
	best := math.Inf(1)
	for i, p := range men {
		if t := a.TimeTo(p, vel[i], q, 0.25, 0); t < best {
			who, best = i, t
		}
	}
	return who
}
