package athlete

import (
	"math"
	"math/rand/v2"

	"halfline/internal/field"
)

const yardsPerMetre = 1 / 0.9144

func at(x, y float64) field.Vec { return field.Vec{X: x, Y: y} }

// runner is an athlete by his two constants.
func runner(top, tau float64) Athlete { return Athlete{Top: top, Tau: tau} }

// scene is one question to TimeTo.
type scene struct {
	a            Athlete
	p, v, q      field.Vec
	delay, reach float64
}

func (s scene) timeTo() float64       { return s.a.TimeTo(s.p, s.v, s.q, s.delay, s.reach) }
func (s scene) by(t float64) bool     { return s.a.By(s.p, s.v, s.q, s.delay, s.reach, t) }
func (s scene) wider(r float64) scene { s.reach += r; return s }
func (s scene) gap(t float64) float64 { return slowGap(s, t) }
func (s scene) rest() bool            { return s.v == field.Vec{} }
func (s scene) straight() float64     { return (s.p.Dist(s.q) - s.reach) / max(s.a.Top, s.v.Norm()) }
func (s scene) pushAt(t float64) field.Vec {
	c, _ := s.a.Disk(s.p.Add(s.v.Mul(s.delay)), s.v, t-s.delay)
	return s.q.Sub(c).Unit()
}

// slowGap is how far out of reach q is at time t, written out plainly and with
// the standard exponential: the yardstick of the fast forms.
func slowGap(s scene, t float64) float64 {
	glide, radius := t, 0.0
	if act := t - s.delay; act > 0 {
		slip := s.a.Tau * -math.Expm1(-act/s.a.Tau)
		glide = s.delay + slip
		radius = s.a.Top * (act - slip)
	}
	return math.Hypot(s.q.X-s.p.X-s.v.X*glide, s.q.Y-s.p.Y-s.v.Y*glide) - radius - s.reach
}

// randomScene draws a moving man of a. Some are faster than his top speed, like
// a runner who from now on backpedals. Half of the places lie near his path,
// where he overruns them.
func randomScene(r *rand.Rand, a Athlete) scene {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	s := scene{
		a:     a,
		p:     at(between(-25, 25), between(-10, 20)),
		v:     turned(at(a.Top*between(0, 1.3), 0), between(0, 2*math.Pi)),
		delay: float64(r.IntN(800)) * scanStep,
		reach: between(0, 1),
	}
	if r.IntN(2) == 0 {
		ahead := s.v.Mul(between(0, s.delay+a.Tau/2))
		s.q = s.p.Add(ahead).Add(at(between(-1, 1), between(-1, 1)))
	} else {
		s.q = s.p.Add(at(between(-15, 15), between(-15, 15)))
	}
	return s
}

// turned turns v to the left by angle (radians).
func turned(v field.Vec, angle float64) field.Vec {
	sin, cos := math.Sincos(angle)
	return at(v.X*cos-v.Y*sin, v.X*sin+v.Y*cos)
}

// intercept is the first time at which a man standing at p can meet a runner
// who leaves q at the constant velocity u, found from TimeTo alone. The scan
// is fine enough for the single crossing that a faster man has.
func intercept(a Athlete, p, q, u field.Vec, latest float64) (t float64, ok bool) {
	late := func(t float64) bool { return a.TimeTo(p, field.Vec{}, q.Add(u.Mul(t)), 0, 0) > t }
	const step = 0.01
	for t = 0; late(t); t += step {
		if t > latest {
			return 0, false
		}
	}
	lo, hi := t-step, t
	for range 60 {
		if m := (lo + hi) / 2; late(m) {
			lo = m
		} else {
			hi = m
		}
	}
	return hi, true
}
