package rep

import (
	"fmt"
	"slices"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// Error is a rule broken on purpose.
type Error string

const (
	Right           Error = ""
	OverTheTop            = Error(lane.OverTheTop)
	DucksUnder            = Error(lane.DucksUnder)
	EdgeInside            = Error(lane.EdgeLost)
	Late            Error = "late"
	WrongSideOfApex       = Error(lane.WrongLane)
)

// Errors lists them.
var Errors = []Error{OverTheTop, DucksUnder, EdgeInside, Late, WrongSideOfApex}

// lateBy is how much later a late man acts, s.
const lateBy = 0.4

// Possible says why a man's job makes an error impossible, or nothing.
func Possible(o lane.Order, e Error) error {
	fit := o.Fit
	switch {
	case !o.Known:
		return fmt.Errorf("the call gives him nothing against this play")
	case e == Late:
		return nil
	case e == OverTheTop && !(o.Blocked && fit.Hat == call.HatInside):
		return fmt.Errorf("over the top is wrong only for a man whose hat must be inside")
	case e == DucksUnder && !(o.Blocked && (fit.Hat == call.HatInside || fit.Job == call.Force)):
		return fmt.Errorf("only a blocked man in front of the ball can duck under")
	case e == EdgeInside && !(o.Blocked && fit.Hat != call.HatInside && fit.Hat != call.HatEither):
		return fmt.Errorf("only a man whose hat must be outside can lose the edge")
	case e == WrongSideOfApex && !(fit.Job == call.Alley && !fit.Spare):
		return fmt.Errorf("only the man who fits the alley can fit the wrong lane")
	case !slices.Contains(Errors, e):
		return fmt.Errorf("no such error")
	}
	return nil
}

// Rep is how one rep went. Places in out-terms, yards.
type Rep struct {
	Over  bool
	Gain  float64 // yards, cut at the model's Broke
	By    int     // who made the tackle, -1: nobody
	At    field.Vec
	Lane  int // the lane he took
	Time  float64
	Hats  []lane.Hat // by spot; "" if not blocked
	Trail []Frame
}

// Frame is where everybody is at a time.
type Frame struct {
	T    float64
	Ball field.Vec
	Men  []field.Vec // by spot
	By   []field.Vec // blockers, in the order of the picture's blocks
}

// keep notes a keyframe.
func (s *sim) keep() {
	if s.opt.Trace <= 0 || s.n%s.opt.Trace != 0 {
		return
	}
	f := Frame{T: s.t, Ball: s.ball.p}
	for i := range s.men {
		f.Men = append(f.Men, s.men[i].p)
	}
	for i := range s.bl {
		f.By = append(f.By, s.bl[i].p)
	}
	s.out.Trail = append(s.out.Trail, f)
}

// Spread is the outcome of many reps.
type Spread struct {
	Reps             int
	P10, Median, P90 float64
	Broke            float64 // share of 10 yards or more
	Tackles          []int   // by spot
	Hats             []map[lane.Hat]int
}

// Many plays reps on seeds first, first+1, ... with spread.
func Many(b *leverage.Board, p *leverage.Picture, opt Options, reps int) Spread {
	out := Spread{Reps: reps, Tackles: make([]int, len(b.Spots)), Hats: make([]map[lane.Hat]int, len(b.Spots))}
	for i := range out.Hats {
		out.Hats[i] = map[lane.Hat]int{}
	}
	gains := make([]float64, reps)
	opt.Spread = true
	first := opt.Seed
	for k := range reps {
		opt.Seed = first + uint64(k)
		r := Run(b, p, opt)
		gains[k] = r.Gain
		if r.By >= 0 {
			out.Tackles[r.By]++
		}
		for i, h := range r.Hats {
			out.Hats[i][h]++
		}
		if r.Gain >= 10 {
			out.Broke++
		}
	}
	slices.Sort(gains)
	at := func(q float64) float64 { return gains[min(int(q*float64(reps)), reps-1)] }
	out.P10, out.Median, out.P90 = at(0.1), at(0.5), at(0.9)
	out.Broke /= float64(reps)
	return out
}
