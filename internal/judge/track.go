package judge

import (
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// Track is one rep as screens show it. Places are field terms in whole inches,
// times in seconds after the snap, yards are beyond the line.
type Track struct {
	Play *play.Play
	From float64 // of the first key; below 0 while a motion goes before the snap
	Step float64 // s between keys
	// Men are the offense's tags, Spots the defense's labels; Keys holds at every
	// step the places of the men, then of the spots, Ball the ball's.
	Men, Spots []string
	Keys       [][]field.Offset
	Ball       []field.Offset
	Events     []Event   // in order of time
	Lanes      []LanesAt // each holds until the next
	Owners     []OwnersAt
	Hats       map[string]lane.Hat // where the hat of a blocked spot ends
	Faults     []FaultResult       // first cause first
	Free       []FreeMan           // of a pass: who could be thrown to
	End        End
}

// Event is one thing that happens in a rep. Who does it, To whom; both may be
// empty.
type Event struct {
	T       float64
	What    rep.What
	Who, To string
	Lane    int    // of a commit or a cut; else -1
	Say     string // the event in the staff's words, one short line
}

// LanesAt is the lanes from a time on.
type LanesAt struct {
	T     float64
	Lanes []LaneResult
	Takes int // the lane the carrier is on his way to, -1: not chosen yet
}

// OwnersAt is whom each spot answers for from a time on: receivers by spot, ""
// for a spot without one.
type OwnersAt struct {
	T       float64
	Of      map[string]string
	Unowned []string // receivers nobody answers for
}

// FreeMan is a receiver and the best ball he could get: Margin is how many
// seconds it beats the nearest defender by, negative if it does not.
type FreeMan struct {
	Who    string
	Thrown float64 // when the ball leaves the hand
	Margin float64
	Free   bool
}

// End is how a rep ended.
type End struct {
	T      float64
	Gain   float64 // yards, cut at the model's Broke
	Broke  bool    // 10 yd or more
	How    rep.Ending
	By     string // who made the tackle
	With   string // who was on the other hip, "" if nobody
	Hip    rep.Hip
	At     field.Offset
	Lane   int
	Caught string // of a pass: who has it
	Say    string // all of it in one line
}
