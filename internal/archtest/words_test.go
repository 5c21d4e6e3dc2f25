package archtest

import (
	"bytes"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// topLevel is all that may stand at the root, besides names with a leading
// dot: a reader must see at one glance where things are.
var topLevel = []string{
	"cmd", "server", "client", "internal", "deploy", "testdata",
	"go.mod", "go.sum", "README.md", "DEVELOPERS.md",
}

func brokenTopLevel(names []string) []string {
	var broken []string
	for _, name := range names {
		top, _, _ := strings.Cut(name, "/")
		if !strings.HasPrefix(top, ".") && !slices.Contains(topLevel, top) && !slices.Contains(broken, top) {
			broken = append(broken, top)
		}
	}
	return broken
}

// brokenComments finds packages without their one comment, or with it in an
// unexpected place.
func brokenComments(all []source) []string {
	files, comments := map[string]int{}, map[string][]string{}
	for _, s := range all {
		if s.test {
			continue
		}
		files[s.pkg()]++
		if s.file.Doc != nil {
			comments[s.pkg()] = append(comments[s.pkg()], s.name)
		}
	}
	var broken []string
	for dir, n := range files {
		where := comments[dir]
		switch {
		case len(where) == 0:
			broken = append(broken, dir+": has no package comment: say in doc.go what it knows and must not know")
		case len(where) > 1:
			broken = append(broken, fmt.Sprintf("%s: has a package comment in each of %s: keep one", dir, strings.Join(where, ", ")))
		case n > 1 && path.Base(where[0]) != "doc.go":
			broken = append(broken, where[0]+": has the package comment: move it to doc.go")
		}
	}
	slices.Sort(broken)
	return broken
}

// ruledOut are words that no committed text may hold. They are put together
// from pieces so that this file does not hold them either. A rule's pattern is
// tried only on texts that hold one of its hints: that is a hundred times
// faster, and these texts are many.
var ruledOut = []struct {
	hints   []string
	pattern *regexp.Regexp
	why     string
}{
	{[]string{"/wo" + "rk", "/ro" + "ot", "/fa" + "rm"},
		regexp.MustCompile(`(?m)(^|[\s"'(=:])/(wo` + `rk|ro` + `ot|fa` + `rm)(/|\b)`), "a path of one machine"},
	{[]string{"/ho" + "me/", "/Us" + "ers/", `\Us` + "ers"},
		regexp.MustCompile(`/ho` + `me/[a-z]|/Us` + `ers/[A-Za-z]|[A-Z]:\\Us` + `ers`), "a path of one machine"},
	{[]string{"registry.np" + "mjs", "proxy.gol" + "ang", "sum.gol" + "ang", "deb.deb" + "ian"},
		regexp.MustCompile(`registry\.np` + `mjs|proxy\.gol` + `ang|sum\.gol` + `ang|deb\.deb` + `ian`), "the host of a package registry"},
	{[]string{"eed doc" + "ument", "rans" + "cript"},
		regexp.MustCompile(`[Ss]eed doc` + `ument|[Tt]rans` + `cript\b`), "how the project came about"},
	{[]string{"TO" + "DO", "FIX" + "ME", "XX" + "X", "ot implem" + "ented"},
		regexp.MustCompile(`\bTO` + `DO\b|\bFIX` + `ME\b|\bXX` + `X\b|[Nn]ot implem` + `ented`), "unfinished work"},
}

// foreign files hold other people's text or long checksums, in which a word
// may stand by chance; machine paths and hosts are ruled out there as well.
var foreign = regexp.MustCompile(`^(go\.sum|client/package-lock\.json|client/dist/.*)$`)

func brokenWords(name string, text []byte) []string {
	var broken []string
	for _, rule := range ruledOut {
		if rule.why == "unfinished work" && foreign.MatchString(name) {
			continue
		}
		if !slices.ContainsFunc(rule.hints, func(hint string) bool { return bytes.Contains(text, []byte(hint)) }) {
			continue
		}
		for _, at := range rule.pattern.FindAllIndex(text, -1) {
			found := bytes.TrimSpace(text[at[0]:at[1]])
			line := 1 + bytes.Count(text[:at[1]-1], []byte("\n"))
			broken = append(broken, fmt.Sprintf("%s:%d: %q is %s", name, line, found, rule.why))
		}
	}
	return broken
}

// passedOver finds client tests that are marked to be left out, or that leave
// out all others.
var passedOver = regexp.MustCompile(`\b(test|it|describe)\.(skip|todo|only)\(|\b(skip|todo|only): true`)

func TestTopLevelHoldsOnlyWhatIsExpected(t *testing.T) {
	assert.Empty(t, brokenTopLevel(treeFiles(t)))
	assert.Equal(t, []string{"util"}, brokenTopLevel([]string{".ci/run", "cmd/dev/main.go", "util/a.go", "util/b.go"}))
}

func TestEveryPackageHasOneComment(t *testing.T) {
	assert.Empty(t, brokenComments(sources(t)))

	doc, bare := "// Package p is.\npackage p\n", "package p\n"
	assert.Empty(t, brokenComments([]source{parse(t, "a/doc.go", doc), parse(t, "a/b.go", bare)}))
	assert.Empty(t, brokenComments([]source{parse(t, "a/b.go", doc)}), "a package of one file needs no doc.go")
	assert.Len(t, brokenComments([]source{parse(t, "a/b.go", bare)}), 1)
	assert.Len(t, brokenComments([]source{parse(t, "a/doc.go", doc), parse(t, "a/b.go", doc)}), 1)
	assert.Len(t, brokenComments([]source{parse(t, "a/b.go", doc), parse(t, "a/c.go", bare)}), 1)
}

func TestNoTextHoldsRuledOutWords(t *testing.T) {
	for _, name := range treeFiles(t) {
		text, err := os.ReadFile(filepath.Join(root, name))
		require.NoError(t, err)
		if bytes.IndexByte(text, 0) >= 0 {
			continue // not text
		}
		assert.Empty(t, brokenWords(name, text))
		if strings.HasPrefix(name, "client/test/") {
			assert.False(t, passedOver.Match(text), "%s: passes over a test", name)
		}
	}
}

func TestRuledOutWordsAreFound(t *testing.T) {
	for _, text := range []string{
		"cd /wo" + "rk/x", "open(\"/ro" + "ot\")", "/home/" + "me/x", "https://registry.np" + "mjs.example",
		"see the seed doc" + "ument", "// TO" + "DO: later", "panic(\"not implem" + "ented\")",
	} {
		assert.Len(t, brokenWords("a.go", []byte("fine\n"+text)), 1, text)
	}
	for _, text := range []string{"the worker", "root", "a/work" + "/b", "from its root/folder", "XXXL", "todo"} {
		assert.Empty(t, brokenWords("a.go", []byte(text)), text)
	}
	assert.Equal(t, []string{`a.go:2: "TO` + `DO" is unfinished work`}, brokenWords("a.go", []byte("a\n// TO"+"DO\n")))
	assert.Empty(t, brokenWords("go.sum", []byte("h1:a/XX"+"X=")))
	assert.True(t, passedOver.MatchString(`test.skip("x", () => {})`))
	assert.False(t, passedOver.MatchString(`skipper(1)`))
}
