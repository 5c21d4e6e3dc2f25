package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strconv"
	"strings"

	"halfline/internal/athlete"
)

const athletePage = `halfline athlete --splits 10=1.75,20=2.95,40=5.10
halfline athlete --top V --tau T

Fits top speed and acceleration to timed splits from a stand (yards=seconds,
with --metres in metres), or runs given numbers forward. Prints JSON: top speed,
tau (s), first acceleration a0, the residual rse of the fit, and the times for
the distances of --at.
`

// athleteOut is the answer of the command.
type athleteOut struct {
	Top   float64   `json:"top"`
	Tau   float64   `json:"tau"`
	A0    float64   `json:"a0"`
	RSE   *float64  `json:"rse"` // null when nothing was fitted
	Times []timedAt `json:"times"`
}

type timedAt struct {
	At float64 `json:"at"`
	T  float64 `json:"t"`
}

func athleteCommand(_ context.Context, s stdio, args []string) int {
	fs := flag.NewFlagSet("athlete", flag.ContinueOnError)
	splits := fs.String("splits", "", "timed splits, distance=seconds with commas")
	metres := fs.Bool("metres", false, "distances in metres, speeds in m/s")
	at := fs.String("at", "10,20,40", "distances whose times are printed")
	top := fs.Float64("top", 0, "top speed, instead of splits")
	tau := fs.Float64("tau", 0, "acceleration time constant in s, with --top")
	if err := parse(s, fs, athletePage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() > 0 {
		return s.fail(exitInput, fmt.Errorf("athlete: %q: it takes flags only: see halfline athlete --help", fs.Arg(0)))
	}
	out, err := fitAthlete(*splits, *top, *tau, *metres)
	if err != nil {
		return s.fail(exitInput, err)
	}
	dist, err := numbers("--at", *at)
	if err != nil {
		return s.fail(exitInput, err)
	}
	a := athlete.Athlete{Top: out.Top, Tau: out.Tau}
	for _, d := range dist {
		out.Times = append(out.Times, timedAt{d, a.TimeFor(d)})
	}
	enc := json.NewEncoder(s.out)
	if err := enc.Encode(out); err != nil {
		return s.fail(exitMachine, fmt.Errorf("standard output: %w: free it", err))
	}
	return exitDone
}

// yardsPerMetre: 1 yd is 0.9144 m exactly.
const yardsPerMetre = 1 / 0.9144

func fitAthlete(splits string, top, tau float64, metres bool) (athleteOut, error) {
	unit := 1.0
	if metres {
		unit = yardsPerMetre
	}
	switch {
	case splits != "" && (top != 0 || tau != 0):
		return athleteOut{}, fmt.Errorf("athlete: both --splits and --top: give one")
	case splits == "":
		if err := (athlete.Athlete{Top: top * unit, Tau: tau}).Validate(); err != nil {
			return athleteOut{}, fmt.Errorf("athlete: --top %g --tau %g: %w", top, tau, err)
		}
		return athleteOut{Top: top, Tau: tau, A0: top / tau}, nil
	}
	var in []athlete.Split
	for _, p := range strings.Split(splits, ",") {
		d, t, ok := strings.Cut(p, "=")
		dv, err1 := strconv.ParseFloat(strings.TrimSpace(d), 64)
		tv, err2 := strconv.ParseFloat(strings.TrimSpace(t), 64)
		if !ok || err1 != nil || err2 != nil {
			return athleteOut{}, fmt.Errorf("athlete: --splits: %q: want distance=seconds, such as 10=1.75", p)
		}
		in = append(in, athlete.Split{At: dv, T: tv})
	}
	f, err := athlete.FitSplits(in)
	if err != nil {
		return athleteOut{}, fmt.Errorf("athlete: --splits: %w", err)
	}
	if err := (athlete.Athlete{Top: f.Top * unit, Tau: f.Tau}).Validate(); err != nil {
		return athleteOut{}, fmt.Errorf("athlete: --splits: %w", err)
	}
	return athleteOut{Top: f.Top, Tau: f.Tau, A0: f.A0, RSE: &f.RSE}, nil
}

func numbers(what, t string) ([]float64, error) {
	var out []float64
	for _, p := range strings.Split(t, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || v <= 0 || v > 200 {
			return nil, fmt.Errorf("athlete: %s: %q: want distances over 0, up to 200, with commas", what, p)
		}
		out = append(out, v)
	}
	return out, nil
}
