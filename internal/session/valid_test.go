package session_test

import (
	"fmt"
	"reflect"
	"slices"

	"halfline/internal/book"
	"halfline/internal/look"
	"halfline/internal/session"
)

// valid lists what may never be true of a state.
func valid(s *session.State, b *book.Book) []string {
	var wrong []string
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	ball := s.Ball.FieldBall()
	inside := func(what string, at session.Place) {
		if !ball.Inside(at.Offset()) {
			bad("%s stands off the field, at %v", what, at)
		}
	}
	if ball.Validate() != nil {
		bad("ball %v", s.Ball)
	}
	if _, ok := b.Look(s.Look); !ok {
		bad("look %q", s.Look)
	}
	cl, ok := b.Call(s.Call)
	if !ok {
		bad("call %q", s.Call)
		return wrong
	}
	for tag, m := range s.Men {
		inside(tag, m.At)
		if m.At[1] > 0 {
			bad("%s of the offense stands beyond the line", tag)
		}
	}
	holds := map[string]string{}
	for label, sp := range s.Spots {
		inside(label, sp.At)
		if cs, ok := cl.Spot(label); !ok || cs.Stand == nil {
			bad("%s is no spot of %s", label, s.Call)
		}
		if _, both := s.Men[label]; both {
			bad("%s is on both sides", label)
		}
		if sp.By == "" {
			continue
		}
		if holds[sp.By] != "" {
			bad("%s holds %s and %s", sp.By, holds[sp.By], label)
		}
		holds[sp.By] = label
		if m := s.Members[sp.By]; m.Role != session.Player || !m.In {
			bad("%s is held by %q, a %q", label, sp.By, m.Role)
		}
	}
	for _, label := range s.Committed {
		if s.Spots[label].By == "" {
			bad("%s has committed, but nobody holds it", label)
		}
	}
	if !slices.IsSorted(s.Committed) || len(slices.Compact(slices.Clone(s.Committed))) != len(s.Committed) || s.Committed == nil {
		bad("committed %v", s.Committed)
	}
	if len(s.Committed) > 0 && !s.Hidden {
		bad("committed %v while nothing is hidden", s.Committed)
	}
	if m := s.Motion; m.Who != "" {
		inside("motion from", m.From)
		inside("motion to", m.To)
		for _, p := range m.Via {
			inside("motion by", p)
		}
		if m.Kind != "" && !slices.Contains(look.MotionKinds, look.MotionKind(m.Kind)) {
			bad("motion %q", m.Kind)
		}
		if man, ok := s.Men[m.Who]; !ok || man.At != m.To {
			bad("%s in motion to %v stands at %v", m.Who, m.To, man.At)
		}
	} else if !reflect.DeepEqual(m, session.Motion{}) {
		bad("motion of nobody %v", m)
	}
	if len(s.Members) > session.MaxMembers {
		bad("%d members", len(s.Members))
	}
	return append(append(wrong, validMoment(s, b)...), validRep(s, b)...)
}

func validRep(s *session.State, b *book.Book) []string {
	r := s.Rep
	if r.Play == "" {
		if r.Errors == nil || len(r.Errors) > 0 || r.Lane != 0 || r.Since != 0 || r.Until != 0 || r.Speed != "" {
			return []string{fmt.Sprintf("a rep of no play: %v", r)}
		}
		return nil
	}
	var wrong []string
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if s.Moment.Play != "" {
		bad("a rep and a moment")
	}
	if r.From > r.At || r.At > r.Until || r.Since < 0 {
		bad("a rep at %d of %d to %d, since %d", r.At, r.From, r.Until, r.Since)
	}
	if !slices.Contains([]string{session.Walk, session.Half, session.Full}, r.Speed) {
		bad("speed %q", r.Speed)
	}
	for label := range r.Errors {
		if _, on := s.Spots[label]; !on {
			bad("%s breaks a rule, but is not on the board", label)
		}
	}
	if _, err := s.Track(b); err != nil {
		bad("the rep cannot be run again: %v", err)
	}
	return wrong
}

func validMoment(s *session.State, b *book.Book) []string {
	var wrong []string
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	m := s.Moment
	if m.Play == "" {
		if m.Carrier != "" || len(m.Places)+len(m.Blocks)+len(m.Late)+len(m.Makes) > 0 {
			bad("a moment of no play: %v", m)
		}
		return wrong
	}
	if _, ok := b.Play(m.Play); !ok {
		bad("play %q", m.Play)
	}
	man := func(tag string) bool { _, ok := s.Men[tag]; return ok }
	spot := func(label string) bool { _, ok := s.Spots[label]; return ok }
	if !man(m.Carrier) {
		bad("%q carries", m.Carrier)
	}
	for who, at := range m.Places {
		if !man(who) && !spot(who) {
			bad("%s is in the moment, but not on the board", who)
		}
		if !s.Ball.FieldBall().Inside(at.Offset()) {
			bad("%s stands off the field in the moment, at %v", who, at)
		}
	}
	by := map[string]bool{}
	for _, bl := range m.Blocks {
		if !man(bl.By) || !spot(bl.On) || bl.By == m.Carrier || by[bl.By] {
			bad("block %v", bl)
		}
		by[bl.By] = true
	}
	for _, label := range m.Late {
		if !spot(label) {
			bad("%s is late, but not on the board", label)
		}
	}
	for label := range m.Makes {
		if !spot(label) {
			bad("%s is on his way, but not on the board", label)
		}
	}
	return wrong
}
