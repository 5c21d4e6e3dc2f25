package book

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

var spotKeys = []string{"name", "role", "half", "like", "front", "stand", "attached", "alone", "wide", "ways", "key", "eyes", "fits", "block", "pass"}

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
