package judge

import (
	"halfline/internal/athlete"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/leverage"
	"halfline/internal/rep"
)

// Status says how well an assumption is founded.
type Status string

const (
	Published Status = "published"
	Derived   Status = "derived" // from published values, or from trials of this model
	Practice  Status = "common practice"
	Chosen    Status = "chosen" // by us in trials, or by the staff
)

// Assumption is one number that answers hang on: what it is now, how well it is
// founded, on what, and where it is changed.
type Assumption struct {
	Key    string
	Value  float64
	Unit   string // "" for a share or a count
	Status Status
	Source string
	Change string
}

const fixed = "not by a book"

// Assumptions lists every number that the answers for a board hang on, as its
// book and its men have them. What a staff has changed is theirs.
func Assumptions(b *Board, bk *book.Book) []Assumption {
	a := assumed{}
	a.model(&b.Model)
	a.athletes(b, bk)
	a.plays(b)
	a.races()
	a.reps()
	return a.list
}

// assumed is the list in the making.
type assumed struct{ list []Assumption }

func (a *assumed) add(key string, v float64, unit string, s Status, source, change string) {
	a.list = append(a.list, Assumption{key, v, unit, s, source, change})
}

const staffs = "the staff's own"

// own adds a number that a book may change: as shipped it has a status and a
// source, else it is the staff's.
func (a *assumed) own(key string, v, shipped float64, unit string, s Status, source, change string) {
	if v != shipped {
		s, source = Chosen, staffs
	}
	a.add(key, v, unit, s, source, change)
}

func (a *assumed) model(m *leverage.Model) {
	d := leverage.Default()
	a.add("model.band", m.Band, "s", Derived, "about one standard deviation of a margin under a rep's spread", fixed)
	a.add("model.cap", m.Cap, "s", Chosen, "more to spare than this says nothing", fixed)
	a.own("model.set", m.Set, d.Set, "s", Chosen, "a block needs hands and feet; reps came out right with it", "model: {set: ...} in a book")
	a.own("model.stalk_set", m.StalkSet, d.StalkSet, "s", Chosen, "a receiver breaks down to stalk a corner", "model: {stalk_set: ...} in a book")
	a.own("model.gain_limit", m.Limit, d.Limit, "yd", Practice, "a fitter meets the ball no deeper", "model: {gain_limit: ...} in a book, limits: {gain: ...} in a scene")
	a.own("model.hold", m.Blocked, d.Blocked, "s", Practice, "so long a beaten man is out of the play", "model: {hold: ...} in a book")
	a.own("model.let_go", m.Loose, d.Loose, "s", Practice, "so long on the side where his hat is", "model: {let_go: ...} in a book")
	a.own("model.ball_reaction", m.Ball, d.Ball, "s", Practice, "a free man sees the ball turn", "model: {ball_reaction: ...} in a book")
	a.add("model.tackle", m.Tackle, "yd", Practice, "between centres at a tackle", fixed)
	a.add("model.cut", m.Broke, "yd", Chosen, "beyond it nobody stands on a half-line", fixed)
	a.own("model.match_line", m.Match, d.Match, "yd", Practice, "staffs match a vertical receiver from 5 to 12", "settings: {match-line: ...} in a book")
}

// Where a man's numbers come from.
const (
	forty    = "published combine mean of 40 yd + 0.45 s for high school (common practice), less tau, times the game's share"
	clark    = "Clark, Rieger, Bruno and Stearne 2017: 0.77 s for football starts"
	toChange = "athletes in a book, the squad there, athlete: {...} in a scene"
)

func (a *assumed) athletes(b *Board, bk *book.Book) {
	d := book.Builtin().Athletes
	a.own("athletes.tau", bk.Athletes.Tau, d.Tau, "s", Published, clark, "athletes: {tau: ...} in a book")
	a.own("athletes.game_share", bk.Athletes.Game, d.Game, "", Chosen, "share of his 40-yard speed kept in pads, reading", "athletes: {game_share: ...} in a book")
	a.own("athletes.ball_share", bk.Athletes.Ball, d.Ball, "", Chosen, "share kept with the ball", "athletes: {ball_share: ...} in a book")
	a.own("athletes.carry", b.Carry, d.Carry(), "", Derived, "ball_share over game_share", "athletes: {ball_share: ...} in a book")
	l := b.Shown()
	for i := range b.Men {
		m := &b.Men[i]
		a.man(m.Tag, m.Athlete, bk.Offense(l, m.Man), "start of the offense, who know the count")
	}
	for i := range b.Spots {
		s, usual := &b.Spots[i], bk.Athletes.ByKind["front"]
		if sp, ok := spotOf(b.Call, s.Label); ok {
			usual = bk.Defense(sp)
		}
		a.man(s.Label, s.Athlete, usual, "no read is faster than 0.2 s")
	}
}

func spotOf(c *call.Call, label string) (*call.Spot, bool) {
	if c == nil {
		return nil, false
	}
	return c.Spot(label)
}

func (a *assumed) man(tag string, m, usual athlete.Athlete, react string) {
	a.own("athlete."+tag+".top", m.Top, usual.Top, "yd/s", Derived, forty, toChange)
	a.own("athlete."+tag+".tau", m.Tau, usual.Tau, "s", Published, clark, toChange)
	a.own("athlete."+tag+".react", m.React, usual.React, "s", Chosen, react, toChange)
}

func (a *assumed) races() {
	r := leverage.StatedValues()
	a.add("race.half_man", r.HalfMan, "yd", Practice, "half a man: past it the hat is on that side", fixed)
	a.add("race.meet_share", r.MeetShare, "", Derived, "share of the way at which blocker and man come together, from trials", fixed)
	a.add("race.mouth_in", r.MouthIn, "yd", Chosen, "a lane's mouths lie so far from its edges, and in the middle", fixed)
	a.add("race.mouth_depth", r.MouthDepth, "yd", Chosen, "the ball is in the lane so far beyond the line", fixed)
	a.add("race.inside_ball", r.InsideBall, "yd", Practice, "an alley man fits on the near hip", fixed)
	a.add("race.fit_reach", r.FitReach, "yd", Chosen, "reach of a man at his fit", fixed)
	a.add("race.edge_out", r.EdgeOut, "yd", Chosen, "the corner lies so far outside of man and block", fixed)
	a.add("race.edge_ball", r.EdgeBall, "yd", Chosen, "there beyond the line the ball has turned it", fixed)
	a.add("race.edge_front", r.EdgeFront, "yd", Practice, "force is in front of the ball, so far beyond the line", fixed)
	a.add("race.edge_reach", r.EdgeReach, "yd", Chosen, "reach of a man at the corner", fixed)
	a.add("race.over_by", r.OverBy, "yd", Practice, "a deep man stays so far over his receiver", fixed)
	a.add("race.over_reach", r.OverReach, "yd", Chosen, "reach of a deep man", fixed)
	a.add("race.phase_reach", r.PhaseReach, "yd", Chosen, "reach of a man at his receiver's hip", fixed)
	a.add("race.throw_every", r.ThrowEvery, "s", Chosen, "between the throws that are tried", fixed)
	a.add("race.flight_share", r.Flight, "", Practice, "share of ground speeds derived from public league tracking 2017-2019, for high school", fixed)
	a.add("depth.least", r.DepthLeast, "yd", Chosen, "where the search for a depth window begins", fixed)
	a.add("depth.most", r.DepthMost, "yd", Chosen, "and ends", fixed)
}

func (a *assumed) reps() {
	s, d := rep.StatedValues(), rep.SpreadOf()
	a.add("lane.half_man", s.Lanes.HalfMan, "yd", Practice, "a hat must be so far to a side to be there", fixed)
	a.add("lane.gate_in", s.Lanes.GateIn, "yd", Chosen, "ways into a lane lie so far from its edges, and in the middle", fixed)
	a.add("lane.gate_depth", s.Lanes.GateDepth, "yd", Chosen, "the carrier is in a lane so far beyond the line", fixed)
	a.add("lane.last_gate", s.Lanes.LastGate, "yd", Chosen, "beyond the last block he turns up within this", fixed)
	a.add("lane.tick", s.Lanes.Tick, "s", Chosen, "between the moments at which a meeting is looked for", fixed)
	a.add("rep.falls_on", s.FallsOn, "s", Chosen, "of his downfield speed that a tackled man falls forward", fixed)
	a.add("rep.contact", s.Contact, "yd", Practice, "between centres when a block is met", fixed)
	a.add("rep.free_by", s.FreeBy, "s", Chosen, "a ball must beat every defender by so much for a receiver to be free", fixed)
	a.add("rep.plays_ball", s.PlaysBall, "yd", Chosen, "reach for a ball in the air", fixed)
	a.add("rep.sees_throw", s.SeesThrow, "s", Published, "simple reactions: no read is faster", fixed)
	a.add("rep.late_by", s.LateBy, "s", Chosen, "how late the error late is", fixed)
	a.add("rep.off_by", s.OffBy, "s", Chosen, "so far off his time is a fault", fixed)
	a.add("rep.broke", s.Broke, "yd", Practice, "from there a gain counts as broken", fixed)
	const tried = "chosen in a trial; one standard deviation"
	a.add("spread.place", d.Place, "yd", Chosen, tried, fixed)
	a.add("spread.speed", d.Speed, "", Chosen, tried+", share of top speed", fixed)
	a.add("spread.react", d.React, "s", Chosen, tried, fixed)
	a.add("spread.start", d.Start, "s", Chosen, tried, fixed)
	a.add("spread.throw", d.Throw, "s", Chosen, tried, fixed)
	a.add("spread.hold", d.Hold, "s", Chosen, tried, fixed)
	a.add("spread.sight", d.Sight, "yd", Chosen, tried+", of the carrier's eye, a lane", fixed)
	a.add("spread.cut", d.Cut, "", Chosen, "standard deviations that a draw goes at most", fixed)
}
