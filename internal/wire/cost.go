package wire

import (
	"slices"
	"strings"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/rep"
	"halfline/internal/session"
)

// CostOut is what the errors of the rep that is shown cost: its play run many
// times with spread, right and with the errors, on the same seeds.
type CostOut struct {
	Play   string           `json:"play"`
	Errors []session.Broken `json:"errors"` // by spot
	Lane   int              `json:"lane"`   // the one the carrier must take, right and wrong; -1: he chooses
	Reps   int              `json:"reps"`   // each way
	Right  CostSpread       `json:"right"`
	Wrong  CostSpread       `json:"wrong"`
	// SavedBy is who, of the others, made most tackles within the limit in spite
	// of the errors, "" if nobody made one, and Saved the share of reps in which
	// he did. Themselves is the share in which those at fault made it.
	SavedBy    string  `json:"saved_by"`
	Saved      float64 `json:"saved"`
	Themselves float64 `json:"themselves"`
}

// CostSpread is the outcome of many reps. Gains are yards, cut by the model at 15.
// Of a pass they are null: it is about who is free.
type CostSpread struct {
	P10    *float64 `json:"p10"`
	Median *float64 `json:"median"`
	P90    *float64 `json:"p90"`
	Broke  *float64 `json:"broke"` // share of 10 yd or more
	Free   *float64 `json:"free"`  // of a pass: share of reps with somebody free
}

// CostOf sets a rep with errors beside the same played right.
func CostOf(shown *session.Rep, r *judge.Reps, opt rep.Options, right, wrong *rep.Spread) CostOut {
	pass := r.Picture.Play.Kind == play.Pass
	out := CostOut{Play: shown.Play, Errors: []session.Broken{}, Lane: shown.Lane, Reps: wrong.Reps,
		Right: costSpread(right, pass), Wrong: costSpread(wrong, pass)}
	for spot, rule := range shown.Errors {
		out.Errors = append(out.Errors, session.Broken{Spot: spot, Rule: rule})
	}
	slices.SortFunc(out.Errors, func(a, b session.Broken) int { return strings.Compare(a.Spot, b.Spot) })
	if pass {
		return out
	}
	share := func(n int) float64 { return field.Round2(float64(n) / float64(wrong.Reps)) }
	if who, n := wrong.SavedMost(opt.Errors); n > 0 {
		out.SavedBy, out.Saved = r.Labels[who], share(n)
	}
	own := 0
	for i := range opt.Errors {
		own += wrong.Saved[i]
	}
	out.Themselves = share(own)
	return out
}

func costSpread(s *rep.Spread, pass bool) CostSpread {
	rounded := func(v float64) *float64 {
		v = field.Round2(v)
		return &v
	}
	if pass {
		return CostSpread{Free: rounded(s.AnyFree)}
	}
	return CostSpread{P10: rounded(s.P10), Median: rounded(s.Median), P90: rounded(s.P90), Broke: rounded(s.Broke)}
}
