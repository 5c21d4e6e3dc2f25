package book

import (
	"fmt"
	"maps"
	"slices"

	"go.yaml.in/yaml/v4"
)

// joined lays a call's own ways over those of the call it starts from.
func joined(base, own []entry) []entry {
	out := slices.Clone(base)
	for _, e := range own {
		if at := slices.IndexFunc(out, func(o entry) bool { return o.name == e.name }); at >= 0 {
			out[at] = e
		} else {
			out = append(out, e)
		}
	}
	return out
}

// asPlayed gives a spot's nodes with the ways that the call's settings and then
// the call itself chose for it.
func (r *reader) asPlayed(rc *rawCall, s rawSpot) spotNodes {
	f := s.f
	for _, w := range rc.chosenWays() {
		if w.name == s.label {
			f = r.way(s, f, entryName{r.text(w.value, "way of "+w.name, 40), w.value})
		}
	}
	return f
}

// way lays a named other way of playing a spot over f.
func (r *reader) way(s rawSpot, f spotNodes, w entryName) spotNodes {
	var names []string
	for _, e := range r.entries(s.f["ways"], "ways of "+s.label) {
		names = append(names, e.name)
		if e.name != w.name {
			continue
		}
		own := r.fields(e.value, "way "+w.name+" of "+s.label, spotKeys)
		own["pass"] = rulesOver(f["pass"], own["pass"])
		if own["pass"] == nil {
			delete(own, "pass")
		}
		return laid(f, own)
	}
	if len(names) == 0 {
		r.fail(w.node, fmt.Sprintf("%s has no other way to play", s.label), "leave it out")
	} else {
		r.fail(w.node, fmt.Sprintf("%s: no way %q", s.label, w.name), "want "+list(names))
	}
	return f
}

// like copies another spot of the call, its ways included, and lays this spot's
// own keys over it.
func (r *reader) like(rc *rawCall, own spotNodes, like string) (spotNodes, bool) {
	if s, ok := rc.spot(like); ok {
		return laid(r.asPlayed(rc, s), own), true
	}
	r.fail(own["like"], fmt.Sprintf("like %q: no such spot in call %s", like, rc.id), "a spot listed in this call")
	return nil, false
}

// laid lays some keys over others. Fits are laid over by kind of play: who
// changes his part against the toss keeps it against the bubble.
func laid(base, own spotNodes) spotNodes {
	m := maps.Clone(base)
	maps.Copy(m, own)
	if b, o := base["fits"], own["fits"]; b != nil && o != nil && b.Kind == yaml.MappingNode && o.Kind == yaml.MappingNode {
		m["fits"] = keysOver(b, o)
	}
	return m
}

// keysOver is a mapping of base's keys and own's over them.
func keysOver(base, own *yaml.Node) *yaml.Node {
	n := *own
	n.Content = nil
	has := func(key string) bool {
		for i := 0; i+1 < len(own.Content); i += 2 {
			if own.Content[i].Value == key {
				return true
			}
		}
		return false
	}
	for i := 0; i+1 < len(base.Content); i += 2 {
		if !has(base.Content[i].Value) {
			n.Content = append(n.Content, base.Content[i], base.Content[i+1])
		}
	}
	n.Content = append(n.Content, own.Content...)
	return &n
}

// rulesOver puts a way's pass rules before a spot's, of which those with the same
// `if` fall away.
func rulesOver(base, own *yaml.Node) *yaml.Node {
	if base == nil || own == nil || base.Kind != yaml.SequenceNode || own.Kind != yaml.SequenceNode {
		return own
	}
	n := *own
	n.Content = slices.Clone(own.Content)
	for _, b := range base.Content {
		if !slices.ContainsFunc(own.Content, func(o *yaml.Node) bool { return valueOf(o, "if") == valueOf(b, "if") }) {
			n.Content = append(n.Content, b)
		}
	}
	return &n
}

// valueOf is the text under a key of a mapping, "" if there is none.
func valueOf(n *yaml.Node, key string) string {
	if v := nodeOf(n, key); v != nil {
		return v.Value
	}
	return ""
}

func nodeOf(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}
