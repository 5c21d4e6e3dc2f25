package look

import "halfline/internal/field"

const (
	// tackleDefault is where the last interior lineman stands when a
	// half-line look leaves the linemen out (common practice, no source).
	tackleDefault = 3 * field.Yard
	// interiorReach: men on the line this near to the ball are guards and
	// tackles, whatever their tags (common practice, no source).
	interiorReach = 130 // 3.6 yd
	// attachGap: a man on the line this near to the last man is part of the
	// line: a tight end (trade: within 2 yd there is no apex).
	attachGap = 2 * field.Yard
	// edgeBeyond: the box ends this far outside the last man on the line.
	edgeBeyond = field.Yard
	// wingDepth: a man off the line but not as deep as this beside the line is
	// a wing or slot, not a back in the box.
	wingDepth = 90 // 2.5 yd
	// halfMan decides head up, and when one man stands behind another.
	halfMan = field.Yard / 2
)

// lineman reports a tag that always means an interior lineman, also when he has
// pulled away from the line. All other tags say nothing.
func lineman(tag string) bool {
	switch tag {
	case "T", "G", "LT", "LG", "RG", "RT", "OT", "OG", "OL", "SN":
		return true
	}
	return false
}

// Interior reports whether m is a snapper, guard or tackle: a man who is never
// numbered.
func (l Look) Interior(m Man) bool { return interior(m) }

func interior(m Man) bool {
	return m.Line && m.At.X.Abs() <= interiorReach || lineman(m.Tag)
}

// Tackle is how far out the last interior lineman stands on side s.
func (l Look) Tackle(s field.Side) field.Inches {
	var out field.Inches
	for _, m := range l.Men {
		if o := s.OutInches(m.At.X); m.Line && interior(m) && o > out {
			out = o
		}
	}
	if out < field.Yard {
		return tackleDefault
	}
	return out
}

// LastOnLine is how far out the last man on the line stands on side s, a tight
// end included and split receivers left out.
func (l Look) LastOnLine(s field.Side) field.Inches { return l.lastOnLine(s, l.Tackle(s)) }

func (l *Look) lastOnLine(s field.Side, tackle field.Inches) field.Inches {
	if l.Box != 0 && l.BoxSide == s {
		return l.Box - edgeBeyond
	}
	end := tackle
	for grown := true; grown; {
		grown = false
		for _, m := range l.Men {
			if o := s.OutInches(m.At.X); m.Line && o > end && o <= end+attachGap {
				end, grown = o, true
			}
		}
	}
	return end
}

// BoxEdge is how far out the box ends on side s: one yard outside the last man
// on the line.
func (l Look) BoxEdge(s field.Side) field.Inches { return l.LastOnLine(s) + edgeBeyond }

// Attached reports whether a man is on the end of the line or within 2 yd of
// the tackle, so that nobody can stand between the two.
func (l Look) Attached(s field.Side, m Man) bool {
	return attached(s, m, l.Tackle(s))
}
