// Package athlete knows how a man moves: how far he gets in a time, how long he
// takes to a place, what timed splits say about him. It knows nothing of
// football, sides, calls or the ball, and imports only the ground (field).
//
// # The one law
//
// An [Athlete] has a top speed V (yd/s) and an acceleration time constant tau
// (s). With a push u, |u| <= 1, his velocity obeys
//
//	dv/dt = (V*u - v) / tau
//
// From rest, pushing straight, that is the mono-exponential sprint of Furusawa,
// Hill and Parkinson (1927), which fits split times to hundredths. In the plane
// it is the reach model of Fujimura and Sugihara (2005): the law is linear, so
// with s = t/tau all he can reach at time t from place p and velocity v is a
// disk,
//
//	centre p + v*tau*(1-e^-s),  radius V*tau*(s - (1-e^-s))
//
// The radius is the distance run from rest. The disks of a man who moves are
// not nested: at full speed he overruns a place and must come back to it. So
// "when can he be there first" ([Athlete.TimeTo]) is a search for the first root,
// never any root, and "is he in time" ([Athlete.By]) is true of one moment only.
//
// # Reaction
//
// A delay is served first and at the velocity he has: he drifts. A place he
// drifts through counts as reached.
//
// The package is pure: the same input gives the same output, bit for bit on one
// architecture. Reach and step allocate nothing.
package athlete
