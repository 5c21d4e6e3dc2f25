package look

import (
	"slices"

	"halfline/internal/field"
)

// MotionKind is what a staff calls a way of moving before the snap.
type MotionKind string

const (
	Straight MotionKind = "straight" // no more than a man and a place; also when nothing is said
	Push     MotionKind = "push"     // out on a side, everybody inside of him counts one more
	Jet      MotionKind = "jet"      // fast and flat across, in front of the passer
	Orbit    MotionKind = "orbit"    // round behind the passer
	Return   MotionKind = "return"   // goes and comes back
	Shift    MotionKind = "shift"    // goes, and is set again before the snap
)

// MotionKinds lists the kinds in a fixed order.
var MotionKinds = []MotionKind{Straight, Push, Jet, Orbit, Return, Shift}

// Motion is one man moving before the snap.
type Motion struct {
	Who  string
	Kind MotionKind // "": straight
	// Path is the places he passes, one after another on straight lines; the
	// last is where he is at the snap. Field terms.
	Path []field.Offset
	// Speed in yards a second, the same all the way; 0: the kind's usual.
	Speed float64
}

// Usual is a kind's usual speed in yards a second (common practice, no source).
func (k MotionKind) Usual() float64 {
	switch k {
	case Jet:
		return 7
	case Shift:
		return 3
	}
	return 5
}

const (
	// SetFor: who shifts is still this many seconds before the snap (NFHS 7-2-6).
	SetFor = 1.0
	// Slowest and Fastest bound a motion's speed in yards a second: a walk, and
	// what a man runs flat out over a few yards.
	Slowest, Fastest = 1.0, 10.0
)

// known reports whether a kind is one of ours.
func (k MotionKind) known() bool { return k == "" || slices.Contains(MotionKinds, k) }
