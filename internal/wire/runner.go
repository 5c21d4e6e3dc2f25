package wire

import (
	"halfline/internal/field"
	"halfline/internal/judge"
)

// RunnerAnswer is the offense's side of the lanes.
type RunnerAnswer struct {
	Lane    int               `json:"lane"` // the right one for the carrier, given the hats
	GainYd  float64           `json:"gain_yd"`
	FitBy   string            `json:"fit_by"` // who is in time for it; "": it is open
	Because string            `json:"because"`
	Lost    []LostBlockAnswer `json:"lost"`
}

// LostBlockAnswer is a lane that a block lost: the hat of its man shuts it.
type LostBlockAnswer struct {
	By      string `json:"by"`
	On      string `json:"on"`
	Lane    int    `json:"lane"`
	Because string `json:"because"`
}

// RunnerOf is the runner's part of a result, nil without lanes.
func RunnerOf(r *judge.Result) *RunnerAnswer {
	if r.Runner.Lane < 0 {
		return nil
	}
	a := &RunnerAnswer{Lane: r.Runner.Lane, GainYd: field.Round2(r.Runner.Gain), FitBy: r.Runner.Fit, Because: r.Runner.Because(), Lost: []LostBlockAnswer{}}
	for i := range r.Runner.Lost {
		b := &r.Runner.Lost[i]
		a.Lost = append(a.Lost, LostBlockAnswer{By: b.By, On: b.On, Lane: b.Lane, Because: b.Because()})
	}
	return a
}
