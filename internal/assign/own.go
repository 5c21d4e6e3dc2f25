package assign

import (
	"halfline/internal/call"
	"halfline/internal/field"
)

// Shown is one receiver as pass rules see him now.
type Shown = call.Shown

// Own is the receiver a spot answers for, and how.
type Own = call.Own

// Owners appends to out[:0], for each duty, whom it answers for by its pass
// rules against the receivers of one side. Men of the other half have none of
// these receivers. It allocates nothing when out has room.
func Owners(out []Own, duties []Duty, side field.Side, shown []Shown, thrown bool) []Own {
	out = out[:0]
	for i := range duties {
		o := Own{}
		if d := &duties[i]; d.Half == side {
			o = d.Spot.Owns(shown, thrown)
		}
		out = append(out, o)
	}
	return out
}

// Unowned lists the receivers for whom nobody answers, in the order shown. Who
// comes off to a receiver on the throw answers for him before it; a back does not
// count before he leaves the box.
func Unowned(own []Own, shown []Shown) []string { return call.Unowned(own, shown) }
