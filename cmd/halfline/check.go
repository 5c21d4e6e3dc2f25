package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"halfline/internal/judge"
	"halfline/internal/wire"
)

const checkPage = `halfline check [--book FILE] [--explain] FILE

Reads one moment (*.scene.yaml, "-" for standard input) and prints as JSON:
whether the look is legal, who is which number, for every defender his rule,
whether he keeps leverage and by how much, the lanes, who broke what, and which
lane is right for the runner. --explain tells after it how each number came
about: formula and assumptions, how well founded, where they are changed. With a
motion also when it starts, when the numbers change, and who has to bump where.
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
	if err := parse(s, fs, checkPage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() != 1 {
		return s.fail(exitInput, fmt.Errorf("check: %d files: want one, or - for standard input", fs.NArg()))
	}
	sc, b, err := readScene(s, *bookFile, fs.Arg(0))
	if err != nil {
		return s.fail(exitInput, err)
	}
	board := judge.FromScene(sc, b)
	res := judge.Run(&board)
	if code := s.answer(wire.AnswerOf(&board, &res), *explain, explaining{about: "check", board: &board, book: b}); code != exitDone {
		return code
	}
	if !res.Sound {
		return exitNo
	}
	return exitDone
}
