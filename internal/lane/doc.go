// Package lane cuts the perimeter into lanes at a frozen moment of a run and
// says which are shut and by whom, which are met by a free man and at what
// depth, which are open, and who opened them.
//
//	box edge  b1        b2          sideline
//	   |  0   |    1    |     2        |
//
// A hat outside of a block shuts its lane and all beyond, while it is outside
// the ball too; a hat inside shuts only the lane inside of the block; a hat
// head up shuts nothing. What is left needs a free man each. Sides are decided
// in whole inches, only gains are computed in time. Everything is in out-terms
// of the play side; the package knows no calls, only each man's Order.
package lane
