package play

import (
	"halfline/internal/field"
	"halfline/internal/look"
)

// Kind is the column of a call that answers a play. Toss also stands for any
// other run outside.
type Kind string

const (
	Toss   Kind = "toss"
	Swing  Kind = "swing"
	Bubble Kind = "bubble"
	Now    Kind = "now"
	// Pass is a play that throws past the line: no lanes, only routes.
	Pass Kind = "pass"
)

// Kinds lists those that calls fit, in the order in which they answer them.
var Kinds = []Kind{Toss, Swing, Bubble, Now}

// Thrown reports whether the ball is thrown out to a man who is there already,
// rather than carried out.
func (k Kind) Thrown() bool { return k == Bubble || k == Now }

// Ref names a man by what he is: "#1", "#2", "#3", or "back" for the back in
// the box nearest the play side.
type Ref string

// Target is the role of a defender that a block is aimed at.
type Target string

const (
	Corner Target = "corner"
	Apex   Target = "apex"
	Safety Target = "safety"
	Hook   Target = "hook"
	Deep   Target = "deep" // a deep man in the middle: no play blocks him
)

// Block is one assignment of the offense.
type Block struct {
	By Ref
	On Target
}

// Play is one play. Times are seconds after the snap; places are yards in
// out-terms (x away from the ball on the play side) from where the carrier
// started.
type Play struct {
	ID, Name string
	Kind     Kind
	Carrier  Ref
	Blocks   []Block
	// Leaves is when the ball leaves the hand of the passer.
	Leaves float64
	// Caught and CaughtAt: when and where the carrier has the ball.
	Caught   float64
	CaughtAt field.Vec
	// Commits, CommitsAt and Going: when, where and with which velocity (yd/s)
	// the carrier takes his lane.
	Commits   float64
	CommitsAt field.Vec
	Going     field.Vec
	// Routes, of a pass, are run by receivers who can get the ball downfield;
	// ThrowFrom and ThrowTo bound when it can leave the hand.
	Routes             []Route
	ThrowFrom, ThrowTo float64
}

// Release is how a receiver leaves, as pass rules see it.
type Release string

// Releases lists them. A go is a vertical after a faked stalk.
var Releases = []Release{"out", "vertical", "under", "wheel", "go", "switch"}

// Route is one receiver's path.
type Route struct {
	By      Ref
	Release Release
	// Reads is when the release shows, in s after the snap.
	Reads float64
	// Legs are places in out-terms from where he started; he waits Waits[i] s
	// before leg i and runs on past the last.
	Legs  []field.Vec
	Waits []float64
}

// Resolve gives the tag of the man a Ref means in a look that has been counted,
// for a play to side s.
func Resolve(c *look.Count, s field.Side, r Ref) (tag string, ok bool) {
	n := c.Numbers(s)
	if len(r) == 2 && r[0] == '#' {
		if i := int(r[1]) - '1'; i >= 0 && i < len(n) {
			return n[i].Tag, true
		}
		return "", false
	}
	if r != "back" {
		return "", false
	}
	if b := c.Backfield(s); len(b) > 0 {
		return b[0].Tag, true
	}
	// The back has left the box: he is the number that is not split out, which is
	// the deepest man off the line on this side.
	deepest := -2*field.Yard + 1
	for i := range n {
		if m := &n[i]; !m.Line && m.At.Y < deepest {
			tag, deepest, ok = m.Tag, m.At.Y, true
		}
	}
	return tag, ok
}
