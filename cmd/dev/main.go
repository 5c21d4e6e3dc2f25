package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
)

// chore is one thing that dev does. Its arguments are what stands after its
// name on the command line.
type chore struct {
	name  string
	usage string
	about string
	run   func(ctx context.Context, s *shop, args []string) error
}

// shop is what every chore works in: where the repository is and where to
// print.
type shop struct {
	root   string
	stdout io.Writer
	stderr io.Writer

	// lastLine, if a chore sets it, is printed after everything else, even
	// after an error.
	lastLine string
}

func chores() []chore {
	return []chore{
		{"check", "check", "everything that must hold before a commit; what CI runs", runCheck},
		{"gen", "gen", "write all generated files", runGen},
		{"bench", "bench [--count N] [NAME...|story]", "measure the benchmarks that carry a promise and the way to a first verdict, as Markdown", runBench},
		{"fuzz", "fuzz [--minutes N]", "run every fuzz target of the tree for its share of the time", runFuzz},
		{"shots", "shots DIR [VIEW-STATE...]", "picture every view and state, both themes, all sizes, as PNG", runShots},
	}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	code := dispatch(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// dispatch runs one chore and returns the exit code.
func dispatch(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	s := &shop{stdout: stdout, stderr: stderr}
	err := s.run(ctx, args)
	if err != nil {
		fmt.Fprintln(stderr, "dev:", oneLine(err.Error()))
	}
	if s.lastLine != "" {
		fmt.Fprintln(stdout, s.lastLine)
	}
	return exitCode(err)
}

func (s *shop) run(ctx context.Context, args []string) error {
	if len(args) == 0 {
		help(s.stderr)
		return badInput("command line", "names no chore", "say one of those above")
	}
	if name := args[0]; name == "help" || name == "--help" || name == "-h" {
		help(s.stdout)
		return nil
	}
	for _, c := range chores() {
		if c.name != args[0] {
			continue
		}
		root, err := findRoot()
		if err != nil {
			return err
		}
		s.root = root
		return c.run(ctx, s, args[1:])
	}
	return badInput("command line", fmt.Sprintf("knows no chore %q", args[0]), "go run ./cmd/dev help lists them")
}

func help(w io.Writer) {
	fmt.Fprintln(w, "usage: go run ./cmd/dev CHORE")
	fmt.Fprintln(w)
	for _, c := range chores() {
		fmt.Fprintf(w, "  %-36s %s\n", c.usage, c.about)
	}
	fmt.Fprintf(w, "  %-36s %s\n", "help", "print this")
}

// findRoot is the folder of the repository, wherever inside it dev is run.
func findRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", machine("working folder", err, "change to the repository")
	}
	for {
		mod, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && strings.HasPrefix(string(mod), "module halfline\n") {
			return dir, nil
		}
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return "", machine("go.mod", err, "make it readable")
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", badInput("working folder", "is not in the repository", "change to it first")
		}
		dir = parent
	}
}

// oneLine keeps the promise that an error is one line.
func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == '\r' }), "; ")
}
