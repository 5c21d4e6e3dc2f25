package book

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

const (
	maxFile  = 1 << 20 // bytes; a season's book is a tenth of it
	maxDepth = 16
	maxNodes = 50000
)

// reader walks a YAML tree and collects problems instead of stopping at the
// first.
type reader struct {
	file string
	root *yaml.Node
	errs Problems
	// chosen holds a book's settings by call, settingOf those calls in the order
	// of the file.
	chosen    map[string][]entry
	settingOf []entry
}

// tree parses a file of one YAML document.
func (r *reader) tree(data []byte) *yaml.Node {
	if len(data) > maxFile {
		r.errs = append(r.errs, Problem{r.file, 1, 1, fmt.Sprintf("file of %d bytes", len(data)), "at most 1 MiB"})
		return nil
	}
	var doc, more yaml.Node
	l, err := yaml.NewLoader(bytes.NewReader(data))
	if err == nil {
		err = l.Load(&doc)
	}
	if errors.Is(err, io.EOF) || err == nil && len(doc.Content) == 0 {
		r.errs = append(r.errs, Problem{r.file, 1, 1, "empty file", "a mapping of keys"})
		return nil
	}
	if err == nil {
		if err = l.Load(&more); err == nil {
			r.fail(&more, "a second document", "one a file")
			return nil
		}
	}
	if !errors.Is(err, io.EOF) {
		r.errs = append(r.errs, r.syntax(err))
		return nil
	}
	count := 0
	if !r.sane(doc.Content[0], 0, &count) {
		return nil
	}
	r.root = doc.Content[0]
	return r.root
}

// has reports whether a node is of this file.
func (r *reader) has(n *yaml.Node) bool { return n != nil && within(r.root, n) }

func within(root, n *yaml.Node) bool {
	if root == nil || root == n {
		return root != nil
	}
	for _, c := range root.Content {
		if within(c, n) {
			return true
		}
	}
	return false
}

// syntax is what the YAML parser complains of, with its place.
func (r *reader) syntax(err error) Problem {
	p := Problem{r.file, 1, 1, strings.ReplaceAll(err.Error(), "\n", " "), "YAML 1.2"}
	var le *yaml.LoadError
	if errors.As(err, &le) {
		p.What = le.Message
		if le.Mark.Line > 0 {
			p.Line, p.Col = le.Mark.Line, max(le.Mark.Column, 1)
		}
	}
	return p
}

func (r *reader) sane(n *yaml.Node, depth int, count *int) bool {
	*count++
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		r.fail(n, "an alias or anchor", "write the value out")
		return false
	case depth > maxDepth:
		r.fail(n, "nested too deep", fmt.Sprintf("at most %d levels", maxDepth))
		return false
	case *count > maxNodes:
		r.fail(n, "too many values", fmt.Sprintf("at most %d", maxNodes))
		return false
	}
	for _, c := range n.Content {
		if !r.sane(c, depth+1, count) {
			return false
		}
	}
	return true
}

func (r *reader) fail(n *yaml.Node, what, want string) {
	p := Problem{File: r.file, Line: 1, Col: 1, What: what, Want: want}
	if n != nil {
		p.Line, p.Col = n.Line, n.Column
	}
	r.errs = append(r.errs, p)
}

func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return "a list"
	}
	if n.Value == "" {
		return "nothing"
	}
	v := n.Value
	if len(v) > 40 {
		v = v[:40] + "…"
	}
	return strconv.Quote(v)
}

// entry is one key of a mapping.
type entry struct {
	name       string
	key, value *yaml.Node
}

// entries lists a mapping in file order, duplicate keys refused.
func (r *reader) entries(n *yaml.Node, what string) []entry {
	if n == nil {
		return nil
	}
	if n.Kind != yaml.MappingNode {
		r.fail(n, what+": "+describe(n), "want a mapping of keys")
		return nil
	}
	var out []entry
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		if seen[k.Value] {
			r.fail(k, fmt.Sprintf("%s: key %q again", what, k.Value), "each key once")
			continue
		}
		seen[k.Value] = true
		out = append(out, entry{k.Value, k, n.Content[i+1]})
	}
	return out
}

// fields reads a mapping whose keys are known; must lists those that have to be
// there.
func (r *reader) fields(n *yaml.Node, what string, known []string, must ...string) map[string]*yaml.Node {
	out := map[string]*yaml.Node{}
	for _, e := range r.entries(n, what) {
		if !slices.Contains(known, e.name) {
			r.fail(e.key, fmt.Sprintf("%s: unknown key %q", what, e.name), "want "+list(known))
			continue
		}
		out[e.name] = e.value
	}
	if n == nil || n.Kind != yaml.MappingNode {
		return out
	}
	for _, m := range must {
		if out[m] == nil {
			r.fail(n, fmt.Sprintf("%s: %q is missing", what, m), "add it")
		}
	}
	return out
}

func list(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " or " + s[len(s)-1]
}

func (r *reader) text(n *yaml.Node, what string, maxRunes int) string {
	if n == nil {
		return ""
	}
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		r.fail(n, what+": "+describe(n), "want text")
		return ""
	}
	if !cleanText(n.Value) {
		r.fail(n, what+": a control or direction mark in the text", "plain text")
		return ""
	}
	if len([]rune(n.Value)) > maxRunes {
		r.fail(n, fmt.Sprintf("%s: %d characters", what, len([]rune(n.Value))), fmt.Sprintf("at most %d", maxRunes))
		return ""
	}
	return n.Value
}

// cleanText refuses control characters and marks that change the direction of
// writing, which could make a label read as something else.
func cleanText(s string) bool {
	for _, c := range s {
		if c < 0x20 && c != '\n' || c == 0x7f || (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069) || c == 0x200e || c == 0x200f || c == 0xfeff {
			return false
		}
	}
	return true
}

func (r *reader) choice(n *yaml.Node, what string, of ...string) string {
	if n == nil {
		return ""
	}
	if n.Kind == yaml.ScalarNode && slices.Contains(of, n.Value) {
		return n.Value
	}
	r.fail(n, what+": "+describe(n), "want "+list(of))
	return ""
}

func (r *reader) number(n *yaml.Node, what string, least, most float64) float64 {
	if n == nil {
		return 0
	}
	v, err := strconv.ParseFloat(n.Value, 64)
	if n.Kind != yaml.ScalarNode || n.Tag == "!!str" || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.fail(n, what+": "+describe(n), "want a finite number")
		return 0
	}
	if v < least || v > most {
		r.fail(n, fmt.Sprintf("%s: %s", what, n.Value), fmt.Sprintf("want %g to %g", least, most))
		return 0
	}
	return v
}

func (r *reader) whole(n *yaml.Node, what string, least, most int) int {
	if n == nil {
		return 0
	}
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v < least || v > most {
		r.fail(n, what+": "+describe(n), fmt.Sprintf("want a whole number, %d to %d", least, most))
		return 0
	}
	return v
}

func (r *reader) flag(n *yaml.Node, what string) bool {
	if n == nil {
		return false
	}
	if n.Kind == yaml.ScalarNode && (n.Value == "true" || n.Value == "false") {
		return n.Value == "true"
	}
	r.fail(n, what+": "+describe(n), "want true or false")
	return false
}

func (r *reader) items(n *yaml.Node, what string) []*yaml.Node {
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		r.fail(n, what+": "+describe(n), "want a list")
		return nil
	}
	return n.Content
}

// numbers reads a list of exactly count numbers.
func (r *reader) numbers(n *yaml.Node, what string, count int, least, most float64) []float64 {
	if n == nil {
		return nil
	}
	its := r.items(n, what)
	if n.Kind != yaml.SequenceNode {
		return nil
	}
	if len(its) != count {
		r.fail(n, fmt.Sprintf("%s: a list of %d", what, len(its)), fmt.Sprintf("want %d numbers", count))
		return nil
	}
	before := len(r.errs)
	out := make([]float64, count)
	for i, it := range its {
		out[i] = r.number(it, what, least, most)
	}
	if len(r.errs) > before {
		return nil
	}
	return out
}

func (r *reader) names(n *yaml.Node, what string) []entryName {
	var out []entryName
	for _, it := range r.items(n, what) {
		if t := r.text(it, what, 40); t != "" {
			out = append(out, entryName{t, it})
		}
	}
	return out
}

type entryName struct {
	name string
	node *yaml.Node
}
