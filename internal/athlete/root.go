package athlete

import "math"

// Everything here is without units: times in tau, lengths in Top*tau.

// restTime is the x > 0 with x - (1-e^-x) = y, for y > 0: the time from rest to
// a distance y. Its closed form is y + 1 + W(-e^(-y-1)) with Lambert's W; the
// series of that form about its branch point, in r = sqrt(2y), is within 2 % up
// to y = 4.5, and one step of fourth order (one exponential) does the rest.
func restTime(y float64) float64 {
	if !(y < 36) {
		return y + 1 // e^-37 is below the rounding of 37
	}
	r := math.Sqrt(2 * y)
	x := y + 1 // the asymptote, above the root
	if r < 3 {
		x = r * (1 + r*(1./6+r*(1./36+r*(1./270+r*(1./4320-r*(1./17010))))))
		if r < 0.1 {
			return x // the series is exact to 1e-11, and x-(1-e^-x) would cancel
		}
	}
	for {
		e := decay(x)
		f1 := 1 - e
		inv := 1 / f1
		h := (x - f1 - y) * inv
		k := e * inv // f''/f' = -f'''/f'
		d := h * (1 + h*k*(0.5+h*(0.5*k+1./6)))
		x -= d
		if math.Abs(d) < 2e-3 {
			return x
		}
	}
}

// meetTime is the x > 0 with x - c*(1-e^-x) = a, for a > 0: the time at which a
// man reaches a line a ahead of the edge of his disk. c is 1 when he stands, less
// when he already moves towards the line and more when he moves away from it.
// The left side starts at 0, has at most one dip, below 0, and then only grows,
// so there is one root. It is found to 1e-6, and to 1e-8 if it is below 0.01 and
// c below 0.9: that is where the last step of a search ends.
func meetTime(a, c float64) float64 {
	// With 1-e^-x = x - x*x/2 it is a quadratic; the next term of the series
	// then corrects the quadratic's root.
	b := 1 - c
	disc := b*b + 2*c*a
	if !(disc > 0) {
		return meetFar(a, c, 0)
	}
	q := math.Sqrt(disc)
	x := 2 * a / (b + q)
	more := c * x * x * x / (6 * q)
	if x < 0.05 && more < 5e-5 {
		return x + more
	}
	return meetFar(a, c, x+more)
}

// meetFar finishes meetTime from the guess x.
func meetFar(a, c, x float64) float64 {
	hi := a + max(c, 0) // 1-e^-x is between 0 and 1
	if c < 0 {
		x = max(x, a/(1-c), a+c)
	}
	if !(x < hi) {
		x = hi
	}
	for range 32 {
		e := c * decay(x)
		f1 := 1 - e
		if f1 < 1e-3 {
			// Left of the bottom of the dip: start from the far side instead,
			// where the function is convex and growing.
			x = hi
			continue
		}
		inv := 1 / f1
		h := (x - c + e - a) * inv
		k := e * inv // f''/f' = -f'''/f'
		if hk := h * k; math.Abs(hk) < 0.25 {
			h += h * hk * (0.5 + h*(0.5*k+1./6)) // from Newton's step to the fourth order
		}
		x -= h
		if math.Abs(h) < 1e-2 {
			break
		}
	}
	return x
}
