package wire

import "halfline/internal/field"

// Track is one rep as it runs: where everybody is at every key, and what
// happens. It is sent once for a rep; where the rep is on it at a moment, the
// state's rep and the hub's time say. What a device may not see yet is absent.
type Track struct {
	Play string `json:"play"` // the rep's
	From int    `json:"from"` // of the first key, ms after the snap
	Step int    `json:"step"` // ms between keys
	// Men are tags of the offense, Spots labels of the defense.
	Men   []string `json:"men"`
	Spots []string `json:"spots"`
	// Keys has a list for every man, then for every spot: x and y at the first
	// key in inches, then how x and y change to each key after it. Between two
	// keys a man goes straight at an even pace.
	Keys [][]field.Inches `json:"keys"`
	Ball []field.Inches   `json:"ball"` // the same of the ball
	// Events are in order of time.
	Events []TrackEvent  `json:"events"`
	Lanes  []TrackLanes  `json:"lanes"`
	Owners []TrackOwners `json:"owners"`
	Faults []FaultAnswer `json:"faults"` // first cause first
	Free   []TrackFree   `json:"free"`   // of a pass: who could be thrown to
	// Breaks lists, by spot, the rules that his job lets him break on purpose;
	// for coaches.
	Breaks map[string][]string `json:"breaks"`
	End    TrackEnd            `json:"end"`
}

// TrackEvent is one thing that happens in a rep: Who does it, To whom.
type TrackEvent struct {
	T int `json:"t"` // ms after the snap
	// What is one of: motion, bump, snap, key, ball, catch, block, commit, cut,
	// declare, shed, replace, match, too early, free, tackle, out of bounds,
	// broke, no throw, broken up. A device passes over any other.
	What string `json:"what"`
	Who  string `json:"who,omitempty"`
	To   string `json:"to,omitempty"`
	Lane *int   `json:"lane,omitempty"` // of a commit or a cut
	Say  string `json:"say,omitempty"`  // in the staff's words, one short line
}

// TrackLanes is the lanes from a time on, until the next.
type TrackLanes struct {
	T     int          `json:"t"`
	Lanes []LaneAnswer `json:"lanes"`
	Takes int          `json:"takes"` // the lane the carrier is on his way to; -1: not chosen yet
}

// TrackOwners says from a time on, until the next, whom each spot answers for.
type TrackOwners struct {
	T       int               `json:"t"`
	Of      map[string]string `json:"of"`      // receivers' tags by spot
	Unowned []string          `json:"unowned"` // receivers nobody answers for
}

// TrackFree is a receiver and the best ball he could get.
type TrackFree struct {
	Who     string  `json:"who"`
	Thrown  int     `json:"thrown"`   // ms after the snap
	MarginS float64 `json:"margin_s"` // seconds by which the ball beats the nearest defender; below 0: it does not
	Free    bool    `json:"free"`
}

// TrackEnd is how a rep ended.
type TrackEnd struct {
	T      int     `json:"t"`
	GainYd float64 `json:"gain_yd"` // cut where the model ends
	Broke  bool    `json:"broke"`   // 10 yards or more
	// How is one of: tackled, out of bounds, broke, no throw, broken up, whistle.
	How    string          `json:"how"`
	By     string          `json:"by"`     // who made the tackle
	With   string          `json:"with"`   // who was on the other hip
	Hip    string          `json:"hip"`    // where the tackler was: near, far, front or not known
	At     [2]field.Inches `json:"at"`     // [x, y]
	Lane   int             `json:"lane"`   // where the ball went; -1: none
	Caught string          `json:"caught"` // of a pass: who has it
}
