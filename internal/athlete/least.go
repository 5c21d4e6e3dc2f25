package athlete

import "math"

// maxUnknowns is the most any fit here has: top speed, tau and one correction.
const maxUnknowns = 3

// unknowns are the numbers a fit looks for, in logarithms where they must stay
// positive.
type unknowns [maxUnknowns]float64

// model gives for split i what the unknowns predict minus what was timed, and
// how that grows with each unknown.
type model func(i int, at unknowns) (miss float64, grad unknowns)

// leastSquares finds near start the k unknowns that make the sum of squared
// misses of n splits least (Levenberg 1944, Marquardt 1963). Every step is kept
// within lo..hi; an answer at an end of that range means there is no least.
func leastSquares(n, k int, start, lo, hi unknowns, m model) (best unknowns, sse float64) {
	best = start
	a, g, sse := normal(n, k, best, m)
	for damp, round := 1e-3, 0; round < 500; round++ {
		step, ok := solve(k, a, g, damp)
		next, size := best, 0.0
		for j := range k {
			next[j] = min(max(best[j]-step[j], lo[j]), hi[j])
			size = max(size, math.Abs(next[j]-best[j]))
		}
		if ok && size < 1e-13 {
			break
		}
		na, ng, nsse := normal(n, k, next, m)
		if ok && nsse <= sse {
			best, a, g, sse = next, na, ng, nsse
			damp = max(damp/10, 1e-15)
			continue
		}
		if damp *= 10; damp > 1e15 {
			break
		}
	}
	return best, sse
}

// normal sums the normal equations: a = J'J, g = J'miss.
func normal(n, k int, at unknowns, m model) (a [maxUnknowns]unknowns, g unknowns, sse float64) {
	for i := range n {
		miss, grad := m(i, at)
		sse += miss * miss
		for r := range k {
			g[r] += grad[r] * miss
			for c := range k {
				a[r][c] += grad[r] * grad[c]
			}
		}
	}
	return a, g, sse
}

// solve solves (a + damp*diag(a)) x = g by elimination. a is positive definite,
// so the pivots need no search; ok is false where rounding ate one.
func solve(k int, a [maxUnknowns]unknowns, g unknowns, damp float64) (x unknowns, ok bool) {
	for j := range k {
		a[j][j] *= 1 + damp
	}
	for p := range k {
		if !(a[p][p] > 0) {
			return x, false
		}
		for r := p + 1; r < k; r++ {
			f := a[r][p] / a[p][p]
			for c := p; c < k; c++ {
				a[r][c] -= f * a[p][c]
			}
			g[r] -= f * g[p]
		}
	}
	for r := k - 1; r >= 0; r-- {
		x[r] = g[r]
		for c := r + 1; c < k; c++ {
			x[r] -= a[r][c] * x[c]
		}
		x[r] /= a[r][r]
	}
	return x, true
}
