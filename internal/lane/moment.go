package lane

import (
	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Man is a defender at the moment.
type Man struct {
	Label string
	At    field.Offset // out-terms
	Vel   *field.Vec   // out-terms; nil: he is counted in the lane he stands in
	// Makes is the lane that another race has shown he makes in time; nil: the
	// rules above tell.
	Makes   *int
	Late    bool // too late to count
	Athlete athlete.Athlete
	Order   Order
}

// Order is what the call wants of a man against this play.
type Order struct {
	Role play.Target
	Fit  call.Fit
	// Known is false for a man to whom the call gives nothing on this side.
	Known bool
	// FromOutside: his alignment is outside of the man who blocks him, so a hat
	// inside means that he ducked under, not that he was reached.
	FromOutside bool
	// Blocked: the play has a block for him.
	Blocked bool
}

// Block is one block. On indexes Moment.Men.
type Block struct {
	By  string
	At  field.Offset // the blocker, out-terms
	On  int
	Hat Hat // Auto: from positions
	// Crack: the outermost receiver has come inside to block another man than
	// the corner. The man he blocks has no edge to set any more.
	Crack bool
}

// Hat is where a blocked man's hat is.
type Hat string

const (
	Auto    Hat = ""
	In      Hat = "inside"
	Even    Hat = "even"
	Outside Hat = "outside"
)

// Moment is one frozen moment.
type Moment struct {
	Edge, Sideline field.Inches
	Ball           field.Offset
	Going          field.Vec       // the carrier's velocity
	Carrier        athlete.Athlete // as he runs with the ball
	Men            []Man
	Blocks         []Block
	Kind           play.Kind
}

// Lane is one lane.
type Lane struct {
	N            int
	Inner, Outer field.Inches
	Inside       Bound // the box, or a block
	Outside      Bound // a block, or the sideline
	ShutBy       int   // index into Men, -1
	FitBy        int   // index into Men, -1
	Gain         float64
	opened       int // fault that opened it, -1
}

// Bound is what bounds a lane: a block, or a word for something else.
type Bound struct{ By, On, Word string }

func (b Bound) String() string {
	if b.Word != "" {
		return b.Word
	}
	return b.By + " on " + b.On
}

// Open reports whether neither a hat nor a free man answers for the lane.
func (l *Lane) Open() bool { return l.ShutBy < 0 && l.FitBy < 0 }

// Result is what the lane rule says.
type Result struct {
	Lanes  []Lane
	Sound  bool
	Faults []Fault
	Blocks []Block // one a defender, inside out, hats settled
}

// halfMan is how far a hat must be to a side to be there.
const halfMan = field.Yard / 2

// Here reports whether a block at a place makes a lane on this side: one on the
// other side of the ball does not.
func Here(at field.Offset, edge field.Inches) bool { return at.X > edge-field.Yard || at.X > 0 }

// HatOf is the hat of a defender at d blocked by a man at b, out-terms: at least
// half a yard to a side, else even.
func HatOf(b, d field.Offset) Hat {
	switch o := d.X - b.X; {
	case o >= halfMan:
		return Outside
	case o <= -halfMan:
		return In
	}
	return Even
}
