package look

import (
	"sort"

	"halfline/internal/field"
)

// Man is one man of the offense.
type Man struct {
	Tag  string
	At   field.Offset
	Line bool // on the line of scrimmage
}

// Look is the offense before the snap. Men are kept in tag order, so that
// nothing depends on how they were listed.
type Look struct {
	Ball field.Ball
	Men  []Man
	// Box overrides where the box ends on one side, as a staff may define it.
	Box     field.Inches // 0: computed
	BoxSide field.Side
}

// New puts men in order. The slice is copied.
func New(b field.Ball, men []Man) Look {
	m := append([]Man(nil), men...)
	sort.Slice(m, func(i, j int) bool { return m[i].Tag < m[j].Tag })
	return Look{Ball: b, Men: m}
}

// Find gives the man with a tag.
func (l Look) Find(tag string) (Man, bool) {
	for _, m := range l.Men {
		if m.Tag == tag {
			return m, true
		}
	}
	return Man{}, false
}

// With gives the look after one man has gone to another place, off the line.
func (l Look) With(tag string, at field.Offset) Look {
	out := l
	out.Men = append([]Man(nil), l.Men...)
	for i := range out.Men {
		if out.Men[i].Tag == tag {
			out.Men[i].At = at
			out.Men[i].Line = false
		}
	}
	return out
}

// Mirror gives the look as it would be on the other side of the field.
func (l Look) Mirror() Look {
	out := l
	out.Ball.Hash = l.Ball.Hash.Mirror()
	out.BoxSide = -l.BoxSide
	out.Men = append([]Man(nil), l.Men...)
	for i := range out.Men {
		out.Men[i].At = field.Left.FlipOffset(out.Men[i].At)
	}
	return out
}
