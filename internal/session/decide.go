package session

import (
	"slices"
	"unicode"

	"halfline/internal/book"
	"halfline/internal/field"
)

// Actor is who wants something done, and when. Number is his jersey, if he gave
// one; Other is the jersey of the member whom the operation is about.
type Actor struct {
	Member string
	Number string
	Other  string
	Now    int64 // the hub's time, ms: what a rep rolls by
}

// allowed is the role table: which role may send which operation at all. What
// is not here is refused.
var allowed = map[string][]string{
	Coach: {"title", "look", "call", "side", "ball", "board", "place", "line", "spot", "lineup", "motion", "freeze", "thaw",
		"snap", "roll", "stop", "set", "late", "blocks", "floor", "hide", "door", "admit", "remove", "give"},
	Player: {"place", "hold", "letgo", "commit"},
	Wall:   {},
}

// Ops lists every operation in a fixed order.
var Ops = []string{"title", "look", "call", "side", "ball", "place", "line", "spot", "lineup", "motion", "freeze", "thaw",
	"snap", "roll", "stop", "set", "late", "blocks", "floor", "hide", "commit", "door", "admit", "remove", "hold", "letgo", "give", "board"}

// Allowed reports whether a role may send an operation.
func Allowed(role, do string) bool { return slices.Contains(allowed[role], do) }

func refuse(code, detail string) (Change, *Refusal) {
	return Change{}, &Refusal{Code: code, Detail: detail}
}

// Decide says what an operation makes of the state, or why it may not be done.
// It changes nothing. A change may be empty: then it was so already.
func Decide(s *State, b *book.Book, a Actor, op Op) (Change, *Refusal) {
	m, ok := s.Members[a.Member]
	switch {
	case !slices.Contains(Ops, op.Do):
		return refuse(CodeUnsupported, op.Do)
	case !ok:
		return refuse(CodeNotAllowed, op.Do)
	case !m.In:
		return refuse(CodeWaiting, "")
	case !Allowed(m.Role, op.Do):
		return refuse(CodeNotAllowed, op.Do)
	}
	d := decider{s: s, b: b, a: a, role: m.Role, op: op}
	c, refused := d.decide()
	return d.endRep(c), refused
}

func (d decider) decide() (Change, *Refusal) {
	switch d.op.Do {
	case "title":
		return d.title()
	case "look", "call", "side", "ball":
		return d.picture()
	case "board":
		return d.board()
	case "place":
		return d.place()
	case "line":
		return d.line()
	case "spot":
		return d.spot()
	case "lineup":
		return d.lineup()
	case "motion":
		return d.motion()
	case "freeze", "thaw", "late", "blocks":
		return d.moment()
	case "snap", "roll", "stop", "set":
		return d.rep()
	case "floor", "hide", "commit", "door":
		return d.manners()
	}
	return d.people()
}

type decider struct {
	s    *State
	b    *book.Book
	a    Actor
	role string
	op   Op
}

func (d decider) title() (Change, *Refusal) {
	if !plain(d.op.Text, maxTitle) {
		return refuse(CodeBadValue, "text")
	}
	return Change{Title: ptr(d.op.Text)}, nil
}

// plain accepts short text without control or direction marks.
func plain(t string, most int) bool {
	n := 0
	for _, r := range t {
		n++
		if unicode.Is(unicode.C, r) || r == unicode.ReplacementChar {
			return false
		}
	}
	return n > 0 && n <= most
}

// PlainName reports whether a short name may be shown: 1 to 12 plain characters.
func PlainName(t string) bool { return plain(t, 12) }

func (d decider) place() (Change, *Refusal) {
	op, s := d.op, d.s
	if op.At == nil {
		return refuse(CodeBadValue, "at")
	}
	_, isMan := s.Men[op.Who]
	sp, isSpot := s.Spots[op.Who]
	if !isMan && !isSpot {
		return refuse(CodeUnknown, op.Who)
	}
	if r := d.mayMove(op.Who, isSpot, sp); r != nil {
		return Change{}, r
	}
	if !s.Ball.FieldBall().Inside(op.At.Offset()) {
		return refuse(CodeOffField, op.Who)
	}
	if s.Moment.Play != "" {
		m := s.Moment.clone()
		m.Places[op.Who] = *op.At
		delete(m.Makes, op.Who)
		return Change{Moment: &m}, nil
	}
	if isSpot {
		sp.At = *op.At
		return Change{Spots: map[string]*Spot{op.Who: &sp}}, nil
	}
	man := s.Men[op.Who]
	if op.At[1] > 0 {
		return refuse(CodeIllegalMove, op.Who+" beyond the line")
	}
	man.At = *op.At
	c := Change{Men: map[string]*Man{op.Who: &man}}
	if s.Motion.Who == op.Who {
		c.Motion = &Motion{}
	}
	return d.fresh(c), nil
}

// mayMove checks the floor.
func (d decider) mayMove(who string, isSpot bool, sp Spot) *Refusal {
	s := d.s
	switch {
	case d.role == Coach:
		return nil
	case s.Floor == FloorCoach, s.Rep.Play != "":
		return &Refusal{Code: CodeFloor}
	case s.Floor == FloorOwn && (!isSpot || sp.By != d.a.Member):
		return &Refusal{Code: CodeNotAllowed, Detail: who}
	case s.Hidden && isSpot && slices.Contains(s.Committed, who):
		return &Refusal{Code: CodeCommitted}
	}
	return nil
}

// MayDrag says whether a member may move a man now; the same rule as for place.
func MayDrag(s *State, b *book.Book, a Actor, who string, at Place) *Refusal {
	_, r := Decide(s, b, a, Op{Do: "place", Who: who, At: &at})
	return r
}

// fresh clears who has committed: the picture they answered is gone.
func (d decider) fresh(c Change) Change {
	if len(d.s.Committed) > 0 {
		c.Committed = &[]string{}
	}
	return c
}

func (d decider) line() (Change, *Refusal) {
	m, ok := d.s.Men[d.op.Who]
	if !ok {
		return refuse(CodeUnknown, d.op.Who)
	}
	m.Line = d.op.On
	return d.fresh(Change{Men: map[string]*Man{d.op.Who: &m}}), nil
}

// spot puts a spot of the call on the board, where its rule wants it, or takes
// it off; who held it holds nothing then.
func (d decider) spot() (Change, *Refusal) {
	s, op := d.s, d.op
	if s.Moment.Play != "" {
		return refuse(CodeFrozen, "")
	}
	_, on := s.Spots[op.Spot]
	cs, known := onCall(d.b, s.Call, op.Spot)
	switch {
	case !known && !on, known && cs.Stand == nil:
		return refuse(CodeUnknown, op.Spot)
	case on == op.On:
		return Change{}, nil
	case !op.On:
		return d.fresh(Change{Spots: map[string]*Spot{op.Spot: nil}}), nil
	}
	next := s.Clone()
	next.Spots[op.Spot] = begun(s, d.b, op.Spot)
	return d.fresh(Change{Spots: linedUp(&next, d.b, op.Spot)}), nil
}

func (d decider) lineup() (Change, *Refusal) {
	if d.s.Moment.Play != "" {
		return refuse(CodeFrozen, "")
	}
	if d.op.Who != "" {
		if _, ok := d.s.Spots[d.op.Who]; !ok {
			return refuse(CodeUnknown, d.op.Who)
		}
	}
	return Change{Spots: linedUp(d.s, d.b, d.op.Who)}, nil
}

func (d decider) manners() (Change, *Refusal) {
	s, op := d.s, d.op
	switch op.Do {
	case "floor":
		if !slices.Contains([]string{FloorCoach, FloorOwn, FloorAll}, op.Mode) {
			return refuse(CodeBadValue, "mode")
		}
		return Change{Floor: ptr(op.Mode)}, nil
	case "hide":
		return d.fresh(Change{Hidden: ptr(op.On)}), nil
	case "door":
		if !slices.Contains([]string{DoorOpen, DoorKnock, DoorClosed}, op.Mode) {
			return refuse(CodeBadValue, "mode")
		}
		return Change{Door: ptr(op.Mode)}, nil
	}
	own := s.SpotOf(d.a.Member)
	switch {
	case own == "":
		return refuse(CodeNoSpot, "")
	case !s.Hidden || slices.Contains(s.Committed, own):
		return Change{}, nil
	}
	c := append(slices.Clone(s.Committed), own)
	slices.Sort(c)
	return Change{Committed: &c}, nil
}

// keepIn is how far from the sideline men are put who would stand off the
// field after the ball has moved.
const keepIn = field.Yard

// PlainTitle reports whether a session may be called so.
func PlainTitle(t string) bool { return plain(t, maxTitle) }
