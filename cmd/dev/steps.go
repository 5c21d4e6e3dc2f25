package main

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"time"
)

// step is one part of a chore, timed and named on the screen.
type step struct {
	name string
	run  func(ctx context.Context) error
}

// runSteps runs the steps in order and stops at the first that fails.
func (s *shop) runSteps(ctx context.Context, steps []step) error {
	for _, st := range steps {
		began := time.Now()
		err := st.run(ctx)
		took := time.Since(began).Seconds()
		if ctx.Err() != nil {
			return no(st.name, "interrupted", "run it again")
		}
		if err != nil {
			fmt.Fprintf(s.stdout, "FAIL %-22s %6.1f s\n", st.name, took)
			return err
		}
		fmt.Fprintf(s.stdout, "ok   %-22s %6.1f s\n", st.name, took)
	}
	return nil
}

// command prepares a tool to run in a folder of the repository; an interrupt
// ends it.
func (s *shop) command(ctx context.Context, dir, name string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir = dir
	return cmd
}

// quiet runs a tool, keeps its output back while all is well, and shows it
// when the tool fails. The error then says no, and how to mend.
func (s *shop) quiet(ctx context.Context, where, mend, dir, name string, args ...string) error {
	out, err := s.command(ctx, dir, name, args...).CombinedOutput()
	if err == nil {
		return nil
	}
	if text := strings.TrimRight(string(out), "\n"); text != "" {
		fmt.Fprintln(s.stdout, text)
	}
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return no(where, "found something to mend (above)", mend)
	}
	return machine(where, err, "install "+name)
}
