package look

import (
	"math"
	"slices"

	"halfline/internal/field"
)

// Timeline is a motion laid out in time. Seconds count from the snap: what
// comes before it is negative.
type Timeline struct {
	// Start is when the man sets off; 0 if nobody moves.
	Start float64
	// Set is from when on he is set again, 0 if he is still moving at the snap:
	// a shift, and a return that has come back to where it started.
	Set float64

	before Look
	who    string
	legs   []leg
	line   bool // set again, he is on the line
}

// leg is one straight part of the way.
type leg struct {
	from, to field.Offset
	at, done float64 // s
}

// Timeline lays a motion out so that it ends at the snap, or as long before it
// as the rules want of a man who is set again. A motion of nobody, or to where he
// stands already, is a timeline in which nobody moves.
func (l Look) Timeline(m Motion) Timeline {
	t := Timeline{before: l, who: m.Who}
	man, ok := l.Find(m.Who)
	if !ok {
		return t
	}
	from := man.At
	for _, to := range m.Path {
		if to != from {
			t.legs = append(t.legs, leg{from: from, to: to})
			from = to
		}
	}
	if len(t.legs) == 0 {
		return t
	}
	end := 0.0
	if m.Kind == Shift || m.Kind == Return && from == man.At {
		t.Set = -SetFor
		end = t.Set
		t.line = from.Y > -backClear || man.Line && from.Y >= man.At.Y
	}
	for i := len(t.legs) - 1; i >= 0; i-- {
		g := &t.legs[i]
		g.done = end
		g.at = end - g.to.Vec().Dist(g.from.Vec())/m.pace()
		end = g.at
	}
	t.Start = end
	return t
}

// pace is the speed at which the man moves.
func (m Motion) pace() float64 {
	if m.Speed > 0 {
		return m.Speed
	}
	return m.Kind.Usual()
}

// Who is the man who moves; "" if nobody does.
func (t Timeline) Who() string {
	if len(t.legs) == 0 {
		return ""
	}
	return t.who
}

// Path is the places that he passes: where he starts first, where he ends last;
// nothing if nobody moves.
func (t Timeline) Path() []field.Offset {
	var out []field.Offset
	for i, g := range t.legs {
		if i == 0 {
			out = append(out, g.from)
		}
		out = append(out, g.to)
	}
	return out
}

// Moving reports whether he is in motion at the snap.
func (t Timeline) Moving() bool { return len(t.legs) > 0 && t.Set == 0 }

// leg is the part of the way that he is on; ok is false before he sets off and
// once he has arrived.
func (t Timeline) leg(at float64) (g leg, ok bool) {
	for _, g := range t.legs {
		if at >= g.at && at < g.done {
			return g, true
		}
	}
	return leg{}, false
}

// Place is where the man is at a time, in yards; where nobody moves, the ball.
func (t Timeline) Place(at float64) field.Vec {
	if len(t.legs) == 0 {
		return field.Vec{}
	}
	if g, ok := t.leg(at); ok {
		u := (at - g.at) / (g.done - g.at)
		return g.from.Vec().Add(g.to.Vec().Sub(g.from.Vec()).Mul(u))
	}
	if at < t.Start {
		return t.legs[0].from.Vec()
	}
	return t.legs[len(t.legs)-1].to.Vec()
}

// Velocity is how the man moves at a time, in yards a second. Who is in motion at
// the snap keeps it after; who is set, before he goes and again, stands still.
func (t Timeline) Velocity(at float64) field.Vec {
	g, ok := t.leg(at)
	if !ok {
		if at < t.Start || !t.Moving() {
			return field.Vec{}
		}
		g = t.legs[len(t.legs)-1]
	}
	return g.to.Vec().Sub(g.from.Vec()).Mul(1 / (g.done - g.at))
}

// At is the look at a time, the man off the line while he moves. From the snap on
// it stays as it is then: what follows is the play.
func (t Timeline) At(at float64) Look {
	if len(t.legs) == 0 || at < t.Start {
		return t.before
	}
	end := t.legs[len(t.legs)-1]
	if at >= end.done {
		return t.with(end.to, t.Set < 0 && t.line)
	}
	return t.with(t.Place(at).Offset(), false)
}

func (t Timeline) with(at field.Offset, line bool) Look {
	l := t.before.With(t.who, at)
	for i := range l.Men {
		if l.Men[i].Tag == t.who {
			l.Men[i].Line = line
		}
	}
	return l
}

// Renumbering is a moment at which who is which number changes.
type Renumbering struct {
	T           float64  // s
	Right, Left []string // tags, #1 first, from then on
	Look        Look     // from then on
}

// Renumberings gives the moments at which the numbering of either side changes,
// oldest first. Places are whole inches, so the numbering can change only where
// the man comes into another inch, sets off or is set again: every such place is
// tried, none is passed over.
func (t Timeline) Renumberings() []Renumbering {
	var out []Renumbering
	if len(t.legs) == 0 {
		return out
	}
	var c Count
	now := t.before // changed in place below: a copy of the men is made once
	now.Men = slices.Clone(now.Men)
	i := slices.IndexFunc(now.Men, func(m Man) bool { return m.Tag == t.who })
	c.Of(&now)
	right, left := tagsOf(c.Numbers(field.Right)), tagsOf(c.Numbers(field.Left))
	try := func(when float64, at field.Offset, line bool) {
		now.Men[i].At, now.Men[i].Line = at, line
		c.Of(&now)
		r, l := c.Numbers(field.Right), c.Numbers(field.Left)
		if same(right, r) && same(left, l) {
			return
		}
		right, left = tagsOf(r), tagsOf(l)
		n := now
		n.Men = slices.Clone(now.Men)
		out = append(out, Renumbering{T: when, Right: right, Left: left, Look: n})
	}
	for k, g := range t.legs {
		if k == 0 {
			try(g.at, g.from, false)
		}
		steps := g.steps()
		for j, u := range steps {
			next := 1.0
			if j+1 < len(steps) {
				next = steps[j+1]
			}
			try(g.at+u*(g.done-g.at), g.along((u+next)/2), false)
		}
	}
	if end := t.legs[len(t.legs)-1]; t.Set < 0 {
		try(t.Set, end.to, t.line)
	}
	return out
}

// steps are the shares of a leg at which the man comes into another inch, across
// or along the field: halfway between two of them.
func (g leg) steps() []float64 {
	d := g.to.Sub(g.from)
	var out []float64
	for _, n := range []field.Inches{d.X.Abs(), d.Y.Abs()} {
		for k := range n {
			out = append(out, (float64(k)+0.5)/float64(n))
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(b-a) < sameStep })
}

// sameStep: shares so near to one another are one step in both directions, told
// apart by rounding only.
const sameStep = 1e-12

// along is the inch that the man is in at a share of a leg.
func (g leg) along(u float64) field.Offset {
	d := g.to.Sub(g.from)
	in := func(from, d field.Inches) field.Inches {
		return from + field.Inches(math.Round(u*float64(d)))
	}
	return field.Offset{X: in(g.from.X, d.X), Y: in(g.from.Y, d.Y)}
}

func tagsOf(ms []Man) []string {
	out := make([]string, len(ms))
	for i, m := range ms {
		out[i] = m.Tag
	}
	return out
}

func same(tags []string, ms []Man) bool {
	return slices.EqualFunc(tags, ms, func(t string, m Man) bool { return t == m.Tag })
}
