package book

import (
	"fmt"

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
		known, must := []string{"name", "kind", "carrier", "blocks", "leaves", "caught", "commits"}, []string{"kind", "carrier", "leaves", "caught", "commits"}
		if isPass(e.value) {
			known, must = []string{"name", "kind", "routes", "throws"}, []string{"kind", "routes", "throws"}
		}
		f := r.fields(e.value, what, known, must...)
		p := &play.Play{ID: e.name, Name: r.text(f["name"], "name", 40)}
		if p.Name == "" {
			p.Name = e.name
		}
		p.Kind = play.Kind(r.choice(f["kind"], what+": kind", "toss", "swing", "bubble", "now", "pass"))
		if p.Kind == play.Pass {
			r.routes(p, f, what)
			out = append(out, p)
			continue
		}
		p.Carrier = play.Ref(r.choice(f["carrier"], what+": carrier", refs...))
		p.Leaves = r.number(f["leaves"], what+": leaves", 0, 5)
		p.Caught, p.CaughtAt, _ = r.event(f["caught"], what+": caught", []string{"at", "place"})
		p.Commits, p.CommitsAt, p.Going = r.event(f["commits"], what+": commits", []string{"at", "place", "going"})
		if f["commits"] != nil && f["caught"] != nil && p.Commits < p.Caught {
			r.fail(f["commits"], fmt.Sprintf("%s: commits at %g s, before the catch at %g s", what, p.Commits, p.Caught), "a time not before the catch")
		}
		for _, it := range r.items(f["blocks"], what+": blocks") {
			bf := r.fields(it, what+": block", []string{"by", "on"}, "by", "on")
			b := play.Block{By: play.Ref(r.choice(bf["by"], what+": by", refs...)),
				On: play.Target(r.choice(bf["on"], what+": on", "corner", "apex", "safety", "hook"))}
			if b.By == p.Carrier && b.By != "" {
				r.fail(bf["by"], fmt.Sprintf("%s: %s carries the ball and cannot block", what, b.By), "another man")
			}
			p.Blocks = append(p.Blocks, b)
		}
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

func (r *reader) routes(p *play.Play, f map[string]*yaml.Node, what string) {
	if v := r.numbers(f["throws"], what+": throws", 2, 0.6, 6); v != nil {
		p.ThrowFrom, p.ThrowTo = v[0], v[1]
		if v[1] < v[0] {
			r.fail(f["throws"], what+": throws: the last before the first", "[first, last] in s after the snap")
		}
	}
	releases := make([]string, len(play.Releases))
	for i, x := range play.Releases {
		releases[i] = string(x)
	}
	for _, it := range r.items(f["routes"], what+": routes") {
		rf := r.fields(it, what+": route", []string{"by", "release", "reads", "legs", "waits"}, "by", "release", "reads", "legs")
		rt := play.Route{By: play.Ref(r.choice(rf["by"], what+": by", refs...)), Release: play.Release(r.choice(rf["release"], what+": release", releases...)),
			Reads: r.number(rf["reads"], what+": reads", 0, 5)}
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
		p.Routes = append(p.Routes, rt)
	}
}

var refs = []string{"#1", "#2", "#3", "back"}

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
