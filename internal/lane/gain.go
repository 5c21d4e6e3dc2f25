package lane

import (
	"math"

	"halfline/internal/field"
	"halfline/internal/leverage"
)

// gains computes how deep a carrier gets in a lane before a defender meets him.
type gains struct {
	m       *Moment
	model   leverage.Model
	blocks  []Block
	blockOf []int

	lane  *Lane // that the gates are of
	gates [3]gate
	n     int
}

// gate is a way into a lane: where, and when the carrier can be there, running
// his quickest from the moment on.
type gate struct {
	at field.Vec
	t  float64
}

const (
	gateDepth = 1.0 // the carrier is in the lane 1 yd beyond the line
	gateIn    = 1.2 // gates lie this far from the lane's edges, and in the middle
	tick      = 0.1 // s between the moments at which a meeting is looked for
	lastGate  = 6.0 // beyond the last block he turns up within this many yards
	longest   = 20  // s: by then it has ended
)

// look finds the gates of a lane.
func (g *gains) look(l *Lane) {
	if g.lane == l {
		return
	}
	g.lane, g.n = l, 0
	in, out := l.Inner.Yards(), l.Outer.Yards()
	switch {
	case l.N == len(g.blocks):
		out = min(out-gateIn, in+lastGate)
		g.gate(min(in+1, out))
		g.gate((in + out) / 2)
		g.gate(max(out, in))
	case out-in < 2*gateIn:
		g.gate((in + out) / 2)
	default:
		g.gate(in + gateIn)
		g.gate((in + out) / 2)
		g.gate(out - gateIn)
	}
}

func (g *gains) gate(x float64) {
	from := g.m.Ball.Vec()
	at := field.Vec{X: x, Y: gateDepth}
	if from.Y >= at.Y {
		at.Y = from.Y + 0.5
	}
	g.gates[g.n] = gate{at, g.m.Carrier.TimeTo(from, g.m.Going, at, 0, 0)}
	g.n++
}

// path is where a carrier who takes a gate is at a time: straight to it and on
// upfield.
func (g *gains) path(w *gate, t float64) field.Vec {
	if t > w.t {
		return field.Vec{X: w.at.X, Y: w.at.Y + g.m.Carrier.Top*(t-w.t)}
	}
	from := g.m.Ball.Vec()
	return from.Add(w.at.Sub(from).Mul(t / w.t))
}

// first is the depth (yards beyond the line, cut at the model's Broke) at which
// the first defender meets a carrier who takes this lane by its best gate:
// everybody's place and velocity at the moment count, a blocked man is held up
// by his block.
func (g *gains) first(l *Lane) float64 {
	g.look(l)
	best := math.Inf(-1)
	var done [len(g.gates)]bool
	var at [len(g.gates)]field.Vec
	for t, left := tick, g.n; left > 0; t += tick {
		meet := func(i int, depth float64) {
			done[i] = true
			left--
			best = max(best, depth)
		}
		for i := range g.n {
			if done[i] {
				continue
			}
			if at[i] = g.path(&g.gates[i], t); at[i].Y >= g.model.Broke || t > longest {
				meet(i, g.model.Broke)
			}
		}
		for k := range g.m.Men {
			if g.m.Men[k].Late || left == 0 {
				continue
			}
			c, reach := g.disk(k, t)
			for i := range g.n {
				if d := c.Sub(at[i]); !done[i] && d.Dot(d) <= reach*reach {
					meet(i, at[i].Y)
				}
			}
		}
	}
	return best
}

// makes reports whether one defender alone meets the carrier within the limit,
// whichever gate of the lane he takes.
func (g *gains) makes(man int) bool {
	for i := range g.n {
		if !g.meets(man, &g.gates[i]) {
			return false
		}
	}
	return true
}

func (g *gains) meets(man int, w *gate) bool {
	for t := tick; ; t += tick {
		p := g.path(w, t)
		switch {
		case p.Y >= g.model.Broke || t > longest:
			return g.model.Broke <= g.model.Limit
		case p.Y > g.model.Limit:
			return false
		}
		c, reach := g.disk(man, t)
		if d := c.Sub(p); d.Dot(d) <= reach*reach {
			return true
		}
	}
}

// disk is all a defender can tackle at a time.
func (g *gains) disk(man int, t float64) (c field.Vec, reach float64) {
	d := &g.m.Men[man]
	at, act := d.At.Vec(), t-g.delay(man)
	var v field.Vec
	if d.Vel != nil {
		v = *d.Vel
		at = at.Add(v.Mul(t - max(act, 0)))
	}
	c, reach = d.Athlete.Disk(at, v, act)
	return c, reach + g.model.Tackle
}

// delay is how long a man is held before he can go for the ball: a free man
// needs to see it turn, a blocked man gets off soon on the side of his hat and
// late on the other.
func (g *gains) delay(man int) float64 {
	i := g.blockOf[man]
	if i < 0 {
		return g.model.Ball
	}
	if h := g.blocks[i].Hat; (h == In && g.lane.N <= i) || (h == Outside && g.lane.N > i) {
		return g.model.Loose
	}
	return g.model.Blocked
}
