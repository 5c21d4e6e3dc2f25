package book

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Scene is one moment read from a *.scene.yaml file, checked against a book.
type Scene struct {
	Ball    field.Ball
	Side    field.Side
	Call    *call.Call
	Play    *play.Play // nil: none named
	Menu    []*play.Play
	Offense []SceneMan
	Defense []SceneSpot
	Motion  *SceneMotion
	Moment  *SceneMoment
	Box     field.Inches // 0: computed
	Limit   float64      // yards, 0: the book's
}

// SceneMan is one man of the offense.
type SceneMan struct {
	look.Man
	Athlete *athlete.Athlete
}

// SceneSpot is one man of the defense.
type SceneSpot struct {
	Label   string
	At      field.Offset
	Athlete *athlete.Athlete
	Depth   *call.Depth
}

// SceneMoment is a frozen moment of the run.
type SceneMoment struct {
	Carrier  string
	Velocity map[string]field.Vec
	Blocks   []SceneBlock
	Late     []string
}

// SceneBlock is one block; Hat is inside, even, outside or empty.
type SceneBlock struct{ By, On, Hat string }

var sceneKeys = []string{"scene", "field", "side", "call", "play", "menu", "offense", "defense", "motion", "moment", "box", "limits"}

// ReadScene reads a scene against a book. The error is Problems.
func ReadScene(file string, data []byte, b *Book) (*Scene, error) {
	r := &reader{file: file}
	n := r.tree(data)
	if n == nil {
		return nil, r.errs
	}
	f := r.fields(n, "scene", sceneKeys, "scene", "field", "side", "call", "offense", "defense")
	if v := f["scene"]; v != nil && v.Value != "1" {
		r.fail(v, "scene: version "+describe(v), "want 1")
	}
	s := &Scene{Side: r.side(f["side"])}
	var ok bool
	s.Ball, ok = r.ball(f["field"])
	if id := r.choice(f["call"], "call", b.callIDs()...); id != "" {
		s.Call, _ = b.Call(id)
	}
	if id := r.choice(f["play"], "play", b.playIDs()...); id != "" {
		s.Play, _ = b.Play(id)
	}
	s.Menu = b.MenuPlays(r.menu(f["menu"], b.playIDs()))
	seen := map[field.Offset]string{}
	r.offense(s, f["offense"], b, ok, seen)
	r.defense(s, f["defense"], b, ok, seen)
	r.motion(s, f["motion"], ok)
	r.moment(s, f["moment"])
	if f["box"] != nil {
		s.Box = field.FromYards(r.number(f["box"], "box", 0.5, 20))
	}
	lf := r.fields(f["limits"], "limits", []string{"gain"})
	s.Limit = r.number(lf["gain"], "limits: gain", 0.5, 15)
	if len(r.errs) > 0 {
		return nil, r.errs.sorted()
	}
	return s, nil
}

func (r *reader) offense(s *Scene, n *yaml.Node, b *Book, ok bool, seen map[field.Offset]string) {
	for _, e := range r.tagged(n, "offense") {
		f := r.fields(e.value, e.name, []string{"at", "on_line", "athlete"}, "at")
		m := SceneMan{Man: look.Man{Tag: e.name, At: r.stands(seen, f["at"], e.name, s.Ball, ok), Line: r.flag(f["on_line"], e.name+": on_line")}}
		m.Athlete = r.athlete(f["athlete"], e.name+": athlete", b.Athletes, b.Athletes.ByKind["back"])
		s.Offense = append(s.Offense, m)
	}
	if n != nil && len(s.Offense) == 0 && len(r.errs) == 0 {
		r.fail(n, "offense: nobody", "at least one man")
	}
}

func (r *reader) defense(s *Scene, n *yaml.Node, b *Book, ok bool, seen map[field.Offset]string) {
	for _, e := range r.tagged(n, "defense") {
		f := r.fields(e.value, e.name, []string{"at", "athlete", "depth"}, "at")
		d := SceneSpot{Label: e.name, At: r.stands(seen, f["at"], e.name, s.Ball, ok)}
		base := athlete.Athlete{}
		if s.Call != nil {
			if sp, has := s.Call.Spot(e.name); has {
				base = b.Defense(sp)
			} else {
				base = b.Athletes.ByKind["front"] // a man to whom the call gives nothing
			}
		}
		d.Athlete = r.athlete(f["athlete"], e.name+": athlete", b.Athletes, base)
		if v := r.numbers(f["depth"], e.name+": depth", 2, 0, 30); v != nil {
			if v[0] > v[1] {
				r.fail(f["depth"], fmt.Sprintf("%s: depth %g to %g", e.name, v[0], v[1]), "want [least, most]")
			}
			d.Depth = &call.Depth{Best: field.FromYards(v[0]), Least: field.FromYards(v[0]), Most: field.FromYards(v[1])}
		}
		if slices.ContainsFunc(s.Offense, func(m SceneMan) bool { return m.Tag == e.name }) {
			r.fail(e.key, fmt.Sprintf("tag %q on both sides", e.name), "two men never share a tag")
		}
		s.Defense = append(s.Defense, d)
	}
	if n != nil && len(s.Defense) == 0 && len(r.errs) == 0 {
		r.fail(n, "defense: nobody", "at least one man")
	}
}

func (r *reader) offenseTags(s *Scene) []string {
	var out []string
	for _, m := range s.Offense {
		out = append(out, m.Tag)
	}
	return out
}

func (r *reader) defenseTags(s *Scene) []string {
	var out []string
	for _, m := range s.Defense {
		out = append(out, m.Label)
	}
	return out
}

// Look is the scene's offense before any motion.
func (s *Scene) Look() look.Look {
	men := make([]look.Man, len(s.Offense))
	for i, m := range s.Offense {
		men[i] = m.Man
	}
	l := look.New(s.Ball, men)
	l.Box, l.BoxSide = s.Box, s.Side
	return l
}

func (r *reader) moment(s *Scene, n *yaml.Node) {
	if n == nil {
		return
	}
	f := r.fields(n, "moment", []string{"carrier", "velocity", "blocks", "late"}, "carrier")
	off, def := r.offenseTags(s), r.defenseTags(s)
	m := &SceneMoment{Carrier: r.choice(f["carrier"], "moment: carrier", off...), Velocity: map[string]field.Vec{}}
	for _, e := range r.entries(f["velocity"], "velocity") {
		if !slices.Contains(off, e.name) && !slices.Contains(def, e.name) {
			r.fail(e.key, fmt.Sprintf("velocity: no man %q", e.name), "want "+list(append(slices.Clone(off), def...)))
			continue
		}
		if v := r.numbers(e.value, "velocity of "+e.name, 2, -13, 13); v != nil {
			m.Velocity[e.name] = field.Vec{X: v[0], Y: v[1]}
		}
	}
	for _, it := range r.items(f["blocks"], "blocks") {
		bf := r.fields(it, "block", []string{"by", "on", "hat"}, "by", "on")
		b := SceneBlock{By: r.choice(bf["by"], "block: by", off...), On: r.choice(bf["on"], "block: on", def...)}
		if bf["hat"] != nil {
			b.Hat = r.choice(bf["hat"], "block: hat", "inside", "even", "outside")
		}
		if b.By != "" && b.By == m.Carrier {
			r.fail(bf["by"], fmt.Sprintf("block: %s carries the ball", b.By), "another man")
		}
		if slices.ContainsFunc(m.Blocks, func(o SceneBlock) bool { return o.By == b.By && b.By != "" }) {
			r.fail(bf["by"], fmt.Sprintf("block: %s blocks twice", b.By), "one block a man")
		}
		m.Blocks = append(m.Blocks, b)
	}
	for _, l := range r.names(f["late"], "late") {
		if !slices.Contains(def, l.name) {
			r.fail(l.node, fmt.Sprintf("late: no man %q", l.name), "want "+list(def))
			continue
		}
		m.Late = append(m.Late, l.name)
	}
	s.Moment = m
}
