package gen

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire/shape"
	"reflect"
)

const root = "../../.."

func printed(t *testing.T) map[string][]byte {
	files, err := Files(root)
	require.NoError(t, err)
	return files
}

func TestGeneratedFilesAreFresh(t *testing.T) {
	for name, want := range printed(t) {
		got, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), "%s is stale: go run ./cmd/dev gen", name)
	}
}

// The other way round: whatever says that it is generated here, is.
func TestNoGeneratedFileIsLeftOver(t *testing.T) {
	files := printed(t)
	for _, dir := range []string{"internal/wire", "client/src/wire"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || !d.Type().IsRegular() || filepath.Ext(path) == ".go" {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil || !strings.Contains(string(text), header) {
				return err
			}
			name, err := filepath.Rel(root, path)
			assert.Contains(t, files, filepath.ToSlash(name), "it says it is generated, but nothing writes it")
			return err
		}))
	}
}

// A changed comment must reach every document, or freshness would mean nothing.
func TestSourceReachesTheDocuments(t *testing.T) {
	copied := t.TempDir()
	for _, pkg := range []string{"session", "wire"} {
		names, err := filepath.Glob(filepath.Join(root, "internal", pkg, "*.go"))
		require.NoError(t, err)
		require.NoError(t, os.MkdirAll(filepath.Join(copied, "internal", pkg), 0o755))
		for _, name := range names {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			changed := strings.ReplaceAll(string(text), "Drag is passing", "Drag is fleeting")
			require.NoError(t, os.WriteFile(filepath.Join(copied, "internal", pkg, filepath.Base(name)), []byte(changed), 0o644))
		}
	}
	files, err := Files(copied)
	require.NoError(t, err)
	for _, name := range []string{"client/src/wire/types.ts", "internal/wire/schema/wire.json", "internal/wire/asyncapi.yaml"} {
		assert.Contains(t, string(files[name]), "Drag is fleeting", name)
	}
	_, err = Files(t.TempDir())
	assert.ErrorContains(t, err, "internal/session")
}

func TestEveryTypeIsCommented(t *testing.T) {
	src, err := readSource(root)
	require.NoError(t, err)
	for _, s := range reach(roots...) {
		if published(s) {
			assert.NotEmpty(t, src.docs[s.Package+"."+s.Name], "%s.%s has no comment", s.Package, s.Name)
		}
	}
}

// The table above session.Op, the enum of its Do and its fields say the same.
func TestOperationTableFitsTheType(t *testing.T) {
	src, err := readSource(root)
	require.NoError(t, err)
	op := shape.Of(reflect.TypeFor[session.Op]())
	do, ok := op.Field("do")
	require.True(t, ok)
	var rows []string
	used := map[string]bool{"do": true}
	for _, o := range operations(src) {
		rows = append(rows, o.Do)
		assert.NotEmpty(t, o.Does, o.Do)
		for _, f := range o.Fields {
			_, ok := op.Field(f)
			assert.True(t, ok, "%s: the table names %q, which Op has not", o.Do, f)
			used[f] = true
		}
	}
	assert.Equal(t, do.Enum, rows)
	for _, f := range op.Fields {
		assert.True(t, used[f.Key], "no row of the table uses %q", f.Key)
	}
}

// Codes travel: they are distinct, and every one has its meaning beside it.
func TestCodesAreDistinctAndExplained(t *testing.T) {
	src, err := readSource(root)
	require.NoError(t, err)
	for _, codes := range [][]named{
		append(src.codes("session", "Code"), src.codes("wire", "Code")...),
		src.codes("wire", "Close"),
	} {
		require.NotEmpty(t, codes)
		seen := map[string]string{}
		for _, c := range codes {
			assert.NotEmpty(t, c.Doc, c.Name)
			assert.Empty(t, seen[c.Value], "%s and %s are both %s", c.Name, seen[c.Value], c.Value)
			seen[c.Value] = c.Name
		}
	}
}

// The handwritten tables of PROTOCOL.md hold the same numbers and codes.
func TestProtocolTablesAreRight(t *testing.T) {
	text, err := os.ReadFile("../PROTOCOL.md")
	require.NoError(t, err)
	var want, got []string
	for _, l := range limits() {
		want = append(want, "| "+l.What+" | "+l.Value+" | "+l.Over+" |")
	}
	_, table, ok := strings.Cut(string(text), "| what | limit | past it |\n|---|---|---|\n")
	require.True(t, ok)
	for _, line := range strings.Split(table, "\n") {
		if !strings.HasPrefix(line, "|") {
			break
		}
		got = append(got, line)
	}
	assert.Equal(t, want, got)

	src, err := readSource(root)
	require.NoError(t, err)
	for _, row := range closeTable(src) {
		o := row.(obj)
		bye := ""
		if o[1].Key == "bye" {
			bye = o[1].Value.(string) + " "
		}
		start := "| " + scalar(o[0].Value) + " | " + bye + "| "
		assert.Contains(t, string(text), start+o[len(o)-1].Value.(string)[:10], "close code %v", o[0].Value)
	}
}

func TestProtocolRulesAreNumberedOnce(t *testing.T) {
	text, err := os.ReadFile("../PROTOCOL.md")
	require.NoError(t, err)
	var n int
	for _, line := range strings.Split(string(text), "\n") {
		if rest, ok := strings.CutPrefix(line, "- W"); ok {
			n++
			assert.True(t, strings.HasPrefix(rest, scalar(n)+" "), "want W%d: %s", n, line)
		}
	}
	assert.Equal(t, 38, n)
}
