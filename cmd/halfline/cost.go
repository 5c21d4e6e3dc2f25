package main

import (
	"context"
	"math"
	"slices"

	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/rep"
)

const costPage = `halfline cost [--book FILE] [--reps N] [--seed N] [--error N=over-the-top,...] [--explain] FILE

Plays the scene's play many times, right and with each named error on the same
seeds, and prints the spread of the gain: 10th, 50th and 90th percentile, the
share that broke (10 yd or more), who made the tackles, what the error adds to
the median, who saved it. Of a pass it prints for every receiver the share of
reps in which he was free, and the median of the best ball's margin. Without
--error every error that a man's job makes possible is tried. A cost of zero is
shown as zero. With the answer come the settings that it hangs on.
`

// costOut is the answer of cost.
type costOut struct {
	Play     string      `json:"play"`
	Reps     int         `json:"reps"`
	Seed     uint64      `json:"seed"`
	Right    spreadOut   `json:"right"`
	Wrong    []wrongOut  `json:"wrong"`
	Notes    []string    `json:"notes"`
	Settings settingsOut `json:"settings"`
}

// spreadOut is the outcome of many reps. A pass has no gain here: whether a
// receiver is free is what it is about, so its yards are null.
type spreadOut struct {
	P10     *float64       `json:"p10"`
	Median  *float64       `json:"median"`
	P90     *float64       `json:"p90"`
	Broke   *float64       `json:"broke"`
	Tackles map[string]int `json:"tackles"`
	AnyFree *float64       `json:"any_free"` // of a pass: share of reps with somebody free
	Free    []freeShareOut `json:"free"`     // of a pass: every receiver who could be thrown to
}

type freeShareOut struct {
	Who     string  `json:"who"`
	Share   float64 `json:"share"`
	MarginS float64 `json:"margin_s"` // median; below 0 the ball is late
}

// wrongOut is one error. CostYd is what it adds to the median gain, CostBroke to
// the share that broke, CostFree to the share with somebody free.
type wrongOut struct {
	Who       string   `json:"who"`
	Error     string   `json:"error"`
	CostYd    *float64 `json:"cost_yd"`
	CostBroke *float64 `json:"cost_broke"`
	CostFree  *float64 `json:"cost_free"`
	SavedBy   string   `json:"saved_by"` // of the others who made most tackles within the limit; "": nobody did
	Saved     float64  `json:"saved"`    // share of reps in which he did
	Himself   float64  `json:"himself"`  // share in which the man at fault tackled within the limit himself
	spreadOut
}

// settingsOut is everything that can be changed and that the answer hangs on.
type settingsOut struct {
	Athletes map[string]athleteUsed `json:"athletes"` // by tag and spot, yd/s and s
	Carry    float64                `json:"carry"`    // share of his speed that a man keeps with the ball
	Model    modelOut               `json:"model"`
	Spread   deviationsOut          `json:"spread"`
}

type modelOut struct {
	Set      float64 `json:"set_s"`
	StalkSet float64 `json:"stalk_set_s"`
	Limit    float64 `json:"gain_limit_yd"`
	Hold     float64 `json:"hold_s"`
	LetGo    float64 `json:"let_go_s"`
	Ball     float64 `json:"ball_reaction_s"`
	Band     float64 `json:"band_s"`
	Tackle   float64 `json:"tackle_yd"`
	Cut      float64 `json:"cut_yd"`
	Match    float64 `json:"match_line_yd"`
}

type deviationsOut struct {
	Place float64 `json:"place_yd"`
	Speed float64 `json:"speed_share"`
	React float64 `json:"react_s"`
	Start float64 `json:"start_s"`
	Throw float64 `json:"throw_s"`
	Hold  float64 `json:"hold_s"`
	Sight float64 `json:"sight_yd"`
	Cut   float64 `json:"cut_sd"`
}

func costCommand(_ context.Context, s stdio, args []string) int {
	t, code := readTrial(s, "cost", costPage, args, (*trialFlags).costFlags, allowsCost)
	if t == nil {
		return code
	}
	r := t.ready
	opt := rep.Options{Seed: t.seed, Force: -1}
	right := rep.Many(r.Board, r.Picture, opt, t.reps)
	out := costOut{Play: r.Picture.Play.ID, Reps: t.reps, Seed: t.seed, Right: spreadOf(r, &right), Wrong: []wrongOut{},
		Notes: []string{"same seeds right and wrong", "yards are cut at 15", "broke: 10 yd or more", "a model: compare right with one error, never two calls"}, Settings: settingsOf(t)}
	for i, label := range r.Labels {
		for _, e := range rep.Errors {
			if len(t.errs) > 0 && !slices.Contains(t.errs, namedError{label, e}) {
				continue
			}
			if _, err := r.Error(label, e); err != nil {
				continue
			}
			o := opt
			o.Errors = map[int]rep.Error{i: e}
			wrong := rep.Many(r.Board, r.Picture, o, t.reps)
			out.Wrong = append(out.Wrong, wrongOf(r, i, e, &right, &wrong))
		}
	}
	return s.answer(out, t.explain, explaining{about: "cost", board: &t.board, book: t.staff})
}

func isPass(r *judge.Reps) bool { return r.Picture.Play.Kind == play.Pass }

func spreadOf(r *judge.Reps, s *rep.Spread) spreadOut {
	out := spreadOut{Tackles: map[string]int{}, Free: []freeShareOut{}}
	if isPass(r) {
		out.AnyFree = rounded(s.AnyFree)
		for k := range s.Free {
			if m := s.Margin[k]; !math.IsInf(m, 0) { // a screen is always there to be thrown; that frees nobody
				out.Free = append(out.Free, freeShareOut{r.Board.Men[r.Picture.Routes[k].By].Man.Tag, field.Round2(s.Free[k]), field.Round2(m)})
			}
		}
		return out
	}
	out.P10, out.Median, out.P90, out.Broke = rounded(s.P10), rounded(s.Median), rounded(s.P90), rounded(s.Broke)
	for i, l := range r.Labels {
		out.Tackles[l] = s.Tackles[i]
	}
	return out
}

// wrongOf sets an error beside the same reps played right.
func wrongOf(r *judge.Reps, spot int, e rep.Error, right, wrong *rep.Spread) wrongOut {
	out := wrongOut{Who: r.Labels[spot], Error: string(e), spreadOut: spreadOf(r, wrong)}
	if isPass(r) {
		out.CostFree = rounded(wrong.AnyFree - right.AnyFree)
		return out
	}
	out.CostYd, out.CostBroke = rounded(wrong.Median-right.Median), rounded(wrong.Broke-right.Broke)
	share := func(n int) float64 { return field.Round2(float64(n) / float64(wrong.Reps)) }
	out.Himself = share(wrong.Saved[spot])
	if who, n := wrong.SavedMost(map[int]rep.Error{spot: e}); n > 0 {
		out.SavedBy, out.Saved = r.Labels[who], share(n)
	}
	return out
}

func rounded(v float64) *float64 {
	v = field.Round2(v)
	return &v
}

func used(a athlete.Athlete) athleteUsed {
	return athleteUsed{field.Round2(a.Top), field.Round2(a.Tau), field.Round2(a.React)}
}

func settingsOf(t *trial) settingsOut {
	out := settingsOut{Athletes: map[string]athleteUsed{}, Carry: field.Round2(t.board.Carry)}
	for i := range t.board.Men {
		out.Athletes[t.board.Men[i].Tag] = used(t.board.Men[i].Athlete)
	}
	for i := range t.board.Spots {
		out.Athletes[t.board.Spots[i].Label] = used(t.board.Spots[i].Athlete)
	}
	m, d := &t.board.Model, rep.SpreadOf()
	out.Model = modelOut{Set: m.Set, StalkSet: m.StalkSet, Limit: m.Limit, Hold: m.Blocked, LetGo: m.Loose, Ball: m.Ball, Band: m.Band, Tackle: m.Tackle, Cut: m.Broke, Match: m.Match}
	out.Spread = deviationsOut{Place: d.Place, Speed: d.Speed, React: d.React, Start: d.Start, Throw: d.Throw, Hold: d.Hold, Sight: d.Sight, Cut: d.Cut}
	return out
}
