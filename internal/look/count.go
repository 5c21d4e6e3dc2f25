package look

import (
	"slices"

	"halfline/internal/field"
)

// Count is what a look shows on both sides, counted once for all who ask. Its
// buffers are used again by the next count.
type Count struct {
	sides [2]half
}

// half is one side of a count.
type half struct {
	men, back          []Man
	tackle, last, apex field.Inches
	between            bool   // there is an apex
	lineman            string // the outermost, "" if the look leaves them out
}

// Of counts a look.
func (c *Count) Of(l *Look) {
	for i := range c.sides {
		h, s := &c.sides[i], field.Side(2*i-1)
		h.tackle = l.Tackle(s)
		h.last = l.lastOnLine(s, h.tackle)
		h.lineman = l.lastLineman(s)
	}
	for i := range c.sides {
		h, s := &c.sides[i], field.Side(2*i-1)
		h.men = l.number(h.men[:0], s, h.tackle, h.last+edgeBeyond)
		h.back = l.backfield(h.back[:0], s, c.BoxEdge(field.Left), c.BoxEdge(field.Right))
		h.apex, h.between = apex(h.men, s, h.tackle, h.last)
	}
}

func (c *Count) half(s field.Side) *half { return &c.sides[(s+1)/2] }

// Numbers gives the receivers of side s, #1 first. The slice belongs to c.
func (c *Count) Numbers(s field.Side) []Man { return c.half(s).men }

// Backfield gives the men behind the line inside the box, as [Look.Backfield]
// does. The slice belongs to c.
func (c *Count) Backfield(s field.Side) []Man { return c.half(s).back }

// LastOnLine is how far out the last man on the line stands on side s.
func (c *Count) LastOnLine(s field.Side) field.Inches { return c.half(s).last }

// BoxEdge is how far out the box ends on side s.
func (c *Count) BoxEdge(s field.Side) field.Inches { return c.half(s).last + edgeBeyond }

// LastLineman is the tag of the outermost interior lineman on side s, if the look
// shows one.
func (c *Count) LastLineman(s field.Side) (tag string, ok bool) {
	h := c.half(s)
	return h.lineman, h.lineman != ""
}

// Apex is how far out the apex lies on side s, if there is one.
func (c *Count) Apex(s field.Side) (x field.Inches, ok bool) {
	h := c.half(s)
	return h.apex, h.between
}

// Attached reports whether a man is on the end of the line or within 2 yd of the
// tackle.
func (c *Count) Attached(s field.Side, m Man) bool {
	return attached(s, m, c.half(s).tackle)
}

// lastLineman finds the outermost interior lineman beside the snapper.
func (l *Look) lastLineman(s field.Side) (tag string) {
	var far field.Inches
	for i := range l.Men {
		if m := &l.Men[i]; interior(*m) {
			if o := s.OutInches(m.At.X); o > far {
				tag, far = m.Tag, o
			}
		}
	}
	return tag
}

// number appends the receivers of side s to out.
func (l *Look) number(out []Man, s field.Side, tackle, edge field.Inches) []Man {
	for _, m := range l.Men {
		o := s.OutInches(m.At.X)
		switch {
		case o <= 0 || interior(m):
			continue
		case m.Line:
			if o <= tackle {
				continue
			}
		case o >= edge:
		case m.At.Y > -wingDepth && o > tackle+halfMan:
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

// backfield appends the men behind the line inside of the box to out.
func (l *Look) backfield(out []Man, s field.Side, left, right field.Inches) []Man {
	for _, m := range l.Men {
		if m.Line || interior(m) || m.Tag == Passer || m.At.X >= right || -m.At.X >= left || m.At.Y > -wingDepth {
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

func apex(n []Man, s field.Side, tackle, last field.Inches) (x field.Inches, ok bool) {
	if len(n) < 2 || attached(s, n[1], tackle) {
		return 0, false
	}
	if len(n) > 2 {
		last = max(last, s.OutInches(n[2].At.X))
	}
	return (last + s.OutInches(n[1].At.X)) / 2, true
}

func attached(s field.Side, m Man, tackle field.Inches) bool {
	return s.OutInches(m.At.X) <= tackle+attachGap
}
