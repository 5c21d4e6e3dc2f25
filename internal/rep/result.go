package rep

import (
	"halfline/internal/field"
	"halfline/internal/lane"
)

// Rep is how one rep went. Places in out-terms, yards.
type Rep struct {
	Over   bool
	How    Ending
	Gain   float64 // yards, cut at the model's Broke
	By     int     // who made the tackle, -1: nobody
	With   int     // who was on the other hip, -1: nobody
	Hip    Hip
	At     field.Vec
	Lane   int // the lane he took, -1
	Time   float64
	Hats   []lane.Hat // by spot; "" if not blocked
	Best   []Ball     // of a pass: the best ball to each route
	Caught int        // who caught it, index into the board's men, -1
	Trail  []Frame
	Events []Event
	Lanes  []LanesAt
	Stages []Stage
	Faults []Fault // in order of time, first cause first
}

// Frame is where everybody is at a time.
type Frame struct {
	T    float64
	Ball field.Vec
	Off  []field.Vec // by the board's men
	Men  []field.Vec // by spot
}

// Fault is a rule broken in the rep.
type Fault struct {
	T       float64
	Who     int // spot
	Kind    lane.Kind
	Opens   int     // lane, -1
	SavedBy int     // spot, -1
	Cost    float64 // yd that the lane it opened is worth over the best other one
	Man     int     // of a free receiver: index into the board's men, -1
}

// Event is one thing that happens: spot and man are indexes, -1 for nobody.
type Event struct {
	T    float64
	What What
	Spot int
	Man  int
	Lane int
}

// LanesAt is the lanes at a time; Takes is the one the carrier runs for.
type LanesAt struct {
	T     float64
	Lanes []lane.Lane
	Takes int
}

// Stage is who has whom from a time on: the board's man by spot, -1 for nobody.
type Stage struct {
	T       float64
	Of      []int
	Unowned []string
}
