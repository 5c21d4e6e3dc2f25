package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strings"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
)

const repPage = `halfline rep [--book FILE] [--out json|trace] [--seed N] [--error N=over-the-top] FILE

Runs one rep of the scene's play from the snap and prints how it went: the gain
(cut at 15 yd), who made the tackle, which lane the ball took, where every hat
ended. --out trace adds where everybody was, ten times a second. With --seed the
rep has the spread of real ones; without it everybody is at his stated best.
A rep is a lesson, not a forecast: no strength, no missed tackles, nobody behind.
`

const costPage = `halfline cost [--book FILE] [--reps N] [--seed N] [--error N=over-the-top,...] FILE

Plays the scene's play many times, right and with each named error on the same
seeds, and prints the spread of the gain: 10th, 50th and 90th percentile, the
share that broke (10 yd or more), who made the tackles. Without --error every
error that a man's job makes possible is tried. A cost of zero is shown as zero.
`

// repOut is the answer of rep. Places in yards from the ball, field terms.
type repOut struct {
	Play   string            `json:"play"`
	GainYd float64           `json:"gain_yd"`
	Broke  bool              `json:"broke"`
	Tackle string            `json:"tackle"`
	Lane   int               `json:"lane"`
	TimeS  float64           `json:"time_s"`
	Hats   map[string]string `json:"hats"`
	Trace  []frameOut        `json:"trace,omitempty"`
}

type frameOut struct {
	T    float64               `json:"t"`
	Ball [2]float64            `json:"ball"`
	Men  map[string][2]float64 `json:"men"`
}

// costOut is the answer of cost.
type costOut struct {
	Play  string     `json:"play"`
	Reps  int        `json:"reps"`
	Seed  uint64     `json:"seed"`
	Right spreadOut  `json:"right"`
	Wrong []wrongOut `json:"wrong"`
	Notes []string   `json:"notes"`
}

type spreadOut struct {
	P10     float64        `json:"p10"`
	Median  float64        `json:"median"`
	P90     float64        `json:"p90"`
	Broke   float64        `json:"broke"`
	Tackles map[string]int `json:"tackles"`
}

type wrongOut struct {
	Who   string `json:"who"`
	Error string `json:"error"`
	spreadOut
}

// trialFlags are what both commands take.
type trialFlags struct {
	book, errors, out string
	seed              uint64
	seeded            bool
	reps              int
}

func trial(s stdio, name, page string, args []string, f *trialFlags) (*judge.Reps, int) {
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	fs.StringVar(&f.book, "book", "", "a staff's book instead of the built-in one")
	fs.StringVar(&f.errors, "error", "", "rules broken on purpose: SPOT=ERROR, with commas")
	fs.Uint64Var(&f.seed, "seed", 0, "seed of the spread")
	if name == "rep" {
		fs.StringVar(&f.out, "out", "json", "json or trace")
	} else {
		fs.IntVar(&f.reps, "reps", 1000, "reps of each")
	}
	if err := parse(s, fs, page, args); err != nil {
		if errors.Is(err, errHelp) {
			return nil, exitDone
		}
		return nil, s.fail(exitInput, err)
	}
	fs.Visit(func(x *flag.Flag) { f.seeded = f.seeded || x.Name == "seed" })
	if fs.NArg() != 1 {
		return nil, s.fail(exitInput, fmt.Errorf("%s: %d files: want one, or - for standard input", name, fs.NArg()))
	}
	if name == "rep" && f.out != "json" && f.out != "trace" {
		return nil, s.fail(exitInput, fmt.Errorf("rep: --out: %q: want json or trace", f.out))
	}
	if name == "cost" && (f.reps < 10 || f.reps > 100000) {
		return nil, s.fail(exitInput, fmt.Errorf("cost: --reps: %d: want 10 to 100000", f.reps))
	}
	sc, b, err := readScene(s, f.book, fs.Arg(0))
	if err != nil {
		return nil, s.fail(exitInput, err)
	}
	board := judge.FromScene(sc, b)
	r, err := judge.NewReps(&board, sc.Play)
	if err != nil {
		return nil, s.fail(exitInput, fmt.Errorf("%s: %w", fs.Arg(0), err))
	}
	return r, -1
}

// namedErrors reads SPOT=ERROR,... .
func namedErrors(r *judge.Reps, t string) (map[int]rep.Error, error) {
	out := map[int]rep.Error{}
	for _, p := range list(t) {
		who, what, ok := strings.Cut(p, "=")
		if !ok {
			return nil, fmt.Errorf("--error: %q: want SPOT=ERROR, such as N=over-the-top", p)
		}
		i, err := r.Error(who, rep.Error(what))
		if err != nil {
			return nil, fmt.Errorf("--error: %w: want one of %s, fitting his job", err, errorNames())
		}
		out[i] = rep.Error(what)
	}
	return out, nil
}

func errorNames() string {
	var n []string
	for _, e := range rep.Errors {
		n = append(n, string(e))
	}
	return strings.Join(n, ", ")
}

func repCommand(_ context.Context, s stdio, args []string) int {
	var f trialFlags
	r, code := trial(s, "rep", repPage, args, &f)
	if r == nil {
		return code
	}
	errs, err := namedErrors(r, f.errors)
	if err != nil {
		return s.fail(exitInput, err)
	}
	opt := rep.Options{Seed: f.seed, Spread: f.seeded, Force: -1, Errors: errs}
	if f.out == "trace" {
		opt.Trace = 6
	}
	res := rep.Run(r.Board, r.Picture, opt)
	out := repOut{Play: r.Picture.Play.ID, GainYd: field.Round2(res.Gain), Broke: res.Gain >= 10, Lane: res.Lane, TimeS: field.Round2(res.Time), Hats: map[string]string{}}
	if res.By >= 0 {
		out.Tackle = r.Labels[res.By]
	}
	for i, h := range res.Hats {
		if h != "" {
			out.Hats[r.Labels[i]] = string(h)
		}
	}
	side := r.Board.Side
	at := func(v field.Vec) [2]float64 {
		v = side.Flip(v)
		return [2]float64{field.Round2(v.X), field.Round2(v.Y)}
	}
	for _, fr := range res.Trail {
		o := frameOut{T: field.Round2(fr.T), Ball: at(fr.Ball), Men: map[string][2]float64{}}
		for i, p := range fr.Men {
			o.Men[r.Labels[i]] = at(p)
		}
		for i, p := range fr.Off {
			o.Men[r.Board.Men[i].Man.Tag] = at(p)
		}
		out.Trace = append(out.Trace, o)
	}
	return s.print(out)
}

func costCommand(_ context.Context, s stdio, args []string) int {
	var f trialFlags
	r, code := trial(s, "cost", costPage, args, &f)
	if r == nil {
		return code
	}
	errs, err := namedErrors(r, f.errors)
	if err != nil {
		return s.fail(exitInput, err)
	}
	opt := rep.Options{Seed: f.seed, Force: -1}
	out := costOut{Play: r.Picture.Play.ID, Reps: f.reps, Seed: f.seed, Right: spreadOf(r, opt, f.reps), Wrong: []wrongOut{},
		Notes: []string{"same seeds right and wrong", "yards are cut at 15", "broke: 10 yd or more", "a model: compare right with one error, never two calls"}}
	for i, label := range r.Labels {
		for _, e := range rep.Errors {
			if given, ok := errs[i]; len(errs) > 0 && (!ok || given != e) {
				continue
			}
			if _, err := r.Error(label, e); err != nil {
				continue
			}
			o := opt
			o.Errors = map[int]rep.Error{i: e}
			out.Wrong = append(out.Wrong, wrongOut{label, string(e), spreadOf(r, o, f.reps)})
		}
	}
	return s.print(out)
}

func spreadOf(r *judge.Reps, o rep.Options, n int) spreadOut {
	s := rep.Many(r.Board, r.Picture, o, n)
	out := spreadOut{P10: field.Round2(s.P10), Median: field.Round2(s.Median), P90: field.Round2(s.P90), Broke: field.Round2(s.Broke), Tackles: map[string]int{}}
	for i, l := range r.Labels {
		out.Tackles[l] = s.Tackles[i]
	}
	return out
}

// print writes an answer as JSON.
func (s stdio) print(v any) int {
	enc := json.NewEncoder(s.out)
	enc.SetIndent("", " ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return s.fail(exitMachine, fmt.Errorf("standard output: %w: free it", err))
	}
	return exitDone
}
