package lane

import (
	"math"

	"halfline/internal/field"
	"halfline/internal/leverage"
)

// gains computes how deep a carrier gets in a lane before a defender meets him.
type gains struct {
	m      Moment
	model  leverage.Model
	blocks []Block
}

const (
	gateDepth = 1.0 // the carrier is in the lane 1 yd beyond the line
	gateIn    = 1.2 // gates lie this far from the lane's edges, and in the middle
	tick      = 0.1 // s between the moments at which a meeting is looked for
	lastGate  = 6.0 // beyond the last block he turns up within this many yards
)

// first is the depth (yards beyond the line, cut at the model's Broke) at which
// the first defender meets a carrier who takes this lane by its best gate:
// everybody's place and velocity at the moment count, a blocked man is held up
// by his block.
func (g *gains) first(l Lane) float64 {
	best := math.Inf(-1)
	for _, x := range g.gates(l) {
		d := g.model.Broke
		for k := range g.m.Men {
			if !g.m.Men[k].Late {
				d = min(d, g.meet(x, k, l.N))
			}
		}
		best = max(best, d)
	}
	return best
}

// by is the same against one defender only.
func (g *gains) by(l Lane, man int) float64 {
	best := math.Inf(-1)
	for _, x := range g.gates(l) {
		best = max(best, g.meet(x, man, l.N))
	}
	return best
}

func (g *gains) gates(l Lane) []float64 {
	in, out := l.Inner.Yards(), l.Outer.Yards()
	if l.N == len(g.blocks) {
		out = min(out-gateIn, in+lastGate)
		return []float64{min(in+1, out), (in + out) / 2, max(out, in)}
	}
	if out-in < 2*gateIn {
		return []float64{(in + out) / 2}
	}
	return []float64{in + gateIn, (in + out) / 2, out - gateIn}
}

// meet is the depth at which one defender meets a carrier who runs his quickest
// way to the gate at x and on upfield.
func (g *gains) meet(x float64, man int, lane int) float64 {
	gate := field.Vec{X: x, Y: gateDepth}
	from := g.m.Ball.Vec()
	if from.Y >= gate.Y {
		gate.Y = from.Y + 0.5
	}
	tg := g.m.Carrier.TimeTo(from, g.m.Going, gate, 0, 0)
	d := &g.m.Men[man]
	var v field.Vec
	if d.Vel != nil {
		v = *d.Vel
	}
	delay := g.delay(man, lane)
	for t := tick; ; t += tick {
		p := from.Add(gate.Sub(from).Mul(min(t/tg, 1)))
		if t > tg {
			p.Y = gate.Y + g.m.Carrier.Top*(t-tg)
		}
		if p.Y >= g.model.Broke {
			return g.model.Broke
		}
		if d.Athlete.By(d.At.Vec(), v, p, delay, g.model.Tackle, t) {
			return p.Y
		}
	}
}

// delay is how long a man is held before he can go for the ball: a free man
// needs to see it turn, a blocked man gets off soon on the side of his hat and
// late on the other.
func (g *gains) delay(man, lane int) float64 {
	for i, b := range g.blocks {
		if b.On != man {
			continue
		}
		if (b.Hat == In && lane <= i) || (b.Hat == Outside && lane > i) {
			return g.model.Loose
		}
		return g.model.Blocked
	}
	return g.model.Ball
}
