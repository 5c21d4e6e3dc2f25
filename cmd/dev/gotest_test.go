package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// module lays a module of its own in a fresh folder, so that the chore is
// tried on tests that do fail.
func module(t *testing.T, files map[string]string) *shop {
	t.Helper()
	root := t.TempDir()
	files["go.mod"] = "module halfline\n\ngo 1.26\n"
	for name, content := range files {
		target := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(target), 0o755))
		require.NoError(t, os.WriteFile(target, []byte(content), 0o644))
	}
	return &shop{root: root, stdout: &bytes.Buffer{}, stderr: &bytes.Buffer{}}
}

func (s *shop) printed() string { return s.stdout.(*bytes.Buffer).String() }

const head = "package p\n\nimport \"testing\"\n\n"

func TestGoTestsAreCounted(t *testing.T) {
	s := module(t, map[string]string{
		"good/a_test.go": head + `func TestA(t *testing.T) { t.Run("sub", func(t *testing.T) {}); t.Log("quiet") }`,
		"none/a.go":      "package p\n",
	})
	var total tally
	require.NoError(t, s.testGo(context.Background(), &total))
	assert.Equal(t, "2 passed, 0 failed", total.closing())
	assert.Contains(t, s.printed(), "halfline/good")
	assert.NotContains(t, s.printed(), "quiet")
}

func TestGoFailuresAreCountedAndShown(t *testing.T) {
	for name, c := range map[string]struct {
		file    string
		closing string
		shows   string
	}{
		"a failing test":      {head + `func TestA(t *testing.T) {}; func TestB(t *testing.T) { t.Fatal("broken thing") }`, "1 passed, 1 failed", "broken thing"},
		"a failing subtest":   {head + `func TestA(t *testing.T) { t.Run("sub", func(t *testing.T) { t.Fatal("deep thing") }) }`, "0 passed, 2 failed", "deep thing"},
		"a panic":             {head + `func TestA(t *testing.T) { panic("loud thing") }`, "0 passed, 1 failed", "loud thing"},
		"an early exit":       {"package p\n\nimport (\"os\"; \"testing\")\n\nfunc TestA(t *testing.T) { println(\"gone\"); os.Exit(3) }", "0 passed, 1 failed", "gone"},
		"a type error":        {head + `func TestA(t *testing.T) { undefinedThing() }`, "0 passed, 1 failed", "undefinedThing"},
		"a failure afterward": {"package p\n\nimport (\"os\"; \"testing\")\n\nfunc TestA(t *testing.T) {}\n\nfunc TestMain(m *testing.M) { m.Run(); println(\"leak\"); os.Exit(1) }", "1 passed, 1 failed", "leak"},
	} {
		t.Run(name, func(t *testing.T) {
			s := module(t, map[string]string{"p/a_test.go": c.file})
			var total tally
			err := s.testGo(context.Background(), &total)
			assert.Equal(t, exitNo, exitCode(err), "%v", err)
			assert.Equal(t, c.closing, total.closing())
			assert.Contains(t, s.printed(), c.shows)
			assert.Contains(t, s.printed(), "FAIL halfline/p")
		})
	}
}

func TestNoTestIsAFailure(t *testing.T) {
	s := module(t, map[string]string{"none/a.go": "package p\n"})
	var total tally
	assert.ErrorContains(t, s.testGo(context.Background(), &total), "ran no test")
}

func TestTapCounts(t *testing.T) {
	name := filepath.Join(t.TempDir(), "account.tap")
	text := "TAP version 13\n# Subtest: a\nok 1 - a\n1..3\n# tests 6\n# pass 3\n# fail 2\n# cancelled 1\n# skipped 0\n"
	require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	counted, err := countTap(name)
	require.NoError(t, err)
	assert.Equal(t, tally{passed: 3, failed: 3}, counted)

	require.NoError(t, os.WriteFile(name, []byte(strings.Replace(text, "# pass", "# past", 1)), 0o644))
	_, err = countTap(name)
	assert.ErrorContains(t, err, "no closing counts")
}
