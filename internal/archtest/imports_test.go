package archtest

import (
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// layers orders the tree: a package may import those above it in this list,
// never one beside or below it. A folder stands for what lies in it too, and
// inside one entry imports are free.
var layers = [][]string{
	{"internal/field"},
	{"internal/athlete", "internal/look"},
	{"internal/play"},
	{"internal/call"},
	{"internal/assign"},
	{"internal/leverage"},
	{"internal/lane"}, // a lane's gain is a race, and races are leverage's
	{"internal/rep"},
	{"internal/book"}, // of leverage it knows the numbers that a staff may change
	{"internal/judge"},
	{"internal/session", "internal/strip"},
	{"internal/handout"}, // pages are made of drawings
	{"internal/wire"},
	{"server/store", "client"},
	{"server/conn", "server/hub", "server/gate"},
	{"server/web"},
	{"cmd"},
}

// forbidden are edges that the order alone would allow.
var forbidden = []struct {
	from, to string
	why      string
}{
	{"internal/book", "internal/assign", "a book says what a call is, not what follows from it"},
	{"internal/book", "internal/lane", "a book says what a call is, not what follows from it"},
	{"internal/wire", "internal/book", "books travel as the session holds them"},
	{"server/conn", "server/store", "a socket's fate must not hang on a disk's"},
	{"server/store", "client", "the store keeps records, not pages"},
	{"server/conn", "client", "only web hands out pages"},
	{"server/hub", "client", "only web hands out pages"},
	{"server", "client/build", "the bundler must stay out of the served binary"},
	{"cmd/halfline", "client/build", "the bundler must stay out of the served binary"},
}

// kits stand outside the order: they may import what the order gives to cmd,
// bar what their own rules say, and are imported by tests and chores only.
const (
	rehearse = "internal/rehearse"
	storeKit = "server/store/storetest"
)

func layerOf(dir string) int {
	return slices.IndexFunc(layers, func(layer []string) bool { return withinAny(dir, layer...) })
}

func entryOf(dir string) string {
	for _, layer := range layers {
		for _, entry := range layer {
			if within(dir, entry) {
				return entry
			}
		}
	}
	return ""
}

// brokenEdges names every import that goes against the order.
func brokenEdges(all []source) []string {
	var broken []string
	for _, s := range all {
		from := s.pkg()
		if s.test || withinAny(from, rehearse, "internal/archtest") {
			continue
		}
		if layerOf(from) < 0 {
			broken = append(broken, s.name+": its folder has no place in the layers of internal/archtest: give it one")
			continue
		}
		for _, to := range s.ours() {
			if within(to, rehearse) {
				continue // brokenKits speaks of it
			}
			if entryOf(from) != entryOf(to) && (layerOf(to) < 0 || layerOf(from) <= layerOf(to)) {
				broken = append(broken, fmt.Sprintf("%s: imports %s, which is not below it", s.name, to))
			}
			for _, edge := range forbidden {
				if within(from, edge.from) && within(to, edge.to) {
					broken = append(broken, fmt.Sprintf("%s: imports %s: %s", s.name, to, edge.why))
				}
			}
		}
	}
	return broken
}

// brokenSides holds internal away from server and cmd, tests excepted.
func brokenSides(all []source) []string {
	var broken []string
	for _, s := range all {
		for _, to := range s.ours() {
			if !s.test && within(s.pkg(), "internal") && withinAny(to, "server", "cmd") {
				broken = append(broken, fmt.Sprintf("%s: imports %s: internal packages serve, they do not know whom", s.name, to))
			}
		}
	}
	return broken
}

// loadCommand says whether a file belongs to the load generator, which drives
// the product from outside as the tests do.
func loadCommand(name string) bool {
	return strings.HasPrefix(name, "cmd/halfline/load")
}

// brokenKits keeps the test kits out of the product.
func brokenKits(all []source) []string {
	var broken []string
	for _, s := range all {
		from := s.pkg()
		if s.test || withinAny(from, rehearse, storeKit, "cmd/dev") || loadCommand(s.name) {
			continue
		}
		for _, to := range s.ours() {
			if withinAny(to, rehearse, storeKit) {
				broken = append(broken, fmt.Sprintf("%s: imports %s, which is for tests, chores and load only", s.name, to))
			}
		}
	}
	return broken
}

// homes gives each technology the one place that may know it, so that it can
// be replaced there. Tests and the load generator stand outside the product
// and may speak to it in its own tongue.
var homes = []struct {
	technology string
	dirs       []string
}{
	{"github.com/gorilla/websocket", []string{"server/conn", rehearse}},
	{"go.etcd.io/bbolt", []string{"server/store/boltstore"}},
	{"github.com/redis/go-redis", []string{"server/store/redisstore"}},
	{"github.com/evanw/esbuild", []string{"client/build"}},
	{"github.com/chromedp", []string{rehearse}},
	{"go.yaml.in/yaml", []string{"internal/book"}},
	{"github.com/stretchr/testify", []string{storeKit, rehearse}},
	{"pgregory.net/rapid", []string{storeKit, rehearse}},
	{"go.uber.org/goleak", []string{storeKit, rehearse}},
	{"testing", []string{storeKit, rehearse}},
}

func brokenHomes(all []source) []string {
	var broken []string
	for _, s := range all {
		if s.test || loadCommand(s.name) {
			continue
		}
		for _, imported := range s.imports {
			for _, home := range homes {
				if within(imported, home.technology) && !withinAny(s.pkg(), home.dirs...) {
					broken = append(broken, fmt.Sprintf("%s: imports %s, which only %s may", s.name, imported, strings.Join(home.dirs, " and ")))
				}
			}
		}
	}
	return broken
}

func TestImportsGoOneWay(t *testing.T)             { assert.Empty(t, brokenEdges(sources(t))) }
func TestInternalKnowsNoServer(t *testing.T)       { assert.Empty(t, brokenSides(sources(t))) }
func TestTestKitsStayOutOfTheProduct(t *testing.T) { assert.Empty(t, brokenKits(sources(t))) }
func TestEachTechnologyHasItsHome(t *testing.T)    { assert.Empty(t, brokenHomes(sources(t))) }

// testOnly are modules that the served binary must never carry, by whatever
// way round: they are large, or speak to the outside.
var testOnly = []string{
	"github.com/evanw/esbuild", "github.com/chromedp", "github.com/stretchr/testify", "pgregory.net/rapid",
	"go.uber.org/goleak", "github.com/getkin/kin-openapi", "github.com/santhosh-tekuri/jsonschema",
}

// TestBinaryCarriesNoTestTools follows the imports of the product's command to
// their ends.
func TestBinaryCarriesNoTestTools(t *testing.T) {
	if !slices.ContainsFunc(sources(t), func(s source) bool { return s.pkg() == "cmd/halfline" }) {
		return // nothing is served yet, so nothing can be carried
	}
	cmd := exec.Command("go", "list", "-deps", "./cmd/halfline")
	cmd.Dir = root
	out, err := cmd.Output()
	require.NoError(t, err)
	for _, dependency := range strings.Fields(string(out)) {
		assert.False(t, withinAny(dependency, testOnly...), "cmd/halfline carries %s: go mod why says by which way", dependency)
	}
}

func TestImportRulesCatchWhatTheyAreFor(t *testing.T) {
	for name, c := range map[string]struct {
		file, imports string
		rule          func([]source) []string
		caught        bool
	}{
		"field knows nobody":      {"internal/field/a.go", "halfline/internal/look", brokenEdges, true},
		"look knows field":        {"internal/look/a.go", "halfline/internal/field", brokenEdges, false},
		"look and athlete apart":  {"internal/look/a.go", "halfline/internal/athlete", brokenEdges, true},
		"inside one entry":        {"internal/wire/gen/a.go", "halfline/internal/wire", brokenEdges, false},
		"both ways in one entry":  {"internal/wire/a.go", "halfline/internal/wire/shape", brokenEdges, false},
		"a test may look around":  {"internal/field/a_test.go", "halfline/internal/look", brokenEdges, false},
		"hub knows store":         {"server/hub/a.go", "halfline/server/store", brokenEdges, false},
		"hub and conn apart":      {"server/hub/a.go", "halfline/server/conn", brokenEdges, true},
		"conn and hub apart":      {"server/conn/a.go", "halfline/server/hub", brokenEdges, true},
		"book without lanes":      {"internal/book/a.go", "halfline/internal/lane", brokenEdges, true},
		"book reads calls":        {"internal/book/a.go", "halfline/internal/call", brokenEdges, false},
		"unknown folder":          {"internal/util/a.go", "fmt", brokenEdges, true},
		"unknown import":          {"internal/rep/a.go", "halfline/internal/util", brokenEdges, true},
		"server sans bundler":     {"server/web/a.go", "halfline/client/build", brokenEdges, true},
		"chores with bundler":     {"cmd/dev/a.go", "halfline/client/build", brokenEdges, false},
		"internal sans server":    {"internal/rehearse/a.go", "halfline/server/hub", brokenSides, true},
		"product sans rehearse":   {"cmd/halfline/serve.go", "halfline/internal/rehearse/sim", brokenKits, true},
		"load with rehearse":      {"cmd/halfline/load.go", "halfline/internal/rehearse/sim", brokenKits, false},
		"chores with rehearse":    {"cmd/dev/a.go", "halfline/internal/rehearse/browser", brokenKits, false},
		"sockets in conn":         {"server/conn/a.go", "github.com/gorilla/websocket", brokenHomes, false},
		"sockets in hub":          {"server/hub/a.go", "github.com/gorilla/websocket", brokenHomes, true},
		"bbolt in another store":  {"server/store/redisstore/a.go", "go.etcd.io/bbolt", brokenHomes, true},
		"redis client, version 9": {"server/web/a.go", "github.com/redis/go-redis/v9", brokenHomes, true},
		"testing in the product":  {"server/hub/a.go", "testing", brokenHomes, true},
		"testing/synctest too":    {"server/hub/a.go", "testing/synctest", brokenHomes, true},
	} {
		t.Run(name, func(t *testing.T) {
			s := parse(t, c.file, fmt.Sprintf("package p\n\nimport _ %q\n", c.imports))
			assert.Equal(t, c.caught, len(c.rule([]source{s})) > 0, "%v", c.rule([]source{s}))
		})
	}
}
