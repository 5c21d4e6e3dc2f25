package leverage

// Stated are the constants that races hang on, and that no book changes; yards
// and seconds unless a line says otherwise.
type Stated struct {
	HalfMan    float64 // past the blocker: the leverage point of a hat race
	MeetShare  float64 // share of the way to the man at which the two come together
	MouthIn    float64 // the mouths of a lane lie so far from its edges, and in the middle
	MouthDepth float64 // the ball is in the lane so far beyond the line
	InsideBall float64 // an alley man fits so far inside of the ball
	FitReach   float64 // reach of a man at his fit
	EdgeOut    float64 // the corner of an edge race lies so far outside of man and block
	EdgeBall   float64 // the ball has turned it so far beyond the line
	EdgeFront  float64 // he must be so far beyond the line by then
	EdgeReach  float64
	OverBy     float64 // a deep man is so far beyond the catch
	OverReach  float64
	PhaseReach float64 // reach of a man at his receiver's hip
	ThrowEvery float64 // between the throws that are tried
	Flight     float64 // share of published ground speeds of a pass
	DepthLeast float64 // bounds of a depth window's search
	DepthMost  float64
}

// StatedValues gives them.
func StatedValues() Stated {
	return Stated{HalfMan: halfMan, MeetShare: meetShare, MouthIn: mouthIn, MouthDepth: mouthDepth, InsideBall: insideBall, FitReach: fitReach,
		EdgeOut: edgeOut, EdgeBall: edgeBall, EdgeFront: edgeFront, EdgeReach: edgeReach,
		OverBy: overBy, OverReach: overReach, PhaseReach: phaseReach, ThrowEvery: throwEvery, Flight: highSchool, DepthLeast: depthLeast, DepthMost: depthMost}
}
