package lane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// over is when a run has ended, s.
const over = 20

// way is one way of the carrier into a lane: straight to a gate, his quickest,
// and on upfield.
type way struct {
	from, gate field.Vec
	there, top float64
}

// gatesOf are the ways into a lane: three, in the last lane 1, 3.5 and 6 yd
// outside of the last block, in a narrow one only its middle.
func gatesOf(inner, outer field.Inches, last bool) []float64 {
	in, out := inner.Yards(), max(outer, inner).Yards()
	switch {
	case last:
		out = math.Min(out-1.2, in+6)
		return []float64{math.Min(in+1, out), (in + out) / 2, math.Max(out, in)}
	case out-in < 2.4:
		return []float64{(in + out) / 2}
	}
	return []float64{in + 1.2, (in + out) / 2, out - 1.2}
}

func wayBy(m lane.Moment, x float64) way {
	w := way{from: m.Ball.Vec(), gate: field.Vec{X: x, Y: 1}, top: m.Carrier.Top}
	if w.from.Y >= 1 {
		w.gate.Y = w.from.Y + 0.5
	}
	w.there = m.Carrier.TimeTo(w.from, m.Going, w.gate, 0, 0)
	return w
}

func (w way) at(t float64) field.Vec {
	p := w.from.Add(w.gate.Sub(w.from).Mul(math.Min(t/w.there, 1)))
	if t > w.there {
		p.Y = w.gate.Y + w.top*(t-w.there)
	}
	return p
}

// slowReach is how far inside of what he can tackle at time t a place lies, for
// a man who keeps his velocity for delay seconds: the disk of the law written
// out with the standard exponential.
func slowReach(d lane.Man, delay, t, tackle float64, p field.Vec) float64 {
	var v field.Vec
	if d.Vel != nil {
		v = *d.Vel
	}
	act := math.Max(t-delay, 0)
	slip := d.Athlete.Tau * -math.Expm1(-act/d.Athlete.Tau)
	c := d.At.Vec().Add(v.Mul(t - act + slip))
	return d.Athlete.Top*(act-slip) + tackle - math.Hypot(c.X-p.X, c.Y-p.Y)
}

// slowSlack is how much free man k has to spare (yd) to meet the carrier within
// the gain limit, whichever of the gates he takes; below 0 he does not.
func slowSlack(m lane.Moment, gates []float64, k int, model leverage.Model) float64 {
	least := math.Inf(1)
	for _, x := range gates {
		w, most := wayBy(m, x), math.Inf(-1)
		for t := 0.1; ; t += 0.1 {
			p := w.at(t)
			if math.Abs(p.Y-model.Limit) < 1e-9 {
				return 0 // within the limit or beyond it: rounding decides
			}
			if p.Y > model.Limit || t > over {
				break
			}
			most = math.Max(most, slowReach(m.Men[k], model.Ball, t, model.Tackle, p))
		}
		least = math.Min(least, most)
	}
	return least
}

// slowGain is how deep a carrier gets in a lane: by the best of its gates, until
// the first man whose disk reaches him, looked at every tenth of a second.
func slowGain(m lane.Moment, got lane.Result, l lane.Lane, model leverage.Model) float64 {
	best := math.Inf(-1)
	for _, x := range gatesOf(l.Inner, l.Outer, l.N == len(got.Blocks)) {
		best = math.Max(best, slowMeeting(m, got, l.N, wayBy(m, x), model))
	}
	return best
}

func slowMeeting(m lane.Moment, got lane.Result, n int, w way, model leverage.Model) float64 {
	for t := 0.1; ; t += 0.1 {
		p := w.at(t)
		if p.Y >= model.Broke || t > over {
			return model.Broke
		}
		for k, d := range m.Men {
			delay := model.Ball
			for i, b := range got.Blocks {
				if b.On == k {
					delay = model.Blocked
					if b.Hat == lane.In && n <= i || b.Hat == lane.Outside && n > i {
						delay = model.Loose
					}
				}
			}
			if !d.Late && slowReach(d, delay, t, model.Tackle, p) >= 0 {
				return p.Y
			}
		}
	}
}

// Gains of moments with men in motion, against plain sums. How deep is the
// model's own; that a man in motion pays for it here is common practice, no
// source.
func TestGainsAgainstASlowTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	model := leverage.Default()
	met, made := 0, 0
	for n := range gainScenes {
		m := anyMoment(r)
		if n%2 == 0 {
			m = moving(r, m)
		}
		got := lane.Judge(m, model)
		for _, l := range got.Lanes {
			if l.ShutBy >= 0 {
				continue
			}
			want := slowGain(m, got, l, model)
			require.InDelta(t, want, l.Gain, 1e-6, "lane %d of %+v", l.N, m)
			if want < model.Broke {
				met++
			}
			if k := l.FitBy; k >= 0 && m.Men[k].Vel != nil && m.Men[k].Makes == nil {
				made++
				require.LessOrEqual(t, l.Gain, model.Limit+1e-6, "he alone meets him within the limit")
			}
		}
	}
	assert.Greater(t, met, gainScenes/2)
	assert.Greater(t, made, gainScenes/50)
}
