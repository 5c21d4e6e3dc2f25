package session

import (
	"slices"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/look"
)

// FieldBall is the ball in the engine's terms.
func (b Ball) FieldBall() field.Ball {
	return field.Ball{Rules: field.Rules(b.Rules), Hash: field.Hash(b.Hash), Yard: b.Yard}
}

// FieldSide is the side under study.
func (s *State) FieldSide() field.Side {
	if s.Side == field.Left.String() {
		return field.Left
	}
	return field.Right
}

// Shown is the offense before the snap.
func (s *State) Shown() look.Look {
	men := make([]look.Man, 0, len(s.Men))
	for tag, m := range s.Men {
		men = append(men, look.Man{Tag: tag, At: m.At.Offset(), Line: m.Line})
	}
	return look.New(s.Ball.FieldBall(), men)
}

// Board is what the engine judges: the state, with the men who are under a
// finger now where they are dragged.
func (s *State) Board(b *book.Book, drags map[string]Place) judge.Board {
	frozen := s.Moment.Play != ""
	l := s.Shown()
	out := judge.Board{Ball: l.Ball, Side: s.FieldSide(), Menu: b.MenuPlays(s.menu(b)), Model: b.Model, Carry: b.Athletes.Carry()}
	out.Call, _ = b.Call(s.Call)
	if !frozen {
		for i := range l.Men {
			if at, ok := drags[l.Men[i].Tag]; ok {
				l.Men[i].At = at.Offset()
			}
		}
	}
	if _, dragged := drags[s.Motion.Who]; s.Motion.Who != "" && !dragged {
		before := withMan(l, s.Motion.Who, s.Motion.From.Offset(), s.Motion.Line)
		t := before.Timeline(s.Motion.motion(before))
		out.Motion = &t
	}
	for _, m := range l.Men {
		jm := judge.Man{Man: m, Athlete: b.Offense(l, m)}
		if frozen {
			jm.At = s.at(m.Tag, m.At, drags)
		}
		out.Men = append(out.Men, jm)
	}
	for _, label := range s.labels() {
		sp := s.Spots[label]
		js := judge.Spot{Label: label, At: sp.At.Offset(), Athlete: b.Athletes.ByKind["front"]}
		if out.Call != nil {
			if cs, ok := out.Call.Spot(label); ok {
				js.Athlete = b.Defense(cs)
			}
		}
		if p, ok := squadMan(b, sp.Man); ok {
			if p.Athlete != nil {
				js.Athlete = *p.Athlete
			}
			if p.Depth != nil && p.Spot == label {
				js.Depth = p.Depth
			}
		}
		if frozen {
			js.At = s.at(label, js.At, drags)
		} else if at, ok := drags[label]; ok {
			js.At = at.Offset()
		}
		out.Spots = append(out.Spots, js)
	}
	if frozen {
		out.Before = &l
		out.Play, _ = b.Play(s.Moment.Play)
		out.Moment = &judge.Moment{Carrier: s.Moment.Carrier, Late: s.Moment.Late, Makes: map[string]judge.Way{}}
		for who, w := range s.Moment.Makes {
			if _, dragged := drags[who]; !dragged {
				out.Moment.Makes[who] = judge.Way{Lane: w.Lane, Going: w.Going.Offset().Vec()}
			}
		}
		for _, bl := range s.Moment.Blocks {
			out.Moment.Blocks = append(out.Moment.Blocks, judge.Block{By: bl.By, On: bl.On})
		}
	}
	return out
}

func (s *State) at(who string, before field.Offset, drags map[string]Place) field.Offset {
	if at, ok := drags[who]; ok {
		return at.Offset()
	}
	if at, ok := s.Moment.Places[who]; ok {
		return at.Offset()
	}
	return before
}

func (s *State) labels() []string {
	out := make([]string, 0, len(s.Spots))
	for l := range s.Spots {
		out = append(out, l)
	}
	slices.Sort(out)
	return out
}

func (s *State) menu(b *book.Book) []string {
	if l, ok := b.Look(s.Look); ok {
		return l.Menu
	}
	return nil
}

func squadMan(b *book.Book, number string) (*book.Player, bool) {
	for i := range b.Squad {
		if b.Squad[i].Number == number && number != "" {
			return &b.Squad[i], true
		}
	}
	return nil, false
}

func usualMan(b *book.Book, label string) string {
	for _, p := range b.Squad {
		if p.Spot == label {
			return p.Number
		}
	}
	return ""
}

// SpotOf is the spot a member holds, or "".
func (s *State) SpotOf(member string) string {
	if member == "" {
		return ""
	}
	for l, sp := range s.Spots {
		if sp.By == member {
			return l
		}
	}
	return ""
}

// Sight is what of the answers a member may see.
type Sight struct {
	All bool   // every spot in full, lanes and faults
	Own string // his own spot in full; "" none
	// Others: the short signs of the others, lanes and faults.
	Others bool
}

// SightOf says what a member may see now: coaches everything; the wall
// everything unless answers are hidden; a player his own and the signs of the
// others, and while answers are hidden nothing before he commits and only his
// own after.
func (s *State) SightOf(member string) Sight {
	m, ok := s.Members[member]
	if !ok || !m.In {
		return Sight{}
	}
	switch m.Role {
	case Coach:
		return Sight{All: true, Others: true}
	case Wall:
		return Sight{All: !s.Hidden, Others: !s.Hidden}
	}
	own := s.SpotOf(member)
	if !s.Hidden {
		return Sight{Own: own, Others: true}
	}
	if own != "" && slices.Contains(s.Committed, own) {
		return Sight{Own: own}
	}
	return Sight{}
}

// onCall gives the call's rule for a spot.
func onCall(b *book.Book, id, label string) (*call.Spot, bool) {
	c, ok := b.Call(id)
	if !ok {
		return nil, false
	}
	return c.Spot(label)
}
