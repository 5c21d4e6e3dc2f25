package wire

// Verdicts is what the engine says of the board as it stands, drags included.
// It is passing: the next one replaces it whole. On a device that may not see an
// answer yet, that answer is absent.
type Verdicts struct {
	On   uint64     `json:"on"`   // seq of the facts it was made on
	Live bool       `json:"live"` // made with men under a finger
	Look LookAnswer `json:"look"`
	// Spots holds full answers: a player's own, all of them for coach and wall.
	Spots map[string]SpotAnswer `json:"spots"`
	// Signs holds every spot's short answer: yes, contested, no.
	Signs  map[string]string `json:"signs" enum:"yes,contested,no"`
	Lanes  []LaneAnswer      `json:"lanes"`
	Sound  bool              `json:"sound"`
	Faults []FaultAnswer     `json:"faults"`
}

// LookAnswer says whether the look is legal and who is which number.
type LookAnswer struct {
	Legal      bool     `json:"legal"`
	Violations []string `json:"violations"`
	// Notes tell what is legal but worth knowing.
	Notes   []string `json:"notes"`
	Numbers Numbers  `json:"numbers"`
	// Way is how the man in motion goes; absent: nobody does.
	Way *WayAnswer `json:"way,omitempty"`
}

// WayAnswer is the way of the man in motion. Times are seconds from the snap,
// before it negative.
type WayAnswer struct {
	StartS  float64       `json:"start_s"`
	Path    [][2]int      `json:"path"`    // [x, y] in inches, from where he starts
	Changes []CountAnswer `json:"changes"` // when the numbers change, first one first
}

// CountAnswer is a moment at which a motion changes the numbers: when, where the
// man in motion is then, in inches, and who counts how from then on.
type CountAnswer struct {
	TS      float64 `json:"t_s"`
	At      [2]int  `json:"at"`
	Numbers Numbers `json:"numbers"`
}

// Numbers lists receivers' tags by side, #1 first.
type Numbers struct {
	Right []string `json:"right"`
	Left  []string `json:"left"`
}

// SpotAnswer is all a defender needs.
type SpotAnswer struct {
	Spot       string           `json:"spot"`
	Half       string           `json:"half" enum:"left,right"` // the side of the ball he plays
	Rule       RuleAnswer       `json:"rule"`
	Leverage   LeverageAnswer   `json:"leverage"`
	Fix        FixAnswer        `json:"fix"`
	Assignment AssignmentAnswer `json:"assignment"`
	// Pocket is sent to the man himself, and only while nobody is dragged.
	Pocket *PocketAnswer `json:"pocket"`
}

// PocketAnswer is where a man may stand and still keep everything, the others
// standing where they are: closed outlines of [x, y] in inches. Maybe includes
// the places where it is contested.
type PocketAnswer struct {
	Keeps [][][2]int `json:"keeps"`
	Maybe [][][2]int `json:"maybe"`
}

// RuleAnswer says whether he stands where his call wants him.
type RuleAnswer struct {
	Verdict  string     `json:"verdict" enum:"right,wrong-side,too-tight,too-wide,too-deep,too-shallow"`
	Landmark string     `json:"landmark"` // what he lines up off, "#2"
	Side     string     `json:"side" enum:"inside,head-up,outside"`
	Move     [2]float64 `json:"move"` // yards, [x to the offense's right, y deeper], to the nearest place that is right
	// Box is where the rule lets him stand: [least x, least y, most x, most y] in inches.
	Box     [4]int `json:"box"`
	Because string `json:"because"`
}

// LeverageAnswer says whether he can hold what his job gives him to hold.
type LeverageAnswer struct {
	Keeps    string   `json:"keeps" enum:"yes,contested,no"`
	MarginS  *float64 `json:"margin_s"`  // seconds to spare in the least race; null: his job has no race here
	MarginYd *float64 `json:"margin_yd"` // the same in yards at his speed
	Against  string   `json:"against"`   // the play that decides
	Race     string   `json:"race" enum:"hat,alley,edge,top,"`
	By       string   `json:"by"` // the man who can beat him: blocker or carrier
	Because  string   `json:"because"`
}

// FixAnswer is the one change that brings him right.
type FixAnswer struct {
	Move [2]int `json:"move"` // inches, [x to the offense's right, y deeper]; [0,0]: stay
	Say  string `json:"say"`  // "1½ yd inside, 1 deeper"
}

// AssignmentAnswer is his card. Words come from the call; numbers are resolved
// to tags. Plays and Rules tell in full what Fit and Pass say in one line.
type AssignmentAnswer struct {
	Align string   `json:"align"`
	Eyes  string   `json:"eyes"`
	Fit   string   `json:"fit"`
	Block string   `json:"block"`
	Pass  string   `json:"pass"`
	Plays []string `json:"plays"`                            // his part against each kind of play
	Rules []string `json:"rules"`                            // all his pass rules
	Hat   string   `json:"hat" enum:"inside,outside,either"` // side of his man his hat must be on
	Key   string   `json:"key"`                              // tag of the man he reads first, "" if none is out there
	On    string   `json:"on"`                               // tag of the man who can block him first, "" if none
}

// LaneAnswer is one lane, from the box edge (0) outwards.
type LaneAnswer struct {
	N       int      `json:"n"`
	Inside  string   `json:"inside"`
	Outside string   `json:"outside"`
	ShutBy  string   `json:"shut_by"`
	FitBy   string   `json:"fit_by"`
	GainYd  *float64 `json:"gain_yd"`
	Span    [2]int   `json:"span"` // x of its inner and outer edge in inches
}

// FaultAnswer is one broken rule, first cause first.
type FaultAnswer struct {
	Who     string   `json:"who"`
	Kind    string   `json:"kind"`
	Opens   *int     `json:"opens"` // lane; null: opens nothing
	SavedBy string   `json:"saved_by"`
	CostYd  *float64 `json:"cost_yd"`
	Because string   `json:"because"`
}

// Answer is the output of `halfline check`.
type Answer struct {
	Scene     int           `json:"scene"`
	Look      SceneLook     `json:"look"`
	Defenders []SpotAnswer  `json:"defenders"`
	Lanes     []LaneAnswer  `json:"lanes"`
	Sound     bool          `json:"sound"`
	Faults    []FaultAnswer `json:"faults"`
	Runner    *RunnerAnswer `json:"runner"` // null: there are no lanes
}
