package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"halfline/internal/book"
	"halfline/internal/call"
)

const bookPage = `halfline book check FILE

Reads a staff's book (*.book.yaml) and says what is in it and which settings are
in use, or every mistake with line and column: what cannot be read, and what in
a call contradicts itself.
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
	fmt.Fprintf(s.out, "match-line: %g yd, kick-outs: %s\n", b.Model.Match, b.KickOuts)
	for _, c := range b.Calls {
		if len(c.Settings) > 0 {
			fmt.Fprintf(s.out, "%s: %s\n", c.ID, inUse(c.Settings))
		}
	}
	return exitDone
}

// inUse tells what is chosen of a call's settings, and what else could be.
func inUse(settings []call.Setting) string {
	out := make([]string, len(settings))
	for i, x := range settings {
		out[i] = x.Name + " " + x.Chosen
		if others := slices.DeleteFunc(slices.Clone(x.Choices), func(c string) bool { return c == x.Chosen }); len(others) > 0 {
			out[i] += " (or " + strings.Join(others, ", ") + ")"
		}
	}
	return strings.Join(out, "; ")
}
