package session

import (
	"slices"

	"halfline/internal/look"
)

// maxVia is how many places a man in motion may pass.
const maxVia = 8

func (m Motion) clone() Motion {
	m.Via = slices.Clone(m.Via)
	return m
}

// motion is the same in the engine's terms; before is the look before he moved.
func (m Motion) motion(before look.Look) look.Motion {
	to := m.To.Offset()
	out := before.Usual(look.MotionKind(m.Kind), m.Who, to)
	if len(m.Via) > 0 {
		out.Path = nil
		for _, p := range m.Via {
			out.Path = append(out.Path, p.Offset())
		}
		out.Path = append(out.Path, to)
	}
	return out
}

// each makes something of every place; none stays none.
func each(places []Place, f func(Place) Place) []Place {
	var out []Place
	for _, p := range places {
		out = append(out, f(p))
	}
	return out
}

// motion sends a man in motion, or the man in motion back where he was.
func (d decider) motion() (Change, *Refusal) {
	s, op := d.s, d.op
	if s.Moment.Play != "" {
		return refuse(CodeFrozen, "")
	}
	if op.Who == "" {
		if s.Motion.Who == "" {
			return Change{}, nil
		}
		back := Man{At: s.Motion.From, Line: s.Motion.Line}
		return d.fresh(Change{Motion: &Motion{}, Men: map[string]*Man{s.Motion.Who: &back}}), nil
	}
	man, ok := s.Men[op.Who]
	switch {
	case !ok:
		return refuse(CodeUnknown, op.Who)
	case op.At == nil:
		return refuse(CodeBadValue, "at")
	case op.Kind != "" && !slices.Contains(look.MotionKinds, look.MotionKind(op.Kind)):
		return refuse(CodeBadValue, "kind")
	case len(op.Via) > maxVia:
		return refuse(CodeBadValue, "via")
	case slices.ContainsFunc(append([]Place{*op.At}, op.Via...), func(p Place) bool { return !s.Ball.FieldBall().Inside(p.Offset()) }):
		return refuse(CodeOffField, op.Who)
	case s.Motion.Who != "" && s.Motion.Who != op.Who:
		return refuse(CodeIllegalMove, s.Motion.Who+" is in motion already")
	}
	mo := Motion{Who: op.Who, From: man.At, To: *op.At, Line: man.Line, Kind: op.Kind, Via: slices.Clone(op.Via)}
	l := s.Shown()
	if s.Motion.Who == op.Who { // sent on: he started where he first stood
		mo.From, mo.Line = s.Motion.From, s.Motion.Line
		l = withMan(l, op.Who, mo.From.Offset(), mo.Line)
	}
	m := mo.motion(l)
	if v := l.MotionViolation(m); v != "" {
		return refuse(CodeIllegalMove, v)
	}
	at, _ := l.Timeline(m).At(0).Find(op.Who)
	return d.fresh(Change{Motion: &mo, Men: map[string]*Man{op.Who: {At: *op.At, Line: at.Line}}}), nil
}
