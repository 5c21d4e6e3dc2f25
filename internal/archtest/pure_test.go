package archtest

import (
	"fmt"
	"go/ast"
	"testing"

	"github.com/stretchr/testify/assert"
)

// engine are the packages that only compute: the same input gives the same
// output on every machine, at any time, in any order of calls.
var engine = []string{
	"internal/field", "internal/athlete", "internal/look", "internal/play", "internal/call", "internal/assign",
	"internal/leverage", "internal/lane", "internal/rep", "internal/judge", "internal/strip", "internal/handout",
}

// pureSession is pure as well; it alone has JSON, since a session's state and
// changes are what is stored and sent.
const pureSession = "internal/session"

// impure is what a computation must not reach for: the world outside, the
// clock, chance, and what only several goroutines need.
var impure = []string{
	"net", "os", "syscall", "time", "math/rand", "crypto/rand", "log", "sync", "context", "unsafe",
}

// jsonPackages would tie the engine's types to one written form.
var jsonPackages = []string{"encoding/json", "github.com/go-json-experiment/json"}

func brokenPurity(all []source) []string {
	var broken []string
	for _, s := range all {
		isEngine := withinAny(s.pkg(), engine...)
		if s.test || !isEngine && !within(s.pkg(), pureSession) {
			continue
		}
		for _, imported := range s.imports {
			if withinAny(imported, impure...) || isEngine && withinAny(imported, jsonPackages...) {
				broken = append(broken, fmt.Sprintf("%s: imports %s: take what you need of it as an argument", s.name, imported))
			}
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			switch n.(type) {
			case *ast.GoStmt, *ast.SelectStmt, *ast.SendStmt, *ast.ChanType:
				broken = append(broken, s.at(n)+": uses goroutines or channels: leave that to the caller")
			}
			return true
		})
	}
	return broken
}

// allowedNow are the places that may read the clock, each with its reason.
// Everywhere else the time is an argument or an event, so that a test can say
// what time it is.
var allowedNow = map[string]string{
	"cmd":               "a command hands the clock to what it starts, and times its chores",
	"server/web":        "request durations, cookie ends, certificate dates",
	"server/conn":       "the deadlines of a socket are points in time",
	"internal/rehearse": "drives real browsers and servers, which have their own clock",
}

// clockReaders are the functions of package time that read the clock.
var clockReaders = map[string]bool{"Now": true, "Since": true, "Until": true}

func brokenClocks(all []source) []string {
	var broken []string
	for _, s := range all {
		allowed := s.test
		for dir := range allowedNow {
			allowed = allowed || within(s.pkg(), dir)
		}
		if allowed {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok && clockReaders[sel.Sel.Name] && isName(sel.X, "time") {
				broken = append(broken, s.at(n)+": reads the clock: take the time as an argument")
			}
			return true
		})
	}
	return broken
}

func isName(x ast.Expr, name string) bool {
	id, ok := x.(*ast.Ident)
	return ok && id.Name == name
}

// brokenTests finds what makes a test say less than it seems to: one that is
// passed over, and one that waits instead of watching.
func brokenTests(all []source) []string {
	var broken []string
	for _, s := range all {
		if !s.test && !withinAny(s.pkg(), rehearse, storeKit) {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			switch {
			case isName(sel.X, "time") && sel.Sel.Name == "Sleep":
				broken = append(broken, s.at(n)+": sleeps: wait for what should happen")
			case isName(sel.X, "t") && (sel.Sel.Name == "Skip" || sel.Sel.Name == "Skipf" || sel.Sel.Name == "SkipNow"):
				broken = append(broken, s.at(n)+": skips: a test that cannot run has failed")
			}
			return true
		})
	}
	return broken
}

func TestEngineIsPure(t *testing.T)           { assert.Empty(t, brokenPurity(sources(t))) }
func TestClockIsReadInFewPlaces(t *testing.T) { assert.Empty(t, brokenClocks(sources(t))) }
func TestNoTestSkipsOrSleeps(t *testing.T)    { assert.Empty(t, brokenTests(sources(t))) }
func TestPurityRulesCatchWhatTheyAreFor(t *testing.T) {
	for name, c := range map[string]struct {
		file, imports, body string
		rule                func([]source) []string
		caught              bool
	}{
		"a file in the engine":     {"internal/rep/a.go", "os", "", brokenPurity, true},
		"a request in the engine":  {"internal/rep/a.go", "net/http", "", brokenPurity, true},
		"chance in the engine":     {"internal/rep/a.go", "math/rand/v2", "", brokenPurity, true},
		"a lock in the engine":     {"internal/rep/a.go", "sync/atomic", "", brokenPurity, true},
		"sums in the engine":       {"internal/rep/a.go", "math", "", brokenPurity, false},
		"JSON in the engine":       {"internal/call/a.go", "encoding/json", "", brokenPurity, true},
		"JSON in the session":      {"internal/session/a.go", "encoding/json", "", brokenPurity, false},
		"the clock in the session": {"internal/session/a.go", "time", "", brokenPurity, true},
		"a goroutine":              {"internal/session/a.go", "fmt", "func f() { go f() }", brokenPurity, true},
		"files in a test":          {"internal/rep/a_test.go", "os", "", brokenPurity, false},
		"files in a book":          {"internal/book/a.go", "os", "", brokenPurity, false},
		"the clock in the hub":     {"server/hub/a.go", "time", "func f() { time.Now() }", brokenClocks, true},
		"elapsed time in the hub":  {"server/hub/a.go", "time", "func f(a time.Time) { time.Since(a) }", brokenClocks, true},
		"the clock in a command":   {"cmd/halfline/a.go", "time", "func f() { time.Now() }", brokenClocks, false},
		"a sleep":                  {"server/hub/a_test.go", "time", "func f() { time.Sleep(1) }", brokenTests, true},
		"a skip":                   {"server/hub/a_test.go", "testing", "func f(t *testing.T) { t.Skip() }", brokenTests, true},
		"a list's Skip":            {"server/hub/a_test.go", "testing", "func f(list interface{ Skip() }) { list.Skip() }", brokenTests, false},
	} {
		t.Run(name, func(t *testing.T) {
			s := parse(t, c.file, fmt.Sprintf("package p\n\nimport %q\n\n%s\n", c.imports, c.body))
			assert.Equal(t, c.caught, len(c.rule([]source{s})) > 0, "%v", c.rule([]source{s}))
		})
	}
}
