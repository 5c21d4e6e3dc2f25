package book

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
	"halfline/internal/play"
)

// passRule reads one line of a spot's pass rules. Who holds a receiver takes
// the one of the condition unless another is named.
func (r *reader) passRule(n *yaml.Node, label string) (call.PassRule, bool) {
	f := r.fields(n, "pass rule of "+label, []string{"if", "do", "takes", "holds"}, "if", "do")
	if f["if"] == nil {
		return call.PassRule{}, false // told already
	}
	first, second, ok := conditions(r.text(f["if"], "if", 60))
	if !ok {
		r.fail(f["if"], "if: "+describe(f["if"]), `want "#1", "#2", "#3" or "back", then `+list(words(play.Releases))+
			`; two of them with "and" between`)
		return call.PassRule{}, false
	}
	p := call.PassRule{If: first, With: second, Do: r.text(f["do"], "do", 300),
		Takes: r.choice(f["takes"], "takes", call.Numbers...), Holds: call.Hold(r.choice(f["holds"], "holds", words(call.Holds)...))}
	if f["takes"] != nil && f["holds"] == nil {
		r.fail(f["takes"], "takes: "+describe(f["takes"])+" without holds", "say how he holds him: "+list(words(call.Holds)))
	}
	if p.Holds != call.NoHold && p.Takes == "" {
		p.Takes = first.Number
	}
	return p, true
}

// conditions reads "#2 out" or "back out and #2 out".
func conditions(t string) (first, second call.Condition, ok bool) {
	a, b, both := strings.Cut(t, " and ")
	if first, ok = condition(a); ok && both {
		second, ok = condition(b)
		ok = ok && second.Number != first.Number
	}
	return first, second, ok
}

func condition(t string) (call.Condition, bool) {
	w := strings.Fields(t)
	if len(w) == 0 || len(w) > 2 || !slices.Contains(call.Numbers, w[0]) {
		return call.Condition{}, false
	}
	if len(w) == 1 {
		return call.Condition{Number: w[0]}, true
	}
	return call.Condition{Number: w[0], Release: w[1]}, slices.Contains(play.Releases, play.Release(w[1]))
}

// words gives the words of a list of named values.
func words[T ~string](of []T) []string {
	out := make([]string, len(of))
	for i, w := range of {
		out[i] = string(w)
	}
	return out
}
