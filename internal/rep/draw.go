package rep

import "math"

// draw gives the numbers of one rep. Each is made from the seed, the man and the
// purpose alone, so that a rep played right and one played wrong share all that
// the error does not touch (common random numbers).
type draw struct {
	seed   uint64
	spread bool
}

// Purposes of draws.
const (
	drawPlaceX = iota
	drawPlaceY
	drawSpeed
	drawReact
	drawStart
	drawHold
	drawSight
	drawThrow
)

// mix is splitmix64's output function (Steele, Lea and Flood 2014).
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// cutAt is how many standard deviations a draw goes at most.
const cutAt = 2.5

// normal is a standard normal number, cut at cutAt either way; 0 without spread.
func (d draw) normal(man, purpose int) float64 {
	if !d.spread {
		return 0
	}
	h := mix(d.seed ^ mix(uint64(man)<<8|uint64(purpose)))
	u := (float64(h>>11) + 0.5) / (1 << 53)
	v := float64(mix(h)>>11) / (1 << 53)
	return min(max(math.Sqrt(-2*math.Log(u))*math.Cos(2*math.Pi*v), -cutAt), cutAt)
}

// Spread of a rep, one standard deviation: places in yd, speed as a share,
// times in s. Chosen in a trial.
const (
	sdPlace = 0.2
	sdSpeed = 0.04
	sdReact = 0.07
	sdStart = 0.04
	sdThrow = 0.06
	sdHold  = 0.35
	sdSight = 0.8 // yd a lane: error of the carrier's eye, drawn once
)
