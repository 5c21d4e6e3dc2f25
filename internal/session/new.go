package session

import (
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Limits of one session.
const (
	MaxMembers = 60 // a squad and its staff
	maxTitle   = 40
)

// Who may move men.
const (
	FloorCoach = "coach"
	FloorOwn   = "own"
	FloorAll   = "all"
)

// What a right code gets.
const (
	DoorOpen   = "open"
	DoorKnock  = "knock"
	DoorClosed = "closed"
)

// Roles of members.
const (
	Coach  = "coach"
	Player = "player"
	Wall   = "wall"
)

// New is a fresh session on a book: its first look and first call, everybody
// where the rules want him, players moving their own men.
func New(title string, b *book.Book) State {
	s := State{
		Title: title, Book: b.ID, Floor: FloorOwn, Door: DoorOpen, Side: field.Right.String(),
		Ball: Ball{Rules: string(field.NFHS), Hash: string(field.MiddleHash), Yard: 40},
		Men:  map[string]Man{}, Spots: map[string]Spot{}, Members: map[string]Member{}, Committed: []string{},
		Rep: Rep{}.clone(),
	}
	if len(b.Calls) > 0 {
		s.Apply(changeCall(&s, b, b.Calls[0]))
	}
	if len(b.Looks) > 0 {
		s.Apply(changeLook(&s, b, &b.Looks[0]))
	}
	return s
}

// Clone is a copy that shares nothing with s.
func (s *State) Clone() State {
	c := *s
	c.Men = clone(s.Men)
	c.Spots = clone(s.Spots)
	c.Members = clone(s.Members)
	c.Committed = append([]string{}, s.Committed...)
	c.Motion = s.Motion.clone()
	c.Moment = s.Moment.clone()
	c.Rep = s.Rep.clone()
	return c
}

func clone[V any](m map[string]V) map[string]V {
	out := make(map[string]V, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

func (m Moment) clone() Moment {
	m.Places = clone(m.Places)
	m.Blocks = append([]Block{}, m.Blocks...)
	m.Late = append([]string{}, m.Late...)
	m.Makes = clone(m.Makes)
	return m
}

// Apply makes a change. It cannot fail: what may not be is refused before a
// Change is made.
func (s *State) Apply(c Change) {
	set(&s.Title, c.Title)
	set(&s.Book, c.Book)
	set(&s.Ball, c.Ball)
	set(&s.Side, c.Side)
	set(&s.Look, c.Look)
	set(&s.Call, c.Call)
	set(&s.Floor, c.Floor)
	set(&s.Hidden, c.Hidden)
	set(&s.Door, c.Door)
	if c.Motion != nil {
		s.Motion = c.Motion.clone()
	}
	if c.Moment != nil {
		s.Moment = c.Moment.clone()
	}
	if c.Rep != nil {
		s.Rep = c.Rep.clone()
	}
	if c.Committed != nil {
		s.Committed = append([]string{}, *c.Committed...)
	}
	entries(&s.Men, c.Men)
	entries(&s.Spots, c.Spots)
	entries(&s.Members, c.Members)
}

func set[T any](to *T, from *T) {
	if from != nil {
		*to = *from
	}
}

func entries[V any](to *map[string]V, from map[string]*V) {
	if *to == nil {
		*to = map[string]V{}
	}
	for k, v := range from {
		if v == nil {
			delete(*to, k)
		} else {
			(*to)[k] = *v
		}
	}
}

// Empty reports whether a change changes nothing.
func (c Change) Empty() bool {
	return c.Title == nil && c.Book == nil && c.Ball == nil && c.Side == nil && c.Look == nil && c.Call == nil &&
		len(c.Men) == 0 && len(c.Spots) == 0 && c.Motion == nil && c.Moment == nil && c.Rep == nil && c.Floor == nil &&
		c.Hidden == nil && c.Committed == nil && c.Door == nil && len(c.Members) == 0
}

func ptr[T any](v T) *T { return &v }

// firstSpots lists the spots that a new session shows of a call: the half-line
// drill's three on three, without the linebacker, whom the coach can put on.
func firstSpots(c *call.Call) []string {
	var out []string
	for i := range c.Spots {
		if sp := &c.Spots[i]; sp.Stand != nil && sp.Half == call.This && sp.Role != play.Hook {
			out = append(out, sp.Label)
		}
	}
	return out
}

// heirs says which spot of a new call each spot on the board becomes: the one
// that plays the same part (the apex of one call is the apex of the next,
// whatever it is called there; a deep man in the middle is a safety), else the
// one of the same label. A spot that finds none goes off the board.
func heirs(s *State, b *book.Book, c *call.Call) map[string]string {
	part := func(sp *call.Spot) play.Target {
		if sp.Role == play.Deep {
			return play.Safety
		}
		return sp.Role
	}
	out, taken := map[string]string{}, map[string]bool{}
	match := func(label string, fits func(*call.Spot) bool) {
		for i := range c.Spots {
			sp := &c.Spots[i]
			if out[label] == "" && sp.Stand != nil && !taken[sp.Label] && fits(sp) {
				out[label], taken[sp.Label] = sp.Label, true
			}
		}
	}
	for _, label := range s.labels() {
		if old, ok := onCall(b, s.Call, label); ok && old.Stand != nil {
			match(label, func(sp *call.Spot) bool { return sp.Label == label && part(sp) == part(old) && sp.Half == old.Half })
		}
	}
	for _, label := range s.labels() {
		if old, ok := onCall(b, s.Call, label); ok && old.Stand != nil {
			match(label, func(sp *call.Spot) bool { return part(sp) == part(old) && sp.Half == old.Half })
		}
	}
	for _, label := range s.labels() {
		match(label, func(sp *call.Spot) bool { return sp.Label == label })
	}
	return out
}
