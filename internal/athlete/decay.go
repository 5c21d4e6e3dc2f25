package athlete

import "math"

// decay is e^-s. Every figure of this package hangs on it, a rep takes it
// thousands of times, and math.Exp costs three times as much. s is cut into
// n/64 powers of two, which a table and the exponent bits supply, and a rest of
// at most ln2/128, for which five terms of the series are exact to the last digit.
func decay(s float64) float64 {
	if !(s >= 0 && s < 700) { // NaN, a step back in time, or as good as 0
		return math.Exp(-s)
	}
	n := int(s*(64*math.Log2E) + 0.5)
	m := float64(n)
	r := (m*ln2Hi - s) + m*ln2Lo
	p := 1 + r*(1+r*(1./2+r*(1./6+r*(1./24+r*(1./120)))))
	return p * halves[n&63] * math.Float64frombits(uint64(1023-n>>6)<<52)
}

// ln2/64 in two parts: the first has so few digits that n times it is exact.
const (
	ln2Hi = 0x1.62e42fefp-7
	ln2Lo = math.Ln2/64 - ln2Hi
)

// halves holds 2^(-j/64). It is never written again.
var halves = func() (h [64]float64) {
	for j := range h {
		h[j] = math.Exp2(-float64(j) / 64)
	}
	return h
}()
