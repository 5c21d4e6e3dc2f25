package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFuzzExecsAreTheLastCount(t *testing.T) {
	const out = `fuzz: elapsed: 0s, gathering baseline coverage: 0/12 completed
fuzz: elapsed: 3s, execs: 4100 (1366/sec), new interesting: 2 (total: 14)
fuzz: elapsed: 4s, execs: 5230 (1200/sec), new interesting: 3 (total: 15)
PASS
`
	assert.Equal(t, 5230, fuzzExecs(out))
	assert.Zero(t, fuzzExecs("PASS\n"))
}

func TestFuzzTimeIsShared(t *testing.T) {
	assert.Equal(t, 15*time.Second, fuzzShare(1, 4))
	assert.Equal(t, 8600*time.Millisecond, fuzzShare(1, 7))
	assert.Equal(t, time.Second, fuzzShare(0.01, 6))
}

// fuzzed lays a repository with one target that holds and one that fails at
// once, in a folder below.
func fuzzed(t *testing.T) *shop {
	t.Helper()
	const head = "package p\n\nimport \"testing\"\n\n"
	s := repository(t, "new\n")
	for name, body := range map[string]string{
		"z/a_test.go":       "func FuzzHolds(f *testing.F) {\n\tf.Add(1)\n\tf.Fuzz(func(t *testing.T, n int) {})\n}\n",
		"deep/in/a_test.go": "func FuzzBreaks(f *testing.F) {\n\tf.Fuzz(func(t *testing.T, b []byte) { t.Fatal(\"always\") })\n}\n",
	} {
		file := filepath.Join(s.root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(head+body), 0o644))
	}
	return s
}

func TestFuzzTargetsAreFoundInOrder(t *testing.T) {
	targets, err := fuzzed(t).fuzzTargets(context.Background())
	require.NoError(t, err)
	assert.Equal(t, []fuzzTarget{{"deep/in", "FuzzBreaks"}, {"z", "FuzzHolds"}}, targets)
}

func TestFuzzKeepsWhatCrashes(t *testing.T) {
	s := fuzzed(t)
	err := runFuzz(context.Background(), s, []string{"--minutes", "0.001"})
	assert.Equal(t, exitNo, exitCode(err))
	assert.ErrorContains(t, err, "FuzzBreaks crashed")
	assert.Regexp(t, `^targets=2 execs=\d+ crashes=1$`, s.lastLine)
	assert.Regexp(t, `(?m)^ok   FuzzHolds .* [1-9]\d* execs in z$`, s.printed())
	kept, err := os.ReadDir(filepath.Join(s.root, "deep/in/testdata/fuzz/FuzzBreaks"))
	require.NoError(t, err)
	assert.Len(t, kept, 1)
}

func TestFuzzOfATreeThatDoesNotBuildIsNoCrash(t *testing.T) {
	s := fuzzed(t)
	require.NoError(t, os.WriteFile(filepath.Join(s.root, "deep/in/b_test.go"), []byte("package p\n\nvar x = y\n"), 0o644))
	err := runFuzz(context.Background(), s, []string{"--minutes", "0.001"})
	assert.EqualError(t, err, "FuzzBreaks: did not run (above): mend deep/in")
}

func TestFuzzRefusesOddTimes(t *testing.T) {
	for _, args := range [][]string{{"--minutes", "0"}, {"--minutes", "-1"}, {"--minutes", "x"}, {"all"}} {
		err := runFuzz(context.Background(), &shop{stdout: &bytes.Buffer{}}, args)
		assert.Equal(t, exitInput, exitCode(err), "%v", args)
	}
}
