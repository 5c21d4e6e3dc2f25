package rep

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"
)

// splitmix64 as its authors' text has it: a state that grows by the golden
// gamma, and a mix of it (Steele, Lea & Flood 2014, OOPSLA; the reference C code
// of Vigna 2015).
type splitmix64 struct{ state uint64 }

func (s *splitmix64) next() uint64 {
	s.state += 0x9e3779b97f4a7c15
	z := s.state
	z ^= z >> 30
	z *= 0xbf58476d1ce4e5b9
	z ^= z >> 27
	z *= 0x94d049bb133111eb
	z ^= z >> 31
	return z
}

// The first outputs for seed 1234567 as public test vectors have them (Rosetta
// Code, "Pseudo-random numbers/Splitmix64"), and the first two for seed 0 (status
// R); mix of a state is the output that follows it.
func TestMixIsSplitmix64(t *testing.T) {
	const golden = 0x9e3779b97f4a7c15
	known := []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821}
	s := splitmix64{1234567}
	for i, want := range known {
		assert.Equal(t, want, mix(1234567+uint64(i)*golden), "output %d", i+1)
		assert.Equal(t, want, s.next(), "output %d of the algorithm's text", i+1)
	}
	assert.Equal(t, uint64(0xe220a8397b1dcdaf), mix(0))
	assert.Equal(t, uint64(0x6e789e6aa1b965f4), mix(golden))

	for _, seed := range []uint64{0, 1, math.MaxUint64, 0x0123456789abcdef} {
		s := splitmix64{seed}
		for i := range uint64(10_000) {
			if got, want := mix(seed+i*golden), s.next(); got != want {
				t.Fatalf("seed %d, output %d: %d, want %d", seed, i+1, got, want)
			}
		}
	}
}

// limit is what a chi-square statistic of so many degrees of freedom stays below
// in 999 of 1000 fair samples.
func limit(df int) float64 { return distuv.ChiSquared{K: float64(df)}.Quantile(0.999) }

// chiSquare is Pearson's statistic of counts that should all be alike.
func chiSquare(counts []int) float64 {
	n := 0
	for _, c := range counts {
		n += c
	}
	want, sum := float64(n)/float64(len(counts)), 0.0
	for _, c := range counts {
		sum += (float64(c) - want) * (float64(c) - want) / want
	}
	return sum
}

// The yardstick first: NIST/SEMATECH e-Handbook 1.3.6.7.4, 0.999 at 5 degrees of
// freedom and 0.99 at 10 (status RC).
func TestChiSquareYardstick(t *testing.T) {
	assert.InDelta(t, 20.515, limit(5), 5e-4)
	assert.InDelta(t, 23.209, distuv.ChiSquared{K: 10}.Quantile(0.99), 5e-4)
	assert.InDelta(t, 1.959964, distuv.UnitNormal.Quantile(0.975), 5e-7)
	assert.Zero(t, chiSquare([]int{7, 7, 7}))
	assert.Greater(t, chiSquare([]int{0, 40}), limit(1))
}

// Every byte of mixed small numbers, which is what seeds and men are, is as good
// as any other.
func TestMixedNumbersAreUniform(t *testing.T) {
	for b := range 8 {
		counts := make([]int, 256)
		for n := range uint64(100_000) {
			counts[byte(mix(n)>>(8*b))]++
		}
		assert.Less(t, chiSquare(counts), limit(255), "byte %d", b)
	}
}

const drawsOf = 20_000 // seeds one after the other, as a cost takes them

// allPurposes are the purposes of draws, drawPlaceX first.
var allPurposes = []int{drawPlaceX, drawPlaceY, drawSpeed, drawReact, drawStart, drawHold, drawSight, drawThrow}

// slot is which of k equally likely slots of the normal distribution x lies in.
func slot(x float64, k int) int {
	return min(int(distuv.UnitNormal.CDF(x)*float64(k)), k-1)
}

// Draws are normal: in 20 equally likely slots, for every purpose and several
// men; and those beyond 2.5 standard deviations, one in 80, are cut there.
func TestDrawsAreNormal(t *testing.T) {
	for _, man := range []int{0, 1, 10, 21} {
		for _, purpose := range allPurposes {
			counts, cut := make([]int, 20), 0
			for seed := range uint64(drawsOf) {
				x := draw{seed, true}.normal(man, purpose)
				if math.Abs(x) > 2.5 || math.IsNaN(x) {
					t.Fatalf("seed %d: %g", seed, x)
				}
				if math.Abs(x) == 2.5 {
					cut++
				}
				counts[slot(x, 20)]++
			}
			what := fmt.Sprintf("man %d, purpose %d", man, purpose)
			assert.Less(t, chiSquare(counts), limit(19), what)
			p := 2 * distuv.UnitNormal.CDF(-2.5)
			assert.InDelta(t, p*drawsOf, cut, 4*math.Sqrt(p*drawsOf), what)
		}
	}
}

// together is the chi-square statistic of two draws in a table of 5 by 5 equally
// likely cells: about 24 when neither tells of the other.
func together(a, b func(seed uint64) float64) float64 {
	counts := make([]int, 25)
	for seed := range uint64(drawsOf) {
		counts[5*slot(a(seed), 5)+slot(b(seed), 5)]++
	}
	return chiSquare(counts)
}

// A draw tells nothing of another: of another purpose or man in the same rep, of
// the same man's in the next rep. The whole table is compared, so its margins
// count: 24 degrees of freedom. With a hundred pairs the level is a hundred times
// stricter, so that a fair generator passes.
func TestDrawsTellNothingOfEachOther(t *testing.T) {
	of := func(man, purpose int, later uint64) func(uint64) float64 {
		return func(seed uint64) float64 { return draw{seed + later, true}.normal(man, purpose) }
	}
	most := distuv.ChiSquared{K: 24}.Quantile(1 - 0.001/100)
	for i, p := range allPurposes {
		for _, q := range allPurposes[:i] {
			assert.Less(t, together(of(3, p, 0), of(3, q, 0)), most, "purposes %d and %d of a man", p, q)
		}
		for man := 1; man < 5; man++ {
			assert.Less(t, together(of(0, p, 0), of(man, p, 0)), most, "purpose %d of men 0 and %d", p, man)
		}
		for _, later := range []uint64{1, 2, 256} {
			assert.Less(t, together(of(2, p, 0), of(2, p, later)), most, "purpose %d, %d reps later", p, later)
		}
	}
	assert.Greater(t, together(of(2, drawHold, 0), of(2, drawHold, 0)), most, "the table does tell")
}

func TestWithoutSpreadNothingIsDrawn(t *testing.T) {
	for _, purpose := range allPurposes {
		assert.Zero(t, draw{seed: 7}.normal(1, purpose))
	}
	assert.Equal(t, draw{7, true}.normal(1, drawHold), draw{7, true}.normal(1, drawHold), "the same seed, the same draw")
	assert.NotEqual(t, draw{7, true}.normal(1, drawHold), draw{8, true}.normal(1, drawHold))
}
