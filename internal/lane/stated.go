package lane

// Stated are the constants that lanes and gains hang on, and that no book
// changes; yards and seconds.
type Stated struct {
	HalfMan   float64 // a hat must be so far to a side to be there
	GateIn    float64 // ways into a lane lie so far from its edges, and in the middle
	GateDepth float64 // the carrier is in the lane so far beyond the line
	LastGate  float64 // beyond the last block he turns up within this
	Tick      float64 // between the moments at which a meeting is looked for
}

// StatedValues gives them.
func StatedValues() Stated {
	return Stated{HalfMan: halfMan.Yards(), GateIn: gateIn, GateDepth: gateDepth, LastGate: lastGate, Tick: tick}
}
