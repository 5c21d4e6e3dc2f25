package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strings"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
)

const depthPage = `halfline depth [--book FILE] [--explain] --spot FS FILE

The depth window of one defender: standing across the field where his rule
likes him best, the depths at which he keeps leverage against every play of the
menu. Prints JSON. Exit 1 if there is none.
`

// depthOut is the answer of the command. Depths in yards from the ball.
type depthOut struct {
	Spot  string      `json:"spot"`
	From  *float64    `json:"from"`
	To    *float64    `json:"to"`
	Short string      `json:"short"` // what is lost when he stands shorter
	Deep  string      `json:"deep"`  // what is lost when he stands deeper
	Menu  []string    `json:"menu"`
	With  athleteUsed `json:"athlete"`
}

type athleteUsed struct {
	Top   float64 `json:"top"`
	Tau   float64 `json:"tau"`
	React float64 `json:"react"`
}

func depthCommand(_ context.Context, s stdio, args []string) int {
	fs := flag.NewFlagSet("depth", flag.ContinueOnError)
	bookFile := fs.String("book", "", "a staff's book instead of the built-in one")
	spot := fs.String("spot", "", "the defender")
	explain := fs.Bool("explain", false, explainUsage)
	if err := parse(s, fs, depthPage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() != 1 || *spot == "" {
		return s.fail(exitInput, fmt.Errorf("depth: want --spot and one file: halfline depth --spot FS FILE"))
	}
	sc, b, err := readScene(s, *bookFile, fs.Arg(0))
	if err != nil {
		return s.fail(exitInput, err)
	}
	board := judge.FromScene(sc, b)
	r, ok := judge.Depth(&board, *spot)
	if !ok {
		var have []string
		for _, d := range sc.Defense {
			have = append(have, d.Label)
		}
		return s.fail(exitInput, fmt.Errorf("depth: --spot %q: nobody in %s: want %s", *spot, fs.Arg(0), strings.Join(have, ", ")))
	}
	out := depthOut{Spot: r.Spot, Short: r.Short, Deep: r.Deep, Menu: r.MenuPlayed, With: athleteUsed{field.Round2(r.Top), r.Tau, r.React}}
	if r.OK {
		from, to := field.Round2(r.Window.Least), field.Round2(r.Window.Most)
		out.From, out.To = &from, &to
	}
	if err := json.NewEncoder(s.out).Encode(out); err != nil {
		return s.fail(exitMachine, fmt.Errorf("standard output: %w: free it", err))
	}
	if *explain {
		x := explaining{about: "depth", who: r.Spot, board: &board, book: b}
		if code := s.explain(out, x); code != exitDone {
			return code
		}
	}
	if !r.OK {
		return exitNo
	}
	return exitDone
}

// readScene reads a scene against a staff's book or the built-in one.
func readScene(s stdio, bookFile, file string) (*book.Scene, *book.Book, error) {
	b := book.Builtin()
	if bookFile != "" {
		data, err := readFile(s, bookFile)
		if err != nil {
			return nil, nil, err
		}
		if b, err = book.Read(bookFile, data); err != nil {
			return nil, nil, err
		}
	}
	data, err := readFile(s, file)
	if err != nil {
		return nil, nil, err
	}
	sc, err := book.ReadScene(file, data, b)
	return sc, b, err
}
