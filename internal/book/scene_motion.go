package book

import (
	"fmt"

	"go.yaml.in/yaml/v4"

	"halfline/internal/field"
	"halfline/internal/look"
)

// SceneMotion is a man sent in motion before the snap.
type SceneMotion struct{ look.Motion }

// maxVia is how many places a way may pass.
const maxVia = 8

// motion reads who moves before the snap. Without via he goes in the usual way
// of the kind, without kind straight.
func (r *reader) motion(s *Scene, n *yaml.Node, ok bool) {
	if n == nil {
		return
	}
	f := r.fields(n, "motion", []string{"who", "to", "kind", "via", "speed"}, "who", "to")
	who, to := r.choice(f["who"], "motion: who", r.offenseTags(s)...), r.place(f["to"], "motion: to", s.Ball, ok)
	kind := look.Straight
	if k := r.choice(f["kind"], "motion: kind", motionNames()...); k != "" {
		kind = look.MotionKind(k)
	}
	via := r.via(f["via"], s.Ball, ok)
	l := s.Look()
	m := l.Usual(kind, who, to)
	if len(via) > 0 {
		m.Path = append(via, to)
	}
	m.Speed = r.number(f["speed"], "motion: speed in yd/s", look.Slowest, look.Fastest)
	s.Motion = &SceneMotion{m}
	if len(r.errs) > 0 || !ok {
		return // what is wrong there comes first
	}
	if v := l.MotionViolation(m); v != "" {
		r.fail(f["to"], "motion: "+v, "")
	}
}

// via reads the places that a man passes.
func (r *reader) via(n *yaml.Node, b field.Ball, ok bool) []field.Offset {
	its := r.items(n, "motion: via")
	switch {
	case n != nil && n.Kind == yaml.SequenceNode && len(its) == 0:
		r.fail(n, "motion: via: nothing", "leave it out, or give places [x, y]")
	case len(its) > maxVia:
		r.fail(n, fmt.Sprintf("motion: via: %d places", len(its)), fmt.Sprintf("at most %d", maxVia))
		return nil
	}
	var out []field.Offset
	for _, it := range its {
		o := r.place(it, "motion: via", b, ok)
		if o.Y > 0 {
			r.fail(it, fmt.Sprintf("motion: via: %s is beyond the line of scrimmage", o), "keep all of his way behind it")
		}
		out = append(out, o)
	}
	return out
}

func motionNames() []string {
	out := make([]string, len(look.MotionKinds))
	for i, k := range look.MotionKinds {
		out[i] = string(k)
	}
	return out
}
