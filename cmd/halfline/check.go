package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"halfline/internal/judge"
	"halfline/internal/strip"
	"halfline/internal/wire"
)

const checkPage = `halfline check [--book FILE] [--out json|svg] [--eyes offense|defense] [--explain] FILE

Reads one moment (*.scene.yaml, "-" for standard input) and prints as JSON:
whether the look is legal, who is which number, for every defender his rule,
whether he keeps leverage and by how much, the lanes, who broke what, and which
lane is right for the runner. --explain tells after it how each number came
about: formula and assumptions, how well founded, where they are changed. With a
motion also when it starts, when the numbers change, and who has to bump where.
--out svg draws the board instead: men, numbers, hats, where each rule lets its
man stand and who keeps leverage, or, in a frozen moment, the lanes.
Exit 1 if it is not sound. The model assumes level ground, best effort and the
stated speeds; the coach's eye governs.
`

// maxInput is read at most from a file or standard input.
const maxInput = 1<<20 + 1

func readFile(s stdio, name string) ([]byte, error) {
	var r io.Reader = s.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w: name a file that can be read", name, reason(err))
		}
		defer f.Close()
		r = f
	}
	data, err := io.ReadAll(io.LimitReader(r, maxInput))
	if err != nil {
		return nil, fmt.Errorf("%s: %w: name a file that can be read", name, reason(err))
	}
	return data, nil
}

// reason strips the operation and path from a file error; the caller names them.
func reason(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

func check(_ context.Context, s stdio, args []string) int {
	fs := flag.NewFlagSet("check", flag.ContinueOnError)
	bookFile := fs.String("book", "", "a staff's book instead of the built-in one")
	explain := fs.Bool("explain", false, explainUsage)
	out := fs.String("out", "json", "json or svg")
	eyes := fs.String("eyes", "offense", "whose eyes the picture is seen with: offense or defense")
	if err := parse(s, fs, checkPage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() != 1 {
		return s.fail(exitInput, fmt.Errorf("check: %d files: want one, or - for standard input", fs.NArg()))
	}
	if err := allowsCheck(*out, *eyes, *explain); err != nil {
		return s.fail(exitInput, err)
	}
	sc, b, err := readScene(s, *bookFile, fs.Arg(0))
	if err != nil {
		return s.fail(exitInput, err)
	}
	board := judge.FromScene(sc, b)
	res := judge.Run(&board)
	if *out == "svg" {
		seen := strip.Offense
		if *eyes == "defense" {
			seen = strip.Defense
		}
		if code := s.write(strip.Still(&board, &res, b.Caution, "", seen)); code != exitDone {
			return code
		}
	} else if code := s.answer(wire.AnswerOf(&board, &res), *explain, explaining{about: "check", board: &board, book: b}); code != exitDone {
		return code
	}
	if !res.Sound {
		return exitNo
	}
	return exitDone
}

func allowsCheck(out, eyes string, explain bool) error {
	switch {
	case out != "json" && out != "svg":
		return fmt.Errorf("check: --out: %q: want json or svg", out)
	case eyes != "offense" && eyes != "defense":
		return fmt.Errorf("check: --eyes: %q: want offense or defense", eyes)
	case explain && out == "svg":
		return fmt.Errorf("check: --explain: a picture has no room for it: use it with --out json")
	}
	return nil
}
