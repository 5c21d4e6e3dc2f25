package judge

import (
	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/look"
)

// MotionResult is what a motion does before the snap.
type MotionResult struct {
	Renumberings []look.Renumbering
	Bumps        []BumpResult
}

// BumpResult is a man of the defense who has to go elsewhere because of a motion.
type BumpResult struct {
	Label string
	T     float64      // s from the snap, before it negative
	Move  field.Offset // field terms
}

// MotionOf tells of a board's motion: when the numbers change, and who of the
// defense, standing where he stands on the board, has to go where. In a moment
// of a run they no longer stand where they stood: nobody is sent anywhere then.
func MotionOf(b *Board) MotionResult {
	var r MotionResult
	if b.Motion == nil {
		return r
	}
	r.Renumberings = b.Motion.Renumberings()
	if b.Moment != nil || b.Call == nil {
		return r
	}
	var men []assign.Standing
	var at []*Spot
	for k := range b.Call.Spots {
		for i := range b.Spots {
			if s := &b.Spots[i]; s.Label == b.Call.Spots[k].Label {
				men = append(men, assign.Standing{Spot: &b.Call.Spots[k], At: s.At, Own: s.Depth})
				at = append(at, s)
			}
		}
	}
	for _, x := range assign.Bumps(*b.Motion, men, b.Side) {
		r.Bumps = append(r.Bumps, BumpResult{Label: at[x.Spot].Label, T: x.T, Move: x.To.Sub(at[x.Spot].At)})
	}
	return r
}
