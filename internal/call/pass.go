package call

// PassRule is one line of pass rules: when a numbered receiver releases so, do
// that. The rules of a spot are read in their order; the first that names a
// receiver and whose conditions show says whom he answers for. A rule without
// Takes is only told.
type PassRule struct {
	// If must show, and With as well unless it is empty.
	If, With Condition
	Do       string
	// Takes is the receiver he answers for ("#1", "#2", "#3", "back") while the
	// conditions show, "" when the rule is only words; Holds says how.
	Takes string
	Holds Hold
}

// When gives the conditions as a staff writes them: "#2 out and back out".
func (p *PassRule) When() string {
	if p.With.Number == "" {
		return p.If.String()
	}
	return p.If.String() + " and " + p.With.String()
}

// Condition is a numbered receiver ("#1", "#2", "#3", "back") who releases in
// some way (one of play.Releases); "" is true of him however he goes.
type Condition struct{ Number, Release string }

func (c Condition) String() string {
	if c.Release == "" {
		return c.Number
	}
	return c.Number + " " + c.Release
}

// Hold is how a man answers for a receiver downfield.
type Hold string

const (
	NoHold  Hold = ""
	Over    Hold = "over"     // a deep man: between him and the end zone
	InPhase Hold = "in-phase" // at his hip, hands on the ball
	Under   Hold = "under"    // a man beneath him, who drives on the throw
	// OnThrow: his only once the ball is thrown. Until then the rules after this
	// one hold.
	OnThrow Hold = "on-throw"
)

// Holds lists them.
var Holds = []Hold{Over, InPhase, Under, OnThrow}

// Numbers lists the receivers that rules can name.
var Numbers = []string{"#1", "#2", "#3", "back"}
