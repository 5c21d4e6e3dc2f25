package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

// Exit codes of every command.
const (
	exitDone    = 0
	exitNo      = 1 // the answer is no
	exitInput   = 2 // bad input
	exitMachine = 3 // the machine's fault
)

// command is one row of the command table.
type command struct {
	name, does string
	run        func(ctx context.Context, io stdio, args []string) int
}

// stdio is what a command may read and write, so that tests can run it.
type stdio struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) string
}

// fail prints one line per problem: WHERE: WHAT: HOW TO MEND.
func (s stdio) fail(code int, err error) int {
	for _, line := range strings.Split(err.Error(), "\n") {
		fmt.Fprintf(s.err, "halfline: %s\n", line)
	}
	return code
}

func commands() []command {
	return []command{
		{"serve", "run the server for coach, phones and wall (also plain `halfline`)", serve},
		{"check", "judge one moment: look, leverage, lanes, faults", check},
		{"rep", "run one rep of a scene's play", repCommand},
		{"cost", "what a broken rule costs, over many reps", costCommand},
		{"depth", "the depth window of one defender", depthCommand},
		{"athlete", "fit top speed and acceleration to timed splits", athleteCommand},
		{"book", "check a staff's book", bookCommand},
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the process at once
	code := run(ctx, stdio{os.Stdin, os.Stdout, os.Stderr, os.Getenv}, os.Args[1:])
	stop()
	os.Exit(code)
}

func run(ctx context.Context, s stdio, args []string) int {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") && !isHelp(args[0]) {
		return serve(ctx, s, args)
	}
	if isHelp(args[0]) || args[0] == "help" {
		usage(s.out)
		return exitDone
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, s, args[1:])
		}
	}
	names := make([]string, 0, 4)
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return s.fail(exitInput, fmt.Errorf("command %q: there is none: want %s", args[0], strings.Join(names, ", ")))
}

func isHelp(a string) bool { return a == "-h" || a == "--help" || a == "-help" }

func usage(w io.Writer) {
	fmt.Fprintf(w, "halfline: leverage for a defense, on one shared board\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  halfline %-8s %s\n", c.name, c.does)
	}
	fmt.Fprintf(w, "\nEvery command: --help. Flags can be set as HALFLINE_<FLAG>.\nExit: 0 done, 1 the answer is no, 2 bad input, 3 the machine's fault.\n")
}

var errHelp = errors.New("help was shown")
