package book

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/play"
)

func (r *reader) plays(n *yaml.Node) []*play.Play {
	var out []*play.Play
	for _, e := range r.entries(n, "plays") {
		if !r.id(e) {
			continue
		}
		what := "play " + e.name
		known, must := []string{"name", "kind", "motion", "carrier", "blocks", "leaves", "caught", "commits", "routes"}, []string{"kind", "carrier", "leaves", "caught", "commits"}
		if isPass(e.value) {
			known, must = []string{"name", "kind", "motion", "routes", "throws", "fakes"}, []string{"kind", "routes", "throws"}
		}
		f := r.fields(e.value, what, known, must...)
		p := &play.Play{ID: e.name, Name: r.text(f["name"], "name", 40)}
		if p.Name == "" {
			p.Name = e.name
		}
		p.Kind = play.Kind(r.choice(f["kind"], what+": kind", "toss", "swing", "bubble", "now", "pass"))
		p.Motion = r.playMotion(f["motion"], what)
		r.routes(p, f["routes"], what)
		if p.Kind == play.Pass {
			r.pass(p, f, what)
			out = append(out, p)
			continue
		}
		p.Carrier = play.Ref(r.choice(f["carrier"], what+": carrier", eligible...))
		p.Leaves = r.number(f["leaves"], what+": leaves", 0, 5)
		p.Caught, p.CaughtAt, _ = r.event(f["caught"], what+": caught", []string{"at", "place"})
		p.Commits, p.CommitsAt, p.Going = r.event(f["commits"], what+": commits", []string{"at", "place", "going"})
		if f["commits"] != nil && f["caught"] != nil && p.Commits < p.Caught {
			r.fail(f["commits"], fmt.Sprintf("%s: commits at %g s, before the catch at %g s", what, p.Commits, p.Caught), "a time not before the catch")
		}
		r.blocks(p, f["blocks"], what)
		out = append(out, p)
	}
	return out
}

// isPass looks ahead: a pass has routes where a run has a carrier.
func isPass(n *yaml.Node) bool {
	for i := 0; n != nil && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == "kind" {
			return n.Content[i+1].Value == string(play.Pass)
		}
	}
	return false
}

// blocks reads who blocks whom.
func (r *reader) blocks(p *play.Play, n *yaml.Node, what string) {
	hows := make([]string, len(play.Hows))
	for i, h := range play.Hows {
		hows[i] = string(h)
	}
	for _, it := range r.items(n, what+": blocks") {
		bf := r.fields(it, what+": block", []string{"by", "on", "how"}, "by", "on")
		b := play.Block{By: play.Ref(r.choice(bf["by"], what+": by", refs...)), How: play.Stalk,
			On: play.Target(r.choice(bf["on"], what+": on", "corner", "apex", "safety", "hook"))}
		if bf["how"] != nil {
			b.How = play.How(r.choice(bf["how"], what+": how", hows...))
		}
		switch {
		case b.By == p.Carrier && b.By != "":
			r.fail(bf["by"], fmt.Sprintf("%s: %s carries the ball and cannot block", what, b.By), "another man")
		case slices.ContainsFunc(p.Blocks, func(o play.Block) bool { return o.By == b.By && b.By != "" }):
			r.fail(bf["by"], fmt.Sprintf("%s: %s blocks twice", what, b.By), "one block a man")
		case slices.ContainsFunc(p.Routes, func(o play.Route) bool { return o.By == b.By && b.By != "" }):
			r.fail(bf["by"], fmt.Sprintf("%s: %s blocks and runs a route", what, b.By), "one of the two")
		}
		p.Blocks = append(p.Blocks, b)
	}
}

// playMotion reads who goes where before the snap. The rulebooks let no man move
// towards the line at the snap (NFHS 7-2-7, NCAA 7-1-4-b).
func (r *reader) playMotion(n *yaml.Node, what string) *play.Motion {
	if n == nil {
		return nil
	}
	f := r.fields(n, what+": motion", []string{"by", "kind", "off", "to", "going"}, "by", "kind", "to")
	m := &play.Motion{By: play.Ref(r.choice(f["by"], what+": motion: by", eligible...)),
		Kind: r.choice(f["kind"], what+": motion: kind", motionKinds...)}
	if f["off"] != nil {
		m.Off = play.Ref(r.choice(f["off"], what+": motion: off", "#1", "#2", "#3"))
	}
	if v := r.numbers(f["to"], what+": motion: to", 2, -40, 40); v != nil {
		m.To = field.Vec{X: v[0], Y: v[1]}
		if m.To.Y > -0.5 {
			r.fail(f["to"], fmt.Sprintf("%s: motion: on the line at the snap", what), "at least half a yard behind it: [outward, downfield] with downfield -0.5 or less")
		}
	}
	if v := r.numbers(f["going"], what+": motion: going", 2, -12, 12); v != nil {
		m.Going = field.Vec{X: v[0], Y: v[1]}
		if m.Going.Y > 0 {
			r.fail(f["going"], fmt.Sprintf("%s: motion: towards the line at the snap", what), "downfield speed 0 or less")
		}
	}
	return m
}

var motionKinds = []string{"push", "jet", "orbit", "return", "shift"}

// pass reads what only a pass has.
func (r *reader) pass(p *play.Play, f map[string]*yaml.Node, what string) {
	if v := r.numbers(f["throws"], what+": throws", 2, 0.6, 6); v != nil {
		p.ThrowFrom, p.ThrowTo = v[0], v[1]
		if v[1] < v[0] {
			r.fail(f["throws"], what+": throws: the last before the first", "[first, last] in s after the snap")
		}
	}
	if f["fakes"] != nil {
		ff := r.fields(f["fakes"], what+": fakes", []string{"kind", "by"}, "kind", "by")
		p.Fakes = play.Kind(r.choice(ff["kind"], what+": fakes: kind", "toss", "swing", "bubble", "now"))
		p.FakedBy = play.Ref(r.choice(ff["by"], what+": fakes: by", eligible...))
	}
}

func (r *reader) routes(p *play.Play, n *yaml.Node, what string) {
	releases := make([]string, len(play.Releases))
	for i, x := range play.Releases {
		releases[i] = string(x)
	}
	for _, it := range r.items(n, what+": routes") {
		rf := r.fields(it, what+": route", []string{"by", "release", "reads", "legs", "waits", "shows"}, "by", "release", "reads", "legs")
		rt := play.Route{By: play.Ref(r.choice(rf["by"], what+": by", eligible...)), Release: play.Release(r.choice(rf["release"], what+": release", releases...)),
			Reads: r.number(rf["reads"], what+": reads", 0, 5)}
		if rf["shows"] != nil {
			rt.Shows = play.Release(r.choice(rf["shows"], what+": shows", releases...))
		}
		for _, l := range r.items(rf["legs"], what+": legs") {
			if v := r.numbers(l, what+": leg", 2, -60, 60); v != nil {
				rt.Legs = append(rt.Legs, field.Vec{X: v[0], Y: v[1]})
			}
		}
		for _, w := range r.items(rf["waits"], what+": waits") {
			rt.Waits = append(rt.Waits, r.number(w, what+": wait", 0, 3))
		}
		if len(rt.Legs) == 0 && rf["legs"] != nil {
			r.fail(rf["legs"], what+": legs: none", "at least one [outward, downfield]")
		}
		if slices.ContainsFunc(p.Routes, func(o play.Route) bool { return o.By == rt.By && rt.By != "" }) {
			r.fail(rf["by"], fmt.Sprintf("%s: %s runs two routes", what, rt.By), "one route a man")
		}
		p.Routes = append(p.Routes, rt)
	}
}

// refs are all men of the offense a play can name, eligible those who may have
// the ball: linemen may not (NFHS 7-5-6, from memory).
var refs, eligible = names(play.Refs), names(slices.DeleteFunc(slices.Clone(play.Refs), func(x play.Ref) bool { return x == "tackle" }))

func names(rs []play.Ref) []string {
	out := make([]string, len(rs))
	for i, x := range rs {
		out[i] = string(x)
	}
	return out
}

func (r *reader) event(n *yaml.Node, what string, keys []string) (at float64, place, going field.Vec) {
	f := r.fields(n, what, keys, keys...)
	at = r.number(f["at"], what+": at", 0, 10)
	if v := r.numbers(f["place"], what+": place", 2, -40, 40); v != nil {
		place = field.Vec{X: v[0], Y: v[1]}
	}
	if v := r.numbers(f["going"], what+": going", 2, -12, 12); v != nil {
		going = field.Vec{X: v[0], Y: v[1]}
	}
	return at, place, going
}

var kinds = []string{"wide", "slot", "end", "back", "line", "passer", "corner", "apex", "safety", "hook", "front"}

func (r *reader) athletes(n *yaml.Node, base Athletes) Athletes {
	out := Athletes{Tau: base.Tau, Game: base.Game, Ball: base.Ball, ByKind: map[string]athlete.Athlete{}}
	for k, v := range base.ByKind {
		out.ByKind[k] = v
	}
	before := len(r.errs)
	known := append([]string{"tau", "game_share", "ball_share"}, kinds...)
	f := r.fields(n, "athletes", known)
	if f["tau"] != nil {
		out.Tau = r.number(f["tau"], "tau", 0.2, 3)
	}
	if f["game_share"] != nil {
		out.Game = r.number(f["game_share"], "game_share", 0.3, 1)
	}
	if f["ball_share"] != nil {
		out.Ball = r.number(f["ball_share"], "ball_share", 0.3, 1)
	}
	if len(r.errs) > before {
		return out
	}
	out.follow(base)
	for _, k := range kinds {
		if a := r.athlete(f[k], "athlete "+k, out, out.ByKind[k]); a != nil {
			out.ByKind[k] = *a
		}
	}
	return out
}

// follow brings the kinds of the book a staff starts from in line with its own
// tau and share: each keeps his 40-yard time.
func (a *Athletes) follow(base Athletes) {
	if a.Tau == base.Tau && a.Game == base.Game {
		return
	}
	for k, v := range a.ByKind {
		forty := 40*base.Game/v.Top + base.Tau
		v.Top, v.Tau = 40/(forty-a.Tau)*a.Game, a.Tau
		a.ByKind[k] = v
	}
}

// athlete reads {top, tau, react} or {forty, react}; what is left out comes from
// base.
func (r *reader) athlete(n *yaml.Node, what string, as Athletes, base athlete.Athlete) *athlete.Athlete {
	if n == nil {
		return nil
	}
	before := len(r.errs)
	f := r.fields(n, what, []string{"top", "tau", "react", "forty"})
	a := base
	if a.Tau == 0 {
		a.Tau = as.Tau
	}
	if f["tau"] != nil {
		a.Tau = r.number(f["tau"], what+": tau", 0.1, 3)
	}
	if f["top"] != nil && f["forty"] != nil {
		r.fail(n, what+": both top and forty", "one of them")
	}
	if f["top"] != nil {
		a.Top = r.number(f["top"], what+": top", 2, 13)
	}
	if f["forty"] != nil {
		// At 40 yd the exponential is over: t = 40/V + tau.
		t := r.number(f["forty"], what+": forty", 4, 9)
		if len(r.errs) == before {
			a.Top = 40 / (t - a.Tau) * as.Game
		}
	}
	if f["react"] != nil {
		a.React = r.number(f["react"], what+": react", 0, 2)
	}
	if len(r.errs) > before {
		return nil
	}
	if err := a.Validate(); err != nil {
		r.fail(n, what+": "+err.Error(), "")
		return nil
	}
	return &a
}
