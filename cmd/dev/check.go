package main

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
)

// staticcheckVersion is pinned so that a new release cannot turn a green tree
// red over night.
const staticcheckVersion = "v0.8.2"

// runCheck is everything that must hold before a commit, cheapest first. The
// last line of standard output counts all tests that ran.
func runCheck(ctx context.Context, s *shop, args []string) error {
	if len(args) > 0 {
		return badInput("check", fmt.Sprintf("takes no argument, got %q", args[0]), "go run ./cmd/dev check")
	}
	var total tally
	err := s.runSteps(ctx, []step{
		{"tools", s.ensureTools},
		{"gofmt", s.checkFormat},
		{"client packages", s.installClient},
		{"client types", s.checkTypes},
		{"client style", s.checkClientStyle},
		{"client tests", func(ctx context.Context) error { return s.testClient(ctx, &total) }},
		{"generated files", s.checkGenerated},
		{"go vet", func(ctx context.Context) error {
			return s.quiet(ctx, "go vet", "mend what it names above", s.root, "go", "vet", "./...")
		}},
		{"staticcheck", func(ctx context.Context) error {
			return s.quiet(ctx, "staticcheck", "mend what it names above", s.root,
				"go", "run", "honnef.co/go/tools/cmd/staticcheck@"+staticcheckVersion, "./...")
		}},
		{"go test", func(ctx context.Context) error { return s.testGo(ctx, &total) }},
	})
	if total.passed+total.failed > 0 {
		s.lastLine = total.closing()
	}
	return err
}

// checkFormat holds every Go file of the tree to gofmt.
func (s *shop) checkFormat(ctx context.Context) error {
	files, err := s.treeFiles(ctx, s.root)
	if err != nil {
		return err
	}
	args := []string{"-l"}
	for _, name := range files {
		if filepath.Ext(name) == ".go" {
			args = append(args, name)
		}
	}
	cmd := s.command(ctx, s.root, "gofmt", args...)
	var exit *exec.ExitError
	out, err := cmd.Output()
	switch {
	case errors.As(err, &exit):
		return no("gofmt", strings.TrimSpace(string(exit.Stderr)), "mend the syntax")
	case err != nil:
		return machine("gofmt", err, "install Go")
	case len(out) > 0:
		names := strings.Fields(string(out))
		return no("gofmt", strings.Join(names, ", ")+" not formatted", "gofmt -w "+strings.Join(names, " "))
	}
	return nil
}
