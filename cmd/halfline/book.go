package main

import (
	"context"
	"errors"
	"flag"
	"fmt"

	"halfline/internal/book"
)

const bookPage = `halfline book check FILE

Reads a staff's book (*.book.yaml) and says what is in it, or every mistake
with line and column.
`

func bookCommand(_ context.Context, s stdio, args []string) int {
	fs := flag.NewFlagSet("book", flag.ContinueOnError)
	if err := parse(s, fs, bookPage, args); err != nil {
		if errors.Is(err, errHelp) {
			return exitDone
		}
		return s.fail(exitInput, err)
	}
	if fs.NArg() != 2 || fs.Arg(0) != "check" {
		return s.fail(exitInput, fmt.Errorf("book: what to do: want `halfline book check FILE`"))
	}
	data, err := readFile(s, fs.Arg(1))
	if err != nil {
		return s.fail(exitInput, err)
	}
	b, err := book.Read(fs.Arg(1), data)
	if err != nil {
		return s.fail(exitInput, err)
	}
	fmt.Fprintf(s.out, "%s: %d looks, %d calls, %d plays, %d men\n", b.Name, len(b.Looks), len(b.Calls), len(b.Plays), len(b.Squad))
	return exitDone
}
