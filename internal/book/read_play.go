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
		f := r.fields(e.value, what, []string{"name", "kind", "carrier", "blocks", "leaves", "caught", "commits"},
			"kind", "carrier", "leaves", "caught", "commits")
		p := &play.Play{ID: e.name, Name: r.text(f["name"], "name", 40)}
		if p.Name == "" {
			p.Name = e.name
		}
		p.Kind = play.Kind(r.choice(f["kind"], what+": kind", "toss", "swing", "bubble", "now"))
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
	for _, e := range r.entries(n, "athletes") {
		if slices.Contains(kinds, e.name) {
			if a := r.athlete(e.value, "athlete "+e.name, out, out.ByKind[e.name]); a != nil {
				out.ByKind[e.name] = *a
			}
		}
	}
	return out
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
