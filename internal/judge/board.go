package judge

import (
	"halfline/internal/assign"
	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Man is one man of the offense.
type Man struct {
	look.Man
	Athlete athlete.Athlete
	Vel     *field.Vec // in a moment; field terms
}

// Spot is one man of the defense.
type Spot struct {
	Label   string
	At      field.Offset
	Athlete athlete.Athlete
	Depth   *call.Depth // his own depth in place of the call's
	Vel     *field.Vec
}

// Moment is a frozen moment of a run; the men stand where they are then.
type Moment struct {
	Carrier string
	Blocks  []Block
	Late    []string
	// Makes holds men on their way to a lane they are in time for. Others count
	// where they stand, or by their velocity.
	Makes map[string]Way
}

// Way is a man on his way: the lane he is in time for and his velocity, field
// terms.
type Way struct {
	Lane  int
	Going field.Vec
}

// Block is one block of a moment; Hat is Auto when positions tell.
type Block struct {
	By, On string
	Hat    lane.Hat
}

// Board is all that is judged.
type Board struct {
	Ball  field.Ball
	Side  field.Side // the half-line under study
	Call  *call.Call
	Men   []Man
	Spots []Spot
	// Play is the one whose lanes are shown; nil takes the first of the menu
	// that the look can run.
	Play   *play.Play
	Menu   []*play.Play
	Box    field.Inches // x of the box edge on Side; 0: computed
	Model  leverage.Model
	Carry  float64 // share of his speed that a man keeps with the ball
	Moment *Moment
	// Before, in a moment, is the look before the snap if it is known: numbers,
	// box and rules are then those of the look, not of where men have run to.
	Before *look.Look
	// Motion is how a man has come to where he is at the snap; nil: nobody moved.
	// It changes nothing in the answer for the snap; [MotionOf] tells of it.
	Motion *look.Timeline
}

// Result is the answer for the whole board.
type Result struct {
	Look   LookResult
	Spots  []SpotResult // in the call's order, men unknown to the call last
	Play   *play.Play   // whose lanes these are; nil if the look can run none
	Lanes  []LaneResult
	Runner RunnerResult // the same lanes as the carrier sees them
	Sound  bool
	Faults []FaultResult
	words  words
}

// LookResult is the answer for the offense.
type LookResult struct {
	Violations []string
	Notes      []string
	Right      []string // tags, #1 first
	Left       []string
}

// SpotResult is the answer for one man of the defense.
type SpotResult struct {
	Label    string
	Duty     assign.Duty
	At       field.Offset
	Rule     assign.Result
	Landmark string // what he is judged by: "#2", or in a moment his blocker or lane
	Side     call.ShadeSide
	Keeps    leverage.Keeps
	Race     leverage.Race
	By       string // the man who decides the race
	Speed    float64
	Fix      field.Offset
	Held     bool // false: no place his rule allows keeps leverage
	Box      BoxResult
	Hat      call.Hat
	BlockBy  string // who can block him first
}

// BoxResult is where the rule lets him stand, field terms, in inches.
type BoxResult struct{ MinX, MinY, MaxX, MaxY field.Inches }

// Why holds the because-chains in the staff's words.
type Why struct{ Rule, Leverage, Fix string }

// LaneResult is one lane; Inner and Outer are field terms in inches.
type LaneResult struct {
	N               int
	Inside, Outside lane.Bound
	ShutBy, FitBy   string
	Gain            float64
	HasGain         bool
	Inner, Outer    field.Inches
}

// FaultResult is one broken rule, first cause first.
type FaultResult struct {
	Who, Kind string
	Opens     int // -1: nothing
	SavedBy   string
	Cost      float64
	// Of a rep: when, and the receiver who is free.
	T    float64
	Man  string
	spot int // index into Spots
	say  string
}
