package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

const (
	fuzzUsage = "go run ./cmd/dev fuzz [--minutes N]"
	// defaultFuzzMinutes is short enough for a pause, and long enough that each
	// target's corpus grows.
	defaultFuzzMinutes = 5.0
	// leastShare is a target's time below which it would hardly get past the
	// seeds that it has.
	leastShare = time.Second
)

// fuzzTarget is one fuzz function and the folder of its package.
type fuzzTarget struct{ home, name string }

// fuzzTally sums what the targets did.
type fuzzTally struct{ targets, execs, crashes int }

func (t fuzzTally) closing() string {
	return fmt.Sprintf("targets=%d execs=%d crashes=%d", t.targets, t.execs, t.crashes)
}

// runFuzz runs every fuzz target of the tree for its share of the time. What
// crashes one stays in its testdata/fuzz, where plain go test finds it again.
func runFuzz(ctx context.Context, s *shop, args []string) error {
	flags := flag.NewFlagSet("fuzz", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	minutes := flags.Float64("minutes", defaultFuzzMinutes, "")
	if err := flags.Parse(args); err != nil || flags.NArg() > 0 || *minutes <= 0 {
		return badInput("fuzz", "does not understand its flags", fuzzUsage)
	}
	targets, err := s.fuzzTargets(ctx)
	if err != nil {
		return err
	}
	if len(targets) == 0 {
		return no("fuzz", "no package has a fuzz target", "write one")
	}
	share := fuzzShare(*minutes, len(targets))
	var total fuzzTally
	var crashed []string
	for _, t := range targets {
		began := time.Now()
		execs, crash, err := s.fuzzOne(ctx, t, share)
		if ctx.Err() != nil {
			return no("fuzz", "interrupted", "run it again")
		}
		if err != nil {
			return err
		}
		total.targets++
		total.execs += execs
		word := "ok  "
		if crash {
			total.crashes++
			crashed = append(crashed, t.name)
			word = "FAIL"
		}
		fmt.Fprintf(s.stdout, "%s %-22s %6.1f s  %d execs in %s\n", word, t.name, time.Since(began).Seconds(), execs, t.home)
	}
	s.lastLine = total.closing()
	if len(crashed) > 0 {
		return no("fuzz", strings.Join(crashed, ", ")+" crashed (above)", "mend it; the input is in its testdata/fuzz and stays there as a test")
	}
	return nil
}

// fuzzShare is the time of one of so many targets.
func fuzzShare(minutes float64, targets int) time.Duration {
	share := time.Duration(minutes * float64(time.Minute) / float64(targets))
	return max(share.Round(100*time.Millisecond), leastShare)
}

// fuzzOne runs one target and counts its executions. An error is the machine's
// or the compiler's, a crash is the target's.
func (s *shop) fuzzOne(ctx context.Context, t fuzzTarget, share time.Duration) (execs int, crash bool, err error) {
	cmd := s.command(ctx, s.root, "go", "test", "-run", "^$", "-fuzz", "^"+t.name+"$", "-fuzztime", share.String(), "./"+t.home)
	out, runErr := cmd.CombinedOutput()
	execs = fuzzExecs(string(out))
	if runErr == nil {
		return execs, false, nil
	}
	fmt.Fprint(s.stdout, string(out))
	if _, ran := runErr.(*exec.ExitError); !ran {
		return execs, false, machine(t.name, runErr, "install Go")
	}
	if !fuzzFailed.Match(out) {
		return execs, false, no(t.name, "did not run (above)", "mend "+t.home)
	}
	return execs, true, nil
}

// fuzzFailed is the line of a target that crashed or found a failing seed, as
// against a package that did not build.
var fuzzFailed = regexp.MustCompile(`(?m)^\s*--- FAIL: Fuzz`)

// fuzzLine is the account that go test gives every three seconds and at the
// end; its count grows.
var fuzzLine = regexp.MustCompile(`(?m)^fuzz: elapsed: \S+, execs: (\d+) `)

func fuzzExecs(out string) int {
	most := 0
	for _, found := range fuzzLine.FindAllStringSubmatch(out, -1) {
		if n, err := strconv.Atoi(found[1]); err == nil {
			most = max(most, n)
		}
	}
	return most
}

var fuzzFunc = regexp.MustCompile(`(?m)^func (Fuzz\w+)\(\w+ \*testing\.F\)`)

// fuzzTargets finds every fuzz target by reading the tree's tests, in the order
// of their folders and names.
func (s *shop) fuzzTargets(ctx context.Context) ([]fuzzTarget, error) {
	files, err := s.treeFiles(ctx, s.root)
	if err != nil {
		return nil, err
	}
	var targets []fuzzTarget
	for _, name := range files {
		if !strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := readText(filepath.Join(s.root, name))
		if err != nil {
			return nil, machine(name, err, "make it readable")
		}
		for _, found := range fuzzFunc.FindAllStringSubmatch(text, -1) {
			targets = append(targets, fuzzTarget{home: path.Dir(filepath.ToSlash(name)), name: found[1]})
		}
	}
	slices.SortFunc(targets, func(a, b fuzzTarget) int {
		return strings.Compare(a.home+" "+a.name, b.home+" "+b.name)
	})
	return targets, nil
}
