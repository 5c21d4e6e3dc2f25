package look

import "halfline/internal/field"

// Numbers gives the receivers of side s, #1 first: from the sideline inwards
// by where they stand now, whatever they are called. A back counts once he has
// left the box. Men behind one another (a stack: within half a yard across)
// count by depth, the one nearer the line first.
func (l Look) Numbers(s field.Side) []Man {
	return l.number(nil, s, l.Tackle(s), l.BoxEdge(s))
}

// Apex is how far out the apex lies on side s: halfway between receiver #2 and
// the next man inside of him, which is #3 if he is out there and else the last
// man on the line. ok is false without a #2, or when #2 is attached.
func (l Look) Apex(s field.Side) (x field.Inches, ok bool) {
	return apex(l.Numbers(s), s, l.Tackle(s), l.LastOnLine(s))
}

// Backfield gives the men who stand behind the line inside the box, the
// passer left out: the nearest to the ball's side s first, then the shallower.
func (l Look) Backfield(s field.Side) []Man {
	return l.backfield(nil, s, l.BoxEdge(field.Left), l.BoxEdge(field.Right))
}

// Passer is the tag of the man who takes the snap.
const Passer = "Q"
