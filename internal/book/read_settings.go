package book

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/call"
)

// rawSetting is a disagreement of the trade that a call lets a staff decide: its
// choices, the usual one first, each with the ways of spots that it sets.
type rawSetting struct {
	name    string
	choices []entry
}

func (s *rawSetting) names() []string {
	out := make([]string, len(s.choices))
	for i, c := range s.choices {
		out[i] = c.name
	}
	return out
}

// declare reads the settings that a call declares over those of the call it
// starts from.
func (r *reader) declare(rc *rawCall) {
	rc.settings = slices.Clone(rc.settings)
	for _, e := range r.entries(rc.f["settings"], "settings of "+rc.id) {
		s := rawSetting{e.name, r.entries(e.value, "setting "+e.name+" of "+rc.id)}
		if !r.id(e) {
			continue
		}
		if len(s.choices) < 2 {
			r.fail(e.key, fmt.Sprintf("setting %s of %s: %d choices", e.name, rc.id, len(s.choices)), "at least two, the usual one first")
			continue
		}
		for _, c := range s.choices {
			if r.id(c) {
				r.waysOfChoice(rc, c)
			}
		}
		if at := slices.IndexFunc(rc.settings, func(o rawSetting) bool { return o.name == s.name }); at >= 0 {
			rc.settings[at] = s
		} else {
			rc.settings = append(rc.settings, s)
		}
	}
}

// waysOfChoice checks that a choice names spots of the call and ways they have.
func (r *reader) waysOfChoice(rc *rawCall, c entry) {
	for _, w := range r.entries(c.value, "choice "+c.name) {
		if s, ok := rc.spot(w.name); ok {
			r.way(s, s.f, entryName{r.text(w.value, "way of "+w.name, 40), w.value})
		} else {
			r.fail(w.key, fmt.Sprintf("choice %s: no spot %q in call %s", c.name, w.name, rc.id), "a spot of this call")
		}
	}
}

// choose takes a staff's choices of a call's settings.
func (r *reader) choose(rc *rawCall, picks []entry) {
	rc.chosen = slices.Clone(rc.chosen)
	for _, p := range picks {
		at := slices.IndexFunc(rc.settings, func(s rawSetting) bool { return s.name == p.name })
		switch {
		case len(rc.settings) == 0:
			r.fail(p.key, fmt.Sprintf("settings of %s: it has none", rc.id), "leave it out")
		case at < 0:
			r.fail(p.key, fmt.Sprintf("settings of %s: no setting %q", rc.id, p.name), "want "+list(settingNames(rc.settings)))
		case r.choice(p.value, rc.id+": "+p.name, rc.settings[at].names()...) != "":
			rc.chosen = joined(rc.chosen, []entry{p})
		}
	}
}

func settingNames(s []rawSetting) []string {
	out := make([]string, len(s))
	for i := range s {
		out[i] = s[i].name
	}
	return out
}

// choice gives what is chosen of a setting, the first if nothing is.
func (rc *rawCall) choice(s *rawSetting) entry {
	for _, p := range rc.chosen {
		if p.name != s.name {
			continue
		}
		for _, c := range s.choices {
			if c.name == p.value.Value {
				return c
			}
		}
	}
	return s.choices[0]
}

// chosenWays lists the ways of spots in force, the settings' before the call's
// own: a later one is laid over an earlier.
func (rc *rawCall) chosenWays() []entry {
	var out []entry
	for i := range rc.settings {
		v := rc.choice(&rc.settings[i]).value
		for k := 0; v.Kind == yaml.MappingNode && k+1 < len(v.Content); k += 2 {
			out = append(out, entry{v.Content[k].Value, v.Content[k], v.Content[k+1]})
		}
	}
	return append(out, rc.ways...)
}

// inUse tells the settings of a call and what is chosen.
func (rc *rawCall) inUse() []call.Setting {
	var out []call.Setting
	for i := range rc.settings {
		s := &rc.settings[i]
		out = append(out, call.Setting{Name: s.name, Choices: s.names(), Chosen: rc.choice(s).name})
	}
	return out
}

// bookSettings reads the settings of a book: by call, and those that hold for
// all of them.
func (r *reader) bookSettings(n *yaml.Node, b *Book) {
	r.chosen = map[string][]entry{}
	for _, e := range r.entries(n, "settings") {
		switch e.name {
		case matchLine:
			if v := r.number(e.value, matchLine+" (yards beyond the line)", 5, 12); v != 0 {
				b.Model.Match = v
			}
		case kickOuts:
			if k := r.choice(e.value, kickOuts, words(KickOuts)...); k != "" {
				b.KickOuts = KickOut(k)
			}
		default:
			r.settingOf = append(r.settingOf, e)
			r.chosen[e.name] = r.entries(e.value, "settings of "+e.name)
		}
	}
}

// settle applies a staff's settings to the built-in calls that its file does not
// change itself, and gives those calls.
func (r *reader) settle(own *yaml.Node, raw map[string]*rawCall) []*call.Call {
	var out []*call.Call
	for _, e := range r.settingOf {
		rc, ok := raw[e.name]
		if !ok || nodeOf(own, e.name) != nil {
			continue
		}
		rc.key = e.key
		r.choose(rc, r.chosen[e.name])
		out = append(out, r.call(rc))
	}
	return out
}

// unsettled refuses settings of calls that are nowhere.
func (r *reader) unsettled(raw map[string]*rawCall) {
	for _, e := range r.settingOf {
		if _, ok := raw[e.name]; !ok {
			r.fail(e.key, fmt.Sprintf("settings: no call %q", e.name), "want "+list(append([]string{matchLine, kickOuts}, rawIDs(raw)...)))
		}
	}
}
