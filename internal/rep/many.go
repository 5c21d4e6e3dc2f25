package rep

import (
	"slices"

	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// Spread is the outcome of many reps.
type Spread struct {
	Reps             int
	P10, Median, P90 float64
	Broke            float64 // share of 10 yards or more
	Tackles          []int   // by spot
	Saved            []int   // by spot: tackles no deeper than the model's limit
	Hats             []map[lane.Hat]int
	// Of a pass, by route: the share of reps in which its man was free, and the
	// median of his best ball's margin (s). AnyFree is the share with somebody free.
	Free    []float64
	Margin  []float64
	AnyFree float64
}

// Many plays reps on seeds first, first+1, ... with spread.
func Many(b *leverage.Board, p *leverage.Picture, opt Options, reps int) Spread {
	out := Spread{Reps: reps, Tackles: make([]int, len(b.Spots)), Saved: make([]int, len(b.Spots)), Hats: make([]map[lane.Hat]int, len(b.Spots)), Free: make([]float64, len(p.Routes))}
	for i := range out.Hats {
		out.Hats[i] = map[lane.Hat]int{}
	}
	gains := make([]float64, reps)
	margins := make([][]float64, len(p.Routes))
	opt.Spread, opt.Trace = true, 0
	first := opt.Seed
	for k := range reps {
		opt.Seed = first + uint64(k)
		r := Run(b, p, opt)
		gains[k] = r.Gain
		if r.By >= 0 {
			out.Tackles[r.By]++
			if r.Gain <= b.Model.Limit {
				out.Saved[r.By]++
			}
		}
		for i, h := range r.Hats {
			out.Hats[i][h]++
		}
		if r.Gain >= BrokeFrom {
			out.Broke++
		}
		free := false
		for i, ball := range r.Best {
			margins[i] = append(margins[i], ball.Margin)
			if ball.Margin > FreeBy {
				out.Free[i]++
				free = true
			}
		}
		if free {
			out.AnyFree++
		}
	}
	out.P10, out.Median, out.P90 = share(gains, 0.1), share(gains, 0.5), share(gains, 0.9)
	out.Broke /= float64(reps)
	out.AnyFree /= float64(reps)
	for i := range out.Free {
		out.Free[i] /= float64(reps)
		out.Margin = append(out.Margin, share(margins[i], 0.5))
	}
	return out
}

// share is the value below which a share of xs lies. It sorts xs.
func share(xs []float64, q float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	slices.Sort(xs)
	return xs[min(int(q*float64(len(xs))), len(xs)-1)]
}
