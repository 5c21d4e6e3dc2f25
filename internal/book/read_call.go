package book

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
)

var callKeys = []string{"name", "from", "without", "ways", "settings", "checks", "spots"}

// spotNodes are what a spot is read from, by key.
type spotNodes = map[string]*yaml.Node

// rawSpot keeps a spot's nodes until ways are chosen.
type rawSpot struct {
	label string
	node  *yaml.Node
	f     spotNodes
}

// rawCall is a call's nodes, what it has of the call it starts from included.
type rawCall struct {
	id       string
	key      *yaml.Node
	f        map[string]*yaml.Node
	spots    []rawSpot
	ways     []entry
	settings []rawSetting
	chosen   []entry // choices of settings, by the setting's name
	checks   *yaml.Node
}

func (rc *rawCall) spot(label string) (rawSpot, bool) {
	for _, s := range rc.spots {
		if s.label == label {
			return s, true
		}
	}
	return rawSpot{}, false
}

// calls reads the calls of one book over those it starts from.
func (r *reader) calls(n *yaml.Node, raw map[string]*rawCall) []*call.Call {
	var out []*call.Call
	for _, e := range r.entries(n, "calls") {
		if !r.id(e) {
			continue
		}
		rc := &rawCall{id: e.name, key: e.key, f: r.fields(e.value, "call "+e.name, callKeys)}
		rc.ways, rc.checks = r.entries(rc.f["ways"], "ways of "+e.name), rc.f["checks"]
		from := r.text(rc.f["from"], "from", 40)
		if from == "" {
			for _, s := range r.entries(rc.f["spots"], "spots of "+e.name) {
				rc.spots = append(rc.spots, rawSpot{s.name, s.value, r.fields(s.value, "spot "+s.name, spotKeys)})
			}
			if rc.f["spots"] == nil {
				r.fail(e.key, fmt.Sprintf("call %s: no spots", e.name), "list its spots, or start `from:` another call")
			}
		} else if b, ok := raw[from]; ok {
			rc.spots = r.override(r.without(b.spots, rc.f["without"], from), rc.f["spots"], e.name)
			rc.ways = joined(b.ways, rc.ways)
			rc.settings, rc.chosen = b.settings, b.chosen
			if rc.checks == nil {
				rc.checks = b.checks
			}
		} else {
			r.fail(rc.f["from"], fmt.Sprintf("from %q: no such call before this one", from), "want "+list(rawIDs(raw)))
			continue
		}
		r.declare(rc)
		r.choose(rc, r.chosen[e.name])
		raw[e.name] = rc
		out = append(out, r.call(rc))
	}
	return out
}

// without drops the spots that a call does not take over from another.
func (r *reader) without(base []rawSpot, n *yaml.Node, from string) []rawSpot {
	out := slices.Clone(base)
	for _, w := range r.names(n, "without") {
		at := slices.IndexFunc(out, func(s rawSpot) bool { return s.label == w.name })
		if at < 0 {
			r.fail(w.node, fmt.Sprintf("without: no spot %q in call %s", w.name, from), "a spot of that call")
			continue
		}
		out = slices.Delete(out, at, at+1)
	}
	return out
}

func rawIDs(raw map[string]*rawCall) []string {
	var out []string
	for id := range raw {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

// override lays the keys of a call's own spots over those it starts from.
func (r *reader) override(base []rawSpot, n *yaml.Node, id string) []rawSpot {
	out := slices.Clone(base)
	for _, s := range r.entries(n, "spots of "+id) {
		f := r.fields(s.value, "spot "+s.name, spotKeys)
		at := slices.IndexFunc(out, func(o rawSpot) bool { return o.label == s.name })
		if at < 0 {
			out = append(out, rawSpot{s.name, s.value, f})
			continue
		}
		out[at] = rawSpot{s.name, s.value, laid(out[at].f, f)}
	}
	return out
}

func (r *reader) call(rc *rawCall) *call.Call {
	before := len(r.errs)
	c := &call.Call{ID: rc.id, Name: r.text(rc.f["name"], "name", 40), Checks: map[string]string{}, Settings: rc.inUse()}
	if c.Name == "" {
		c.Name = rc.id
	}
	for _, e := range r.entries(rc.checks, "checks of "+rc.id) {
		c.Checks[e.name] = r.text(e.value, "check "+e.name, 300)
	}
	for _, w := range rc.ways {
		if _, ok := rc.spot(w.name); !ok {
			r.fail(w.key, fmt.Sprintf("ways: no spot %q in call %s", w.name, rc.id), "a spot of this call")
		}
	}
	nodes := map[string]spotNodes{}
	for _, s := range rc.spots {
		f := r.asPlayed(rc, s)
		if like := r.text(f["like"], "like", 12); like != "" {
			var got bool
			if f, got = r.like(rc, f, like); !got {
				continue
			}
		}
		if sp, ok := r.spot(s.label, s.node, f); ok {
			c.Spots = append(c.Spots, sp)
			nodes[s.label] = f
		}
	}
	if len(r.errs) == before {
		r.contradictions(c, rc, nodes)
	}
	return c
}
