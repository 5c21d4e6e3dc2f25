package book

import (
	"maps"
	"slices"

	"halfline/internal/call"
)

// KickOut is how a staff's force men take a block that kicks them out.
type KickOut string

const (
	Box   KickOut = "box"   // hat outside: send the ball back in
	Spill KickOut = "spill" // hat inside: send it wide, to the man outside
)

// KickOuts lists them, the usual one first.
var KickOuts = []KickOut{Box, Spill}

const (
	matchLine = "match-line"
	kickOuts  = "kick-outs"
)

// kicked gives the calls with the hat of force men on a kick-out. A force man
// with nobody outside of him boxes in every book: to spill with nobody outside
// loses the edge (common practice, no source).
func kicked(calls []*call.Call, how KickOut) []*call.Call {
	out := make([]*call.Call, len(calls))
	for i, c := range calls {
		d := *c
		d.Spots = slices.Clone(c.Spots)
		for k := range d.Spots {
			s := &d.Spots[k]
			s.Fits = maps.Clone(s.Fits)
			for kind, f := range s.Fits {
				if f.Job != call.Force {
					continue
				}
				f.Kick = call.HatOutside
				if how == Spill && slices.ContainsFunc(d.Spots, func(o call.Spot) bool {
					return o.Label != s.Label && o.Half == s.Half && o.Fits[kind].Job == call.Secondary
				}) {
					f.Kick = call.HatInside
				}
				s.Fits[kind] = f
			}
		}
		out[i] = &d
	}
	return out
}
