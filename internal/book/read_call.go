package book

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

var callKeys = []string{"name", "from", "without", "ways", "checks", "spots"}

var spotKeys = []string{"name", "role", "half", "like", "front", "stand", "attached", "alone", "wide", "ways", "key", "eyes", "fits", "block", "pass"}

// rawSpot keeps a spot's nodes until ways are chosen.
type rawSpot struct {
	label string
	node  *yaml.Node
	f     map[string]*yaml.Node
}

// rawCall is a call's nodes, what it has of the call it starts from included.
type rawCall struct {
	id     string
	f      map[string]*yaml.Node
	spots  []rawSpot
	ways   []entry
	checks *yaml.Node
}

// calls reads the calls of one book over those it starts from.
func (r *reader) calls(n *yaml.Node, raw map[string]*rawCall) []*call.Call {
	var out []*call.Call
	for _, e := range r.entries(n, "calls") {
		if !r.id(e) {
			continue
		}
		rc := &rawCall{id: e.name, f: r.fields(e.value, "call "+e.name, callKeys)}
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
			if rc.checks == nil {
				rc.checks = b.checks
			}
		} else {
			r.fail(rc.f["from"], fmt.Sprintf("from %q: no such call before this one", from), "want "+list(rawIDs(raw)))
			continue
		}
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
	c := &call.Call{ID: rc.id, Name: r.text(rc.f["name"], "name", 40), Checks: map[string]string{}}
	if c.Name == "" {
		c.Name = rc.id
	}
	for _, e := range r.entries(rc.checks, "checks of "+rc.id) {
		c.Checks[e.name] = r.text(e.value, "check "+e.name, 300)
	}
	for _, w := range rc.ways {
		if !slices.ContainsFunc(rc.spots, func(s rawSpot) bool { return s.label == w.name }) {
			r.fail(w.key, fmt.Sprintf("ways: no spot %q in call %s", w.name, rc.id), "a spot of this call")
		}
	}
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
		}
	}
	return c
}

// asPlayed gives a spot's nodes with the way that the call chose for it.
func (r *reader) asPlayed(rc *rawCall, s rawSpot) map[string]*yaml.Node {
	for _, w := range rc.ways {
		if w.name == s.label {
			return r.way(s, entryName{r.text(w.value, "way of "+w.name, 40), w.value})
		}
	}
	return s.f
}

// way lays a named other way of playing a spot over the spot.
func (r *reader) way(s rawSpot, w entryName) map[string]*yaml.Node {
	var names []string
	for _, e := range r.entries(s.f["ways"], "ways of "+s.label) {
		names = append(names, e.name)
		if e.name != w.name {
			continue
		}
		return laid(s.f, r.fields(e.value, "way "+w.name+" of "+s.label, spotKeys))
	}
	if len(names) == 0 {
		r.fail(w.node, fmt.Sprintf("%s has no other way to play", s.label), "leave it out")
	} else {
		r.fail(w.node, fmt.Sprintf("%s: no way %q", s.label, w.name), "want "+list(names))
	}
	return s.f
}

// like copies another spot of the call, its way included, and lays this spot's
// own keys over it.
func (r *reader) like(rc *rawCall, own map[string]*yaml.Node, like string) (map[string]*yaml.Node, bool) {
	for _, s := range rc.spots {
		if s.label == like {
			return laid(r.asPlayed(rc, s), own), true
		}
	}
	r.fail(own["like"], fmt.Sprintf("like %q: no such spot in call %s", like, rc.id), "a spot listed in this call")
	return nil, false
}

// laid lays some keys over others.
func laid(base, own map[string]*yaml.Node) map[string]*yaml.Node {
	m := maps.Clone(base)
	maps.Copy(m, own)
	return m
}

func (r *reader) spot(label string, n *yaml.Node, f map[string]*yaml.Node) (call.Spot, bool) {
	if !tagOK(label) {
		r.fail(n, fmt.Sprintf("spot %q", label), "1 to 4 letters or digits")
		return call.Spot{}, false
	}
	s := call.Spot{Label: label, Name: r.text(f["name"], "name", 40), Half: call.This, Fits: map[play.Kind]call.Fit{}}
	if s.Name == "" {
		s.Name = label
	}
	if h := r.choice(f["half"], "half", "this", "back"); h != "" {
		s.Half = call.Half(h)
	}
	if r.flag(f["front"], "front") {
		return s, true
	}
	if f["role"] == nil || f["stand"] == nil || f["fits"] == nil {
		r.fail(n, "spot "+label+": role, stand or fits is missing", "add them, or `front: true` for a man on the line")
		return s, false
	}
	s.Role = play.Target(r.choice(f["role"], "role", "corner", "apex", "safety", "hook", "deep"))
	s.Stand = r.stand(f["stand"], label)
	s.Attached = r.stand(f["attached"], label)
	s.Alone = r.stand(f["alone"], label)
	s.Wide = r.stand(f["wide"], label)
	s.Key = r.choice(f["key"], "key", "#1", "#2", "#3", "back")
	s.Eyes = r.text(f["eyes"], "eyes", 200)
	s.Block = r.text(f["block"], "block", 300)
	for _, e := range r.entries(f["fits"], "fits of "+label) {
		k := r.choice(e.key, "fits of "+label, "toss", "swing", "bubble", "now")
		if k != "" {
			s.Fits[play.Kind(k)] = r.fit(e.value, label+" on "+k)
		}
	}
	for _, it := range r.items(f["pass"], "pass of "+label) {
		if p, ok := r.passRule(it, label); ok {
			s.Pass = append(s.Pass, p)
		}
	}
	return s, true
}

var fitKeys = []string{"job", "owns", "spare", "hat", "key", "say"}

func (r *reader) fit(n *yaml.Node, what string) call.Fit {
	f := r.fields(n, what, fitKeys, "job", "owns", "hat", "key")
	out := call.Fit{
		Job:   call.Job(r.choice(f["job"], what+": job", words(call.Jobs)...)),
		Hat:   call.Hat(r.choice(f["hat"], what+": hat", "inside", "outside", "on-ball", "if-open", "either")),
		Spare: r.flag(f["spare"], what+": spare"),
		Say:   r.text(f["say"], what+": say", 200),
		Owns:  call.NoLane,
	}
	switch o := f["owns"]; {
	case o == nil:
	case o.Value == "none":
	case o.Value == "last":
		out.Owns = call.LastLane
	case o.Value == "reads":
		out.Owns = call.ReadsHat
	default:
		out.Owns = r.whole(o, what+`: owns (a lane, "last", "reads" or "none")`, 0, 5)
	}
	switch k := f["key"]; {
	case k == nil:
	case k.Value == "throw":
		out.OnThrow = true
	default:
		out.Key = r.number(k, what+`: key ("throw" or seconds)`, 0, 3)
	}
	return out
}

func (r *reader) stand(n *yaml.Node, label string) *call.Stand {
	if n == nil {
		return nil
	}
	f := r.fields(n, "stand of "+label, []string{"best", "inner", "outer", "depth", "keep"}, "best", "inner", "outer", "depth", "keep")
	s := &call.Stand{Best: r.landmark(f["best"]), Inner: r.landmark(f["inner"]), Outer: r.landmark(f["outer"])}
	if d := r.depth(f["depth"], "depth of "+label); d != nil {
		s.Depth = *d
	}
	keep := r.text(f["keep"], "keep", 40)
	side, off, _ := strings.Cut(keep, " o")
	off = strings.TrimPrefix(strings.TrimPrefix(off, "f "), "n ")
	if lm, ok := parseLandmark(off); ok && lm.Out == 0 && slices.Contains([]string{"inside", "outside", "head-up"}, side) {
		s.Keep = call.Shade{Off: lm.Off, Side: call.ShadeSide(side)}
	} else if f["keep"] != nil {
		r.fail(f["keep"], "keep: "+describe(f["keep"]), `want "inside of #2", "outside of #1" or "head-up on #2"`)
	}
	return s
}

// depth reads [usual, least, most] in yards.
func (r *reader) depth(n *yaml.Node, what string) *call.Depth {
	v := r.numbers(n, what, 3, 0, 30)
	if v == nil {
		return nil
	}
	if v[1] > v[0] || v[0] > v[2] {
		r.fail(n, fmt.Sprintf("%s: %g, %g, %g", what, v[0], v[1], v[2]), "want [usual, least, most] with least <= usual <= most")
		return nil
	}
	return &call.Depth{Best: field.FromYards(v[0]), Least: field.FromYards(v[1]), Most: field.FromYards(v[2])}
}

var landmarkForm = regexp.MustCompile(`^(#[123]|apex|end|ball|middle|hash)([+-]\d+(?:\.\d+)?)?$`)

func parseLandmark(t string) (call.Landmark, bool) {
	m := landmarkForm.FindStringSubmatch(t)
	if m == nil {
		return call.Landmark{}, false
	}
	out := 0.0
	if m[2] != "" {
		out, _ = strconv.ParseFloat(m[2], 64)
	}
	if out < -30 || out > 30 {
		return call.Landmark{}, false
	}
	return call.Landmark{Off: call.Off(m[1]), Out: field.FromYards(out)}, true
}

func (r *reader) landmark(n *yaml.Node) call.Landmark {
	if n == nil {
		return call.Landmark{}
	}
	l, ok := parseLandmark(r.text(n, "landmark", 20))
	if !ok {
		r.fail(n, "landmark "+describe(n), `want #1, #2, #3, apex, end, ball, middle or hash, then yards outward: "#2-1", "#1+1.5", "apex"`)
	}
	return l
}
