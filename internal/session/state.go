package session

import "halfline/internal/field"

// Place is a place on the field in whole inches from the ball: [x, y].
type Place [2]field.Inches

// Offset gives the same place as a field.Offset.
func (p Place) Offset() field.Offset { return field.Offset{X: p[0], Y: p[1]} }

// PlaceOf is the Place of o.
func PlaceOf(o field.Offset) Place { return Place{o.X, o.Y} }

// State is all that is durable about one session.
type State struct {
	Title string `json:"title"`
	// Book names the book whose looks, calls and plays the session uses.
	Book string `json:"book"`
	Ball Ball   `json:"ball"`
	// Side is the side of the ball under study, as the offense sees it.
	Side string `json:"side" enum:"left,right"`
	Look string `json:"look"` // the look last put up; the men may have moved since
	Call string `json:"call"`
	// Men is the offense before the snap, by tag.
	Men map[string]Man `json:"men"`
	// Spots is the defense before the snap, by label.
	Spots map[string]Spot `json:"spots"`
	// Motion is under way when Who is set: that man goes to To before the snap.
	Motion Motion `json:"motion"`
	// Moment is set (Play not empty) while a moment of a run is frozen.
	Moment Moment `json:"moment"`
	// Rep is set (Play not empty) while a rep is shown; the men stand where they
	// stood before it. It and a frozen moment end each other.
	Rep Rep `json:"rep"`
	// Floor says who may move men: the coach only, players their own man
	// too, or everybody any man.
	Floor string `json:"floor" enum:"coach,own,all"`
	// Hidden: answers are not sent to a player before he commits.
	Hidden bool `json:"hidden"`
	// Committed lists the spots whose players have committed, in order.
	Committed []string `json:"committed"`
	// Door says what a right code gets: in at once, a place in the waiting
	// list, or nothing.
	Door    string            `json:"door" enum:"open,knock,closed"`
	Members map[string]Member `json:"members"`
}

// Ball is where the ball lies.
type Ball struct {
	Rules string `json:"rules" enum:"nfhs,ncaa,pro"`
	Hash  string `json:"hash" enum:"left,middle,right"`
	Yard  int    `json:"yard"` // 1..99 from the offense's own goal line
}

// Man is one man of the offense.
type Man struct {
	At   Place `json:"at"`
	Line bool  `json:"line"` // on the line of scrimmage
}

// Spot is one place of the defense, held by a player or by nobody.
type Spot struct {
	At Place  `json:"at"`
	By string `json:"by"` // member id; empty if nobody holds it
	// Man is the jersey number of the man of the book's squad whose speed and
	// depth count here; empty: the book's usual man of this kind.
	Man string `json:"man"`
}

// Motion is one man on his way before the snap.
type Motion struct {
	Who  string `json:"who"` // empty: nobody is in motion
	From Place  `json:"from"`
	To   Place  `json:"to"`   // he is there now
	Line bool   `json:"line"` // he was on the line before
	// Kind is how he goes, in the usual way of the kind; absent: straight.
	Kind string `json:"kind,omitempty" enum:"straight,push,jet,orbit,return,shift"`
	// Via are the places that he passes instead of the kind's usual way.
	Via []Place `json:"via,omitempty"`
}

// Moment is a frozen moment of a run: where everybody is then.
type Moment struct {
	Play    string           `json:"play"` // empty: nothing is frozen
	Carrier string           `json:"carrier"`
	Places  map[string]Place `json:"places"` // men and spots
	Blocks  []Block          `json:"blocks"`
	Late    []string         `json:"late"` // spots too late to count
	// Makes holds spots that are on their way to a lane they are in time for.
	// Who has been moved by hand is not among them: he counts where he stands.
	Makes map[string]Way `json:"makes"`
}

// Way is a man on his way in a frozen moment.
type Way struct {
	Lane  int   `json:"lane"`  // he is in time for it; -1: for none, he only helps
	Going Place `json:"going"` // inches a second
}

// Block is one man of the offense on one of the defense.
type Block struct {
	By string `json:"by"`
	On string `json:"on"`
}

// Member is a device that has joined.
type Member struct {
	Role string `json:"role" enum:"coach,player,wall"`
	In   bool   `json:"in"` // false: waiting to be let in
}

// Change is what one operation makes of a state. A nil field stays as it was;
// any other replaces the state's field whole, except that Men, Spots and
// Members hold only the entries that change, nil removing one.
type Change struct {
	Title     *string            `json:"title,omitempty"`
	Book      *string            `json:"book,omitempty"`
	Ball      *Ball              `json:"ball,omitempty"`
	Side      *string            `json:"side,omitempty" enum:"left,right"`
	Look      *string            `json:"look,omitempty"`
	Call      *string            `json:"call,omitempty"`
	Men       map[string]*Man    `json:"men,omitempty"`
	Spots     map[string]*Spot   `json:"spots,omitempty"`
	Motion    *Motion            `json:"motion,omitempty"`
	Moment    *Moment            `json:"moment,omitempty"`
	Rep       *Rep               `json:"rep,omitempty"`
	Floor     *string            `json:"floor,omitempty" enum:"coach,own,all"`
	Hidden    *bool              `json:"hidden,omitempty"`
	Committed *[]string          `json:"committed,omitempty"`
	Door      *string            `json:"door,omitempty" enum:"open,knock,closed"`
	Members   map[string]*Member `json:"members,omitempty"`
}
