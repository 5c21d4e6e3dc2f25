package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"

	"halfline/client/build"
)

// installClient brings client/node_modules to what the lock file says. It
// leaves the lock's checksum behind and does nothing while that still fits:
// a fresh install costs some eight seconds, too much before every commit.
func (s *shop) installClient(ctx context.Context) error {
	client := filepath.Join(s.root, "client")
	lock, err := os.ReadFile(filepath.Join(client, "package-lock.json"))
	if err != nil {
		return machine("client packages", err, "restore client/package-lock.json")
	}
	sum := sha256.Sum256(lock)
	want := hex.EncodeToString(sum[:])
	mark := filepath.Join(client, "node_modules", ".lock-sum")
	if have, err := os.ReadFile(mark); err == nil && string(have) == want {
		return nil
	}
	if err := s.quiet(ctx, "client packages", "mend client/package.json or the network, then "+build.InstallCommand,
		client, "npm", "ci", "--no-fund", "--no-audit"); err != nil {
		return err
	}
	if err := os.WriteFile(mark, []byte(want), 0o644); err != nil {
		return machine("client packages", err, "make client/node_modules writable")
	}
	return nil
}

// clientTool is a command that an installed package brings.
func (s *shop) clientTool(name string) string {
	return filepath.Join(s.root, "client", "node_modules", ".bin", name)
}

func (s *shop) checkTypes(ctx context.Context) error {
	return s.quiet(ctx, "client types", "mend the types named above",
		filepath.Join(s.root, "client"), s.clientTool("tsc"), "--project", ".", "--noEmit", "--pretty", "false")
}

func (s *shop) checkClientStyle(ctx context.Context) error {
	client := filepath.Join(s.root, "client")
	return s.quiet(ctx, "client style", "client/node_modules/.bin/biome check --write client, then mend the rest by hand",
		client, s.clientTool("biome"), "ci", "--colors=off", "--error-on-warnings", ".")
}

// testClient runs the client's unit tests. Node writes its account twice: for
// reading to the screen, for counting to a file.
func (s *shop) testClient(ctx context.Context, total *tally) error {
	scratch, err := os.MkdirTemp("", "halfline-client-test-")
	if err != nil {
		return machine("client tests", err, "free the temporary folder")
	}
	defer os.RemoveAll(scratch)
	modules, err := build.Tests(s.root, scratch)
	if err != nil {
		return no("client tests", err.Error(), "mend the test")
	}
	account := filepath.Join(scratch, "account.tap")
	args := append([]string{"--enable-source-maps", "--test",
		"--test-reporter=spec", "--test-reporter-destination=" + filepath.Join(scratch, "account.txt"),
		"--test-reporter=tap", "--test-reporter-destination=" + account}, modules...)
	out, runErr := s.command(ctx, filepath.Join(s.root, "client"), "node", args...).CombinedOutput()
	counted, err := countTap(account)
	if err != nil {
		fmt.Fprintln(s.stdout, string(out))
		return machine("client tests", err, "install Node again")
	}
	total.add(counted)
	if runErr == nil && counted.failed == 0 && counted.passed > 0 {
		fmt.Fprintf(s.stdout, "     %d client tests passed\n", counted.passed)
		return nil
	}
	if text, err := os.ReadFile(filepath.Join(scratch, "account.txt")); err == nil {
		fmt.Fprintln(s.stdout, string(text))
	}
	if counted.failed == 0 {
		return no("client tests", fmt.Sprintf("%d passed, and yet the run failed", counted.passed), "read the account above")
	}
	return no("client tests", fmt.Sprintf("%d failed", counted.failed), "mend the tests named above")
}

var tapCount = regexp.MustCompile(`(?m)^# (pass|fail|cancelled) (\d+)$`)

// countTap reads the closing counts of a TAP account.
func countTap(name string) (tally, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return tally{}, err
	}
	found := tapCount.FindAllStringSubmatch(string(text), -1)
	if len(found) != 3 {
		return tally{}, fmt.Errorf("the runner's account has no closing counts")
	}
	var t tally
	for _, f := range found {
		n, err := strconv.Atoi(f[2])
		if err != nil {
			return tally{}, err
		}
		if f[1] == "pass" {
			t.passed += n
		} else {
			t.failed += n
		}
	}
	return t, nil
}
