package look

import (
	"slices"

	"halfline/internal/field"
)

// Numbers gives the receivers of side s, #1 first: from the sideline inwards
// by where they stand now, whatever they are called. A back counts once he has
// left the box. Men behind one another (a stack: within half a yard across)
// count by depth, the one nearer the line first.
func (l Look) Numbers(s field.Side) []Man {
	edge := l.BoxEdge(s)
	tackle := l.Tackle(s)
	var out []Man
	for _, m := range l.Men {
		o := s.OutInches(m.At.X)
		switch {
		case o <= 0 || l.Interior(m):
			continue
		case m.Line:
			if o <= tackle {
				continue
			}
		case o >= edge:
		case m.At.Y >= -wingDepth && o > tackle+halfMan:
		default:
			continue
		}
		out = append(out, m)
	}
	slices.SortStableFunc(out, func(a, b Man) int { return int(s.OutInches(b.At.X) - s.OutInches(a.At.X)) })
	// Stacks: runs of men within half a yard of the outermost of the run.
	for i := 0; i < len(out); {
		j := i + 1
		for j < len(out) && s.OutInches(out[i].At.X)-s.OutInches(out[j].At.X) <= halfMan {
			j++
		}
		slices.SortStableFunc(out[i:j], func(a, b Man) int {
			if d := int(b.At.Y - a.At.Y); d != 0 {
				return d
			}
			return int(s.OutInches(b.At.X) - s.OutInches(a.At.X))
		})
		i = j
	}
	return out
}

// Apex is how far out the apex lies on side s: halfway between receiver #2 and
// the next man inside of him, which is #3 if he is out there and else the last
// man on the line. ok is false without a #2, or when #2 is attached.
func (l Look) Apex(s field.Side) (x field.Inches, ok bool) {
	n := l.Numbers(s)
	if len(n) < 2 || l.Attached(s, n[1]) {
		return 0, false
	}
	in := l.LastOnLine(s)
	if len(n) > 2 {
		in = max(in, s.OutInches(n[2].At.X))
	}
	return (in + s.OutInches(n[1].At.X)) / 2, true
}

// Backfield gives the men who stand behind the line inside the box, the
// passer left out: the nearest to the ball's side s first, then the shallower.
func (l Look) Backfield(s field.Side) []Man {
	var out []Man
	edge := max(l.BoxEdge(field.Left), l.BoxEdge(field.Right))
	for _, m := range l.Men {
		if m.Line || l.Interior(m) || m.Tag == Passer || m.At.X.Abs() >= edge || m.At.Y > -wingDepth {
			continue
		}
		out = append(out, m)
	}
	slices.SortStableFunc(out, func(a, b Man) int {
		if d := int(s.OutInches(b.At.X) - s.OutInches(a.At.X)); d != 0 {
			return d
		}
		return int(b.At.Y - a.At.Y)
	})
	return out
}

// Passer is the tag of the man who takes the snap.
const Passer = "Q"
