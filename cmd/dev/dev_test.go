package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCommandLine(t *testing.T) {
	for name, c := range map[string]struct {
		args   []string
		code   int
		stdout string
		stderr string
	}{
		"help":              {[]string{"help"}, exitDone, "go run ./cmd/dev CHORE", ""},
		"no chore":          {nil, exitInput, "", "dev: command line: names no chore: say one of those above"},
		"unknown chore":     {[]string{"dance"}, exitInput, "", `dev: command line: knows no chore "dance": go run ./cmd/dev help lists them`},
		"check takes none":  {[]string{"check", "all"}, exitInput, "", `dev: check: takes no argument, got "all": go run ./cmd/dev check`},
		"gen takes none":    {[]string{"gen", "all"}, exitInput, "", `dev: gen: takes no argument, got "all": go run ./cmd/dev gen`},
		"bench's flags":     {[]string{"bench", "--loud"}, exitInput, "", "dev: bench: does not understand its flags"},
		"unknown benchmark": {[]string{"bench", "Nothing"}, exitInput, "", "dev: bench: no package has BenchmarkNothing: name one of"},
	} {
		t.Run(name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			assert.Equal(t, c.code, dispatch(context.Background(), c.args, &stdout, &stderr))
			assert.Contains(t, stdout.String(), c.stdout)
			assert.Contains(t, stderr.String(), c.stderr)
		})
	}
}

func TestHelpNamesEveryChore(t *testing.T) {
	var out bytes.Buffer
	help(&out)
	for _, c := range chores() {
		assert.Contains(t, out.String(), "  "+c.usage)
	}
}

func TestStepsStopAtTheFirstFailure(t *testing.T) {
	var out bytes.Buffer
	s := &shop{stdout: &out}
	var ran []string
	pass := func(name string) step {
		return step{name, func(context.Context) error { ran = append(ran, name); return nil }}
	}
	bad := step{"two", func(context.Context) error { return no("two", "is wrong", "mend it") }}
	err := s.runSteps(context.Background(), []step{pass("one"), bad, pass("three")})
	assert.EqualError(t, err, "two: is wrong: mend it")
	assert.Equal(t, []string{"one"}, ran)
	assert.Regexp(t, `(?m)^ok   one +\d+\.\d s$`, out.String())
	assert.Regexp(t, `(?m)^FAIL two +\d+\.\d s$`, out.String())
}

func TestExitCodes(t *testing.T) {
	assert.Equal(t, exitDone, exitCode(nil))
	assert.Equal(t, exitNo, exitCode(no("a", "b", "c")))
	assert.Equal(t, exitInput, exitCode(badInput("a", "b", "c")))
	assert.Equal(t, exitMachine, exitCode(machine("a", errors.New("b"), "c")))
	assert.Equal(t, exitMachine, exitCode(errors.New("anything else")))
}

func TestErrorsAreOneLine(t *testing.T) {
	assert.Equal(t, "a; b; c", oneLine("a\nb\r\n\nc\n"))
}

func TestMissingToolsAreNamedWithTheirPackages(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	s := &shop{stdout: &bytes.Buffer{}}
	err := s.ensureTools(context.Background())
	assert.EqualError(t, err, "tools: git, node, npm, redis-server, chromium not found: "+
		"apt-get install -y --no-install-recommends git nodejs npm redis-server chromium")
	assert.Equal(t, exitInput, exitCode(err))
}

// script puts a command of that name, with that shell body, into a folder.
func script(t *testing.T, dir, name, body string) {
	t.Helper()
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\n"+body), 0o755))
}

func TestOldNodeIsRefused(t *testing.T) {
	dir := t.TempDir()
	script(t, dir, "node", "echo v18.19.0\n")
	t.Setenv("PATH", dir)
	assert.EqualError(t, checkNode(context.Background()), "tools: node is v18.19.0: install Node 20 or newer")
	script(t, dir, "node", "echo v24.1.0\n")
	assert.NoError(t, checkNode(context.Background()))
}

// TestMissingToolIsInstalled runs the step against a package manager that
// brings the tool, and one that does not.
func TestMissingToolIsInstalled(t *testing.T) {
	dir := t.TempDir()
	log := filepath.Join(dir, "log")
	for _, tool := range []string{"git", "npm", "chromium"} {
		script(t, dir, tool, "")
	}
	script(t, dir, "node", "echo v20.0.0\n")
	script(t, dir, "sudo", "shift\n\"$@\"\n")
	for _, tool := range []string{"env", "true", "chmod"} {
		path, err := exec.LookPath(tool)
		require.NoError(t, err)
		require.NoError(t, os.Symlink(path, filepath.Join(dir, tool)))
	}
	t.Setenv("PATH", dir)
	s := &shop{root: dir, stdout: &bytes.Buffer{}}

	script(t, dir, "apt-get", "echo \"$DEBIAN_FRONTEND $*\" >> "+log+"\n")
	err := s.ensureTools(context.Background())
	assert.ErrorContains(t, err, "redis-server not found")

	script(t, dir, "apt-get", "echo '#!/bin/sh' > "+dir+"/redis-server\nchmod +x "+dir+"/redis-server\n")
	assert.NoError(t, s.ensureTools(context.Background()))

	calls, err := os.ReadFile(log)
	require.NoError(t, err)
	assert.Equal(t, "noninteractive -q -y -o DPkg::Lock::Timeout=120 update\n"+
		"noninteractive -q -y -o DPkg::Lock::Timeout=120 install --no-install-recommends redis-server\n", string(calls))
}

// repository lays a small git repository whose one generated file follows from
// its one source.
func repository(t *testing.T, generated string) *shop {
	t.Helper()
	s := module(t, map[string]string{
		"p.go":          "package p\n\n//go:generate sh -c \"cat source > generated\"\n",
		"source":        "new\n",
		"generated":     generated,
		"client/x.json": "{}\n",
	})
	require.NoError(t, os.MkdirAll(filepath.Join(s.root, packagesFolder), 0o755))
	for _, args := range [][]string{{"init", "-q"}, {"add", "."}} {
		require.NoError(t, s.command(context.Background(), s.root, "git", args...).Run())
	}
	return s
}

func TestStaleGeneratedFileIsFoundAndLeftAlone(t *testing.T) {
	s := repository(t, "old\n")
	err := s.checkGenerated(context.Background())
	assert.EqualError(t, err, "generated files: generated stale: go run ./cmd/dev gen, and commit")
	kept, err := os.ReadFile(filepath.Join(s.root, "generated"))
	require.NoError(t, err)
	assert.Equal(t, "old\n", string(kept))
}

func TestFreshGeneratedFilePasses(t *testing.T) {
	assert.NoError(t, repository(t, "new\n").checkGenerated(context.Background()))
}

func TestFormatIsChecked(t *testing.T) {
	s := repository(t, "new\n")
	require.NoError(t, s.checkFormat(context.Background()))
	require.NoError(t, os.WriteFile(filepath.Join(s.root, "q.go"), []byte("package   p\n"), 0o644))
	assert.EqualError(t, s.checkFormat(context.Background()), "gofmt: q.go not formatted: gofmt -w q.go")
	require.NoError(t, os.WriteFile(filepath.Join(s.root, "q.go"), []byte("package\n"), 0o644))
	assert.ErrorContains(t, s.checkFormat(context.Background()), "mend the syntax")
}
