package call

import (
	"halfline/internal/field"
	"halfline/internal/play"
)

// Call is one coverage.
type Call struct {
	ID, Name string
	Spots    []Spot // in the order in which a staff lists them
	// Checks is what changes against something the look does: push, crack,
	// wheel, bubble-and-go, flood, trips.
	Checks map[string]string
	// Settings are what staffs play otherwise, and what is chosen here.
	Settings []Setting
}

// Setting is one thing of a call on which staffs differ. The usual choice is
// the first.
type Setting struct {
	Name    string
	Choices []string
	Chosen  string
}

// Spot gives the spot with a label.
func (c *Call) Spot(label string) (*Spot, bool) {
	for i := range c.Spots {
		if c.Spots[i].Label == label {
			return &c.Spots[i], true
		}
	}
	return nil, false
}

// Half says on which side of the ball a spot plays.
type Half string

const (
	This Half = "this" // the side under study
	Back Half = "back" // the other side
)

// Spot is one place of the defense in a call.
type Spot struct {
	Label string
	Name  string
	Role  play.Target // what a block is aimed at; "" on the defensive line
	Half  Half
	// Stand is where he lines up. Attached takes its place when #2 is on the
	// end of the line, Alone when there is only one receiver; nil keeps Stand.
	Stand    *Stand
	Attached *Stand
	Alone    *Stand
	Wide     *Stand // when #1 is at the numbers or outside of them
	Eyes     string // in words
	Key      string // the man he reads first: "#1", "#2", "#3" or "back"
	Fits     map[play.Kind]Fit
	Block    string // block rule in words
	Pass     []PassRule
}

// Stand is a range of places. Landmarks are across the field, depths from the
// ball.
type Stand struct {
	Best, Inner, Outer Landmark
	Depth              Depth
	// Keep is the side of which landmark he must not lose.
	Keep Shade
}

// Landmark is a place across the field: Out inches outside (negative: inside)
// of a thing that the look shows.
type Landmark struct {
	Off Off
	Out field.Inches
}

// Off is the thing a landmark is measured from.
type Off string

const (
	Off1    Off = "#1"
	Off2    Off = "#2"
	Off3    Off = "#3"
	OffApex Off = "apex" // halfway between #2 and the next man inside
	OffEnd  Off = "end"  // the last man on the line
	OffBall Off = "ball"
	// OffMiddle is the middle of the field, OffHash the row of hash marks on
	// his half.
	OffMiddle Off = "middle"
	OffHash   Off = "hash"
)

// Depth is a range of depths from the ball.
type Depth struct{ Best, Least, Most field.Inches }

// Shade is a side of a receiver.
type Shade struct {
	Off  Off
	Side ShadeSide
}

// ShadeSide is inside, outside, or either.
type ShadeSide string

const (
	Inside  ShadeSide = "inside"
	Outside ShadeSide = "outside"
	HeadUp  ShadeSide = "head-up" // either side will do
)

// Fit is what a spot does against one kind of play.
type Fit struct {
	Job Job
	// Owns is the lane he answers for when everybody is right: counted from
	// the box edge, or [LastLane]; [NoLane] if he only helps.
	Owns int
	// Spare: he takes over the lane of a man in front of him who is blocked.
	Spare bool
	// Hat is the side of his blocker his hat must be on.
	Hat Hat
	// Kick is the same for a force man whose blocker comes from inside and wants
	// him outside (a kick-out); "" for everybody else.
	Kick Hat
	// Key is when his key shows, in seconds after the snap; OnThrow means when
	// the ball leaves the hand.
	Key     float64
	OnThrow bool
	Say     string
}

const (
	NoLane   = -1
	LastLane = -2
	// ReadsHat: he fits off the hat he sees on the apex: outside, the lane at
	// the box edge; inside, the next one out.
	ReadsHat = -3
)

// Job is a man's part against the run.
type Job string

const (
	Force     Job = "force"
	Secondary Job = "secondary contain"
	Alley     Job = "alley"
	Cutback   Job = "cutback"
	InsideOut Job = "inside-out"
	Overlap   Job = "overlap"
)

// Jobs lists them.
var Jobs = []Job{Force, Secondary, Alley, Cutback, InsideOut, Overlap}

// Hat is a hat rule.
type Hat string

const (
	HatInside  Hat = "inside"
	HatOutside Hat = "outside"
	// HatOnBall: outside if he is outside of the ball when the carrier
	// commits, else he plays it inside-out and either hat will do.
	HatOnBall Hat = "on-ball"
	HatEither Hat = "either"
	// HatIfOpen: outside, unless an edge inside of him holds.
	HatIfOpen Hat = "if-open"
)
