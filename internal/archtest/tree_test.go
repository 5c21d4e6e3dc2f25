package archtest

import (
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// module is the import path that all packages of the tree begin with.
const module = "halfline"

// source is one Go file of the tree.
type source struct {
	name    string // path from the root, with slashes
	test    bool
	file    *ast.File
	lines   *token.FileSet
	imports []string
}

// pkg is the package's folder from the root, "" for the root itself.
func (s source) pkg() string {
	if dir := path.Dir(s.name); dir != "." {
		return dir
	}
	return ""
}

func (s source) at(node ast.Node) string {
	return s.name + ":" + strconv.Itoa(s.lines.Position(node.Pos()).Line)
}

// ours are the imported packages of this tree, as folders.
func (s source) ours() []string {
	var dirs []string
	for _, imported := range s.imports {
		if dir, ok := strings.CutPrefix(imported, module+"/"); ok {
			dirs = append(dirs, dir)
		}
	}
	return dirs
}

// within says whether a folder is another or lies below it.
func within(dir, parent string) bool {
	return dir == parent || strings.HasPrefix(dir, parent+"/")
}

func withinAny(dir string, parents ...string) bool {
	for _, parent := range parents {
		if within(dir, parent) {
			return true
		}
	}
	return false
}

// parse reads one Go file.
func parse(t *testing.T, name, text string) source {
	t.Helper()
	lines := token.NewFileSet()
	file, err := parser.ParseFile(lines, name, text, parser.ParseComments)
	require.NoError(t, err)
	s := source{name: name, test: strings.HasSuffix(name, "_test.go"), file: file, lines: lines}
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		require.NoError(t, err)
		s.imports = append(s.imports, imported)
	}
	return s
}

// root is the folder of the repository.
const root = "../.."

// treeFiles lists the files that git keeps, and those it would keep if they
// were added, so that a rule speaks before the commit.
func treeFiles(t *testing.T) []string {
	t.Helper()
	cmd := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	cmd.Dir = root
	out, err := cmd.Output()
	require.NoError(t, err, "the rules need git and a clone of the repository")
	var names []string
	for _, name := range strings.Split(strings.Trim(string(out), "\x00"), "\x00") {
		if info, err := os.Lstat(filepath.Join(root, name)); err == nil && info.Mode().IsRegular() {
			names = append(names, name)
		}
	}
	require.NotEmpty(t, names)
	return names
}

// tree is every parsed file; the rules share it, since reading is the dear part.
var tree []source

// sources parses every Go file that belongs to a build on this machine.
func sources(t *testing.T) []source {
	t.Helper()
	if tree != nil {
		return tree
	}
	var all []source
	for _, name := range treeFiles(t) {
		if path.Ext(name) != ".go" || strings.Contains("/"+name, "/testdata/") {
			continue
		}
		match, err := build.Default.MatchFile(filepath.Join(root, path.Dir(name)), path.Base(name))
		require.NoError(t, err)
		if !match {
			continue
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		require.NoError(t, err)
		all = append(all, parse(t, name, string(text)))
	}
	require.NotEmpty(t, all)
	tree = all
	return tree
}
