package session

// Op is one thing a member wants done. Do says what; the other fields are
// those its row names, all others stay empty. Places are whole inches.
//
//	title   text                 name the session
//	look    look                 put up a look of the book
//	call    call                 call a coverage of the book
//	side    side                 study the other side of the ball: the whole picture, spots included, as in a mirror
//	ball    ball                 put the ball on a hash and yard line
//	place   who, at              a man stands here now (also in a frozen moment)
//	line    who, on              a man of the offense is on the line, or off it
//	spot    spot, on             a spot of the call is on the board, or off it
//	lineup  who                  that spot goes where its rule wants it; empty: all spots nobody holds
//	motion  who, at, kind, via   send a man in motion to a place, he is there now; without who: back where he was
//	freeze  play                 freeze the moment when the carrier of this play commits
//	thaw                         back to the alignment
//	snap    play, errors, lane, seed, mode  run a rep of this play from its beginning, at a speed
//	roll    mode, ms             let the rep roll: walk | half | full, from ms after the snap
//	stop    ms, mode             let the rep stand still, at ms after the snap
//	set                          end the rep: everybody back in the alignment
//	late    who, on              in a frozen moment: that spot is too late to count, or not
//	blocks  blocks               in a frozen moment: who blocks whom
//	floor   mode                 coach | own | all
//	hide    on                   hide answers until each player commits
//	commit                       this is my answer (a player in a hidden-answer session)
//	door    mode                 open | knock | closed
//	admit   member               let a waiting member in
//	remove  member               take a member out of the session
//	hold    spot                 take a free spot
//	letgo                        let my spot go
//	give    spot, member         the coach gives a spot to a member; empty member frees it
//	board   picture              put a picture, or parts of it, back as it was
type Op struct {
	Do     string  `json:"do" enum:"title,look,call,side,ball,place,line,spot,lineup,motion,freeze,thaw,snap,roll,stop,set,late,blocks,floor,hide,commit,door,admit,remove,hold,letgo,give,board"`
	Text   string  `json:"text,omitempty"`
	Look   string  `json:"look,omitempty"`
	Call   string  `json:"call,omitempty"`
	Play   string  `json:"play,omitempty"`
	Side   string  `json:"side,omitempty"`
	Ball   *Ball   `json:"ball,omitempty"`
	Who    string  `json:"who,omitempty"`
	At     *Place  `json:"at,omitempty"`
	Kind   string  `json:"kind,omitempty" enum:"straight,push,jet,orbit,return,shift"`
	Via    []Place `json:"via,omitempty"` // places passed on the way, at most eight; absent: the kind's usual way
	On     bool    `json:"on,omitempty"`
	Blocks []Block `json:"blocks,omitempty"`
	Mode   string  `json:"mode,omitempty"`
	Member string  `json:"member,omitempty"`
	Spot   string  `json:"spot,omitempty"`
	// Errors are the rules that men break on purpose in this rep.
	Errors []Broken `json:"errors,omitempty"`
	// Lane is the one the carrier must take; absent or -1: he chooses.
	Lane *int `json:"lane,omitempty"`
	// Seed draws the spread of real reps; absent or 0: everybody at his stated best.
	Seed uint64 `json:"seed,omitempty"`
	// Ms is a time of the rep, after the snap; absent: where the rep is now.
	Ms *int `json:"ms,omitempty"`
	// Picture is what the board operation puts back.
	Picture *Picture `json:"picture,omitempty"`
}

// Broken is one rule that a man breaks on purpose.
type Broken struct {
	Spot string `json:"spot"`
	Rule string `json:"rule"` // over-the-top | ducks-under | edge-lost | late | wrong-lane | ...
}

// Refusal is an expected answer to an operation that cannot be done. Code is
// for machines, Detail (a label, a name of the book) completes the sentence
// that the client owns for each code.
type Refusal struct {
	Code   string `json:"code"`
	Detail string `json:"detail,omitempty"`
}

func (r *Refusal) Error() string {
	if r.Detail == "" {
		return r.Code
	}
	return r.Code + ": " + r.Detail
}

// Codes of refusals that the state machine gives. They travel, so they are
// written out and never reused for another meaning.
const (
	CodeNotAllowed  = "not-allowed"  // your role may not do this
	CodeFloor       = "floor"        // the coach has the floor
	CodeUnsupported = "unsupported"  // no such operation
	CodeUnknown     = "unknown"      // no such look, call, play, man, spot, member (detail)
	CodeHeld        = "held"         // that spot is held (detail: spot)
	CodeNoSpot      = "no-spot"      // you hold no spot
	CodeWaiting     = "waiting"      // you have not been let in yet
	CodeOffField    = "off-field"    // that place is off the field
	CodeBadValue    = "bad-value"    // a field has a value that cannot be (detail: field)
	CodeNoMoment    = "no-moment"    // nothing is frozen
	CodeFrozen      = "frozen"       // a moment is frozen; thaw it first
	CodeCommitted   = "committed"    // you have committed; wait for the next look
	CodeIllegalMove = "illegal-move" // that motion is against the rules (detail: rule)
	CodeTooMany     = "too-many"     // the session is full
	CodeNoRep       = "no-rep"       // there is no rep now
	CodeCannotRun   = "cannot-run"   // the play cannot be run so (detail: why)
)
