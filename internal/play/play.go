package play

import (
	"halfline/internal/field"
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

// Motion sends a man before the snap. All other men of the play are named by what
// they are before it.
type Motion struct {
	By   Ref
	Kind string
	// To is where he is at the snap: yards in out-terms from the ball, or, with Off,
	// as far across from that receiver.
	To  field.Vec
	Off Ref
	// Going is his velocity at the snap, yd/s in out-terms; zero if he has come to
	// a stop.
	Going field.Vec
}

// Target is the role of a defender that a block is aimed at.
type Target string

const (
	Corner Target = "corner"
	Apex   Target = "apex"
	Safety Target = "safety"
	Hook   Target = "hook"
	Deep   Target = "deep" // a deep man in the middle: no play blocks him
)

// Block is one assignment of the offense. Two men on one target are a double
// team.
type Block struct {
	By  Ref
	On  Target
	How How
}

// How is the way a block is made.
type How string

const (
	// Stalk: a receiver breaks down in front of a man, or a blocker reaches for the
	// outside of him; he wants him inside.
	Stalk How = "stalk"
	Crack How = "crack" // a receiver comes inside, hands first and in front
	Kick  How = "kick"  // from inside out: he wants the man outside
	Lead  How = "lead"  // a puller, a climbing lineman or a fullback comes first
)

// Hows lists them.
var Hows = []How{Stalk, Crack, Kick, Lead}

// Hard reports a block that is joined with the shoulder; one by a receiver is
// met with the hands.
func (h How) Hard() bool { return h == Kick || h == Lead }

// Play is one play. Times are seconds after the snap; places are yards in
// out-terms (x away from the ball on the play side) from where the carrier
// started.
type Play struct {
	ID, Name string
	Kind     Kind
	Carrier  Ref
	Blocks   []Block
	Motion   *Motion // nil: nobody
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
	// ThrowFrom and ThrowTo bound when it can leave the hand. Of a run they are
	// decoys that take the man who covers them along.
	Routes             []Route
	ThrowFrom, ThrowTo float64
	// Fakes is the run or screen that a pass looks like at first, by whom.
	Fakes   Kind
	FakedBy Ref
}

// Release is how a receiver leaves, as pass rules see it.
type Release string

// Releases lists them. A go is a vertical after a faked stalk; who blocks, or
// only shows it yet, releases "block"; who stays behind the line (bubble, swing)
// "behind".
var Releases = []Release{"out", "vertical", "under", "wheel", "go", "switch", "block", "behind"}

// Route is one receiver's path.
type Route struct {
	By      Ref
	Release Release
	// Reads is when the release shows, in s after the snap; until then it looks
	// like Shows, or like nothing yet.
	Reads float64
	Shows Release
	// Legs are places in out-terms from where he started; he waits Waits[i] s
	// before leg i and runs on past the last.
	Legs  []field.Vec
	Waits []float64
}
