package play

import (
	"halfline/internal/field"
	"halfline/internal/look"
)

// Ref names a man by what he is in the look.
type Ref string

// Refs lists all: receivers of the play side by number; the innermost receiver of
// the far side; the back in the box nearest the play side; the other back, who
// leads; the outermost lineman of the play side.
var Refs = []Ref{"#1", "#2", "#3", "far", "back", "fullback", "tackle"}

// Resolve gives the tag of the man a Ref means in a look that has been counted,
// for a play to side s.
func Resolve(c *look.Count, s field.Side, r Ref) (tag string, ok bool) {
	switch r {
	case "#1", "#2", "#3":
		return nth(c.Numbers(s), int(r[1]-'1'))
	case "far":
		n := c.Numbers(s.Other())
		return nth(n, len(n)-1)
	case "fullback":
		return nth(c.Backfield(s), 1)
	case "tackle":
		return c.LastLineman(s)
	case "back":
		if tag, ok = nth(c.Backfield(s), 0); ok {
			return tag, true
		}
		return wideBack(c.Numbers(s))
	}
	return "", false
}

func nth(men []look.Man, i int) (tag string, ok bool) {
	if i < 0 || i >= len(men) {
		return "", false
	}
	return men[i].Tag, true
}

// wideBack is the back who has left the box: the deepest man off the line on this
// side.
func wideBack(n []look.Man) (tag string, ok bool) {
	deepest := -2*field.Yard + 1
	for i := range n {
		if m := &n[i]; !m.Line && m.At.Y < deepest {
			tag, deepest, ok = m.Tag, m.At.Y, true
		}
	}
	return tag, ok
}
