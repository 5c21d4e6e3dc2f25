package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strings"
)

// tally counts tests, subtests included. A package that does not build, or
// that fails outside its tests (a leak, a race after the last one), counts as
// one failure.
type tally struct {
	passed int
	failed int
}

func (t *tally) add(other tally) {
	t.passed += other.passed
	t.failed += other.failed
}

// closing is the line that readers of the log look for, alone on the last line.
func (t *tally) closing() string {
	return fmt.Sprintf("%d passed, %d failed", t.passed, t.failed)
}

// testTimeout is per package. The slowest, with real browsers and real Redis
// servers, takes well under a minute alone; under the race detector on two
// busy cores ten times that is still not a hang.
const testTimeout = "15m"

// testGo runs every Go test, with the race detector where the machine can.
func (s *shop) testGo(ctx context.Context, total *tally) error {
	args := []string{"test", "-json", "-timeout", testTimeout}
	if s.canRace(ctx) {
		args = append(args, "-race")
	} else {
		fmt.Fprintln(s.stdout, "     no C compiler: running without the race detector; install gcc to have it")
	}
	cmd := s.command(ctx, s.root, "go", append(args, "./...")...)
	events, err := cmd.StdoutPipe()
	if err != nil {
		return machine("go test", err, "run it again")
	}
	cmd.Stderr = s.stderr
	if err := cmd.Start(); err != nil {
		return machine("go test", err, "install Go")
	}
	counted, readErr := follow(events, s.stdout)
	waitErr := cmd.Wait()
	total.add(counted)
	var exit *exec.ExitError
	switch {
	case readErr != nil:
		return machine("go test", readErr, "run it again")
	case waitErr != nil && !errors.As(waitErr, &exit):
		return machine("go test", waitErr, "run it again")
	case counted.failed > 0:
		return no("go test", fmt.Sprintf("%d failed", counted.failed), "mend the tests named above")
	case waitErr != nil:
		return no("go test", "failed outside the tests", "read the output above")
	case counted.passed == 0:
		return no("go test", "ran no test", "see that the packages have tests")
	}
	return nil
}

// canRace says whether the race detector can be used: it needs cgo and so a C
// compiler.
func (s *shop) canRace(ctx context.Context) bool {
	out, err := s.command(ctx, s.root, "go", "env", "CGO_ENABLED", "CC").Output()
	if err != nil {
		return false
	}
	lines := strings.Fields(string(out))
	if len(lines) < 2 || lines[0] != "1" {
		return false
	}
	_, err = exec.LookPath(lines[1])
	return err == nil
}

// testEvent is one line of `go test -json` (documented by `go doc test2json`).
type testEvent struct {
	Action      string
	Package     string
	ImportPath  string // of a build event
	Test        string
	Elapsed     float64
	Output      string
	FailedBuild string
}

// packageRun is what is known of one package while its tests run.
type packageRun struct {
	output  map[string][]string // by test, "" for the package itself; dropped when it passes
	running map[string]bool
	passed  int
	failed  int
}

// follow reads the events, prints a line per package and the output of what
// failed, and counts.
func follow(events io.Reader, w io.Writer) (tally, error) {
	var total tally
	runs := map[string]*packageRun{}
	lines := bufio.NewReader(events)
	for {
		line, err := lines.ReadBytes('\n')
		if len(line) > 0 {
			var e testEvent
			if json.Unmarshal(line, &e) != nil {
				fmt.Fprint(w, string(line)) // not an event: the go command speaks in plain text
			} else {
				total.add(take(e, runs, w))
			}
		}
		if errors.Is(err, io.EOF) {
			return total, nil
		}
		if err != nil {
			return total, err
		}
	}
}

// take deals with one event and returns what it adds to the count.
func take(e testEvent, runs map[string]*packageRun, w io.Writer) tally {
	if e.Action == "build-output" {
		fmt.Fprint(w, e.Output)
		return tally{}
	}
	if e.Package == "" {
		return tally{}
	}
	run := runs[e.Package]
	if run == nil {
		run = &packageRun{output: map[string][]string{}, running: map[string]bool{}}
		runs[e.Package] = run
	}
	switch {
	case e.Action == "output":
		run.output[e.Test] = append(run.output[e.Test], e.Output)
	case e.Action == "run":
		run.running[e.Test] = true
	case e.Test != "":
		return run.endTest(e, w)
	case e.Action == "pass" || e.Action == "fail" || e.Action == "skip":
		delete(runs, e.Package)
		return run.endPackage(e, w)
	}
	return tally{}
}

func (run *packageRun) endTest(e testEvent, w io.Writer) tally {
	switch e.Action {
	case "pass", "skip":
		delete(run.output, e.Test)
		delete(run.running, e.Test)
		if e.Action == "pass" {
			run.passed++
			return tally{passed: 1}
		}
	case "fail":
		run.print(e.Test, w)
		delete(run.running, e.Test)
		run.failed++
		return tally{failed: 1}
	}
	return tally{}
}

func (run *packageRun) endPackage(e testEvent, w io.Writer) tally {
	switch {
	case e.Action == "skip":
		return tally{} // no test files
	case e.Action == "pass":
		fmt.Fprintf(w, "     ok   %-40s %6.1f s  %d tests\n", e.Package, e.Elapsed, run.passed)
		return tally{}
	}
	var extra tally
	for test := range run.running { // cut off by a panic, an exit or the time limit
		run.print(test, w)
		extra.failed++
	}
	run.print("", w)
	if run.failed+extra.failed == 0 {
		extra.failed++
	}
	fmt.Fprintf(w, "     FAIL %-40s %6.1f s  %d of %d tests failed\n",
		e.Package, e.Elapsed, run.failed+extra.failed, run.passed+run.failed+extra.failed)
	return extra
}

func (run *packageRun) print(test string, w io.Writer) {
	for _, line := range run.output[test] {
		fmt.Fprint(w, line)
	}
	delete(run.output, test)
}
