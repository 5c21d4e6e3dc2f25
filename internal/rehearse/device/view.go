package device

import (
	"fmt"
	"maps"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// View is what a device knows.
type View struct {
	Welcome  wire.Welcome // the last one
	Welcomes int
	State    *session.State // nil while waiting to be let in
	Seq      uint64
	Chain    string
	Facts    []wire.Fact // all that came on this connection
	Verdicts *wire.Verdicts
	Roster   *wire.Roster
	Drags    map[string]wire.Drag // the last of each man
	Points   []wire.Point
	Acks     map[uint64]wire.Ack
	Refused  map[uint64]wire.Refused // n 0: the last frame that could not be read
	Beats    int

	Bye  wire.Bye
	Over bool // the connection has ended
	Code int  // its close code, 0 without one
}

// apply takes a frame in, its parts in the order of W26.
func (v *View) apply(f wire.Down) error {
	if f.Welcome != nil {
		v.Welcome = *f.Welcome
		v.Welcomes++
		switch {
		case f.Welcome.State != nil:
			s := f.Welcome.State.Clone()
			v.State, v.Seq, v.Chain = &s, f.Welcome.Seq, f.Welcome.Chain
		case v.State != nil && (f.Welcome.Seq != v.Seq || f.Welcome.Chain != v.Chain):
			return fmt.Errorf("W19: welcome goes on from fact %d %s, the device has %d %s", f.Welcome.Seq, f.Welcome.Chain, v.Seq, v.Chain)
		}
		v.Verdicts, v.Roster = nil, nil // W21
		v.Drags = map[string]wire.Drag{}
	}
	for _, fact := range f.Facts {
		switch {
		case v.State == nil:
			return fmt.Errorf("fact %d before there is a state", fact.Seq)
		case fact.Seq <= v.Seq:
			continue
		case fact.Seq != v.Seq+1:
			return fmt.Errorf("W3: fact %d after %d", fact.Seq, v.Seq)
		}
		v.State.Apply(fact.Set)
		v.Seq, v.Chain = fact.Seq, fact.Chain
		v.Facts = append(v.Facts, fact)
	}
	for _, d := range f.Drags {
		v.Drags[d.Who] = d
	}
	if f.Verdicts != nil {
		v.Verdicts = f.Verdicts
	}
	if f.Roster != nil {
		v.Roster = f.Roster
	}
	v.Points = append(v.Points, f.Points...)
	for _, a := range f.Acks {
		v.Acks[a.N] = a
	}
	for _, r := range f.Refused {
		v.Refused[r.N] = r
	}
	if f.Beat != nil {
		v.Beats++
	}
	if f.Bye != nil {
		v.Bye = *f.Bye
	}
	return nil
}

func (v *View) clone() View {
	c := *v
	if v.State != nil {
		s := v.State.Clone()
		c.State = &s
	}
	c.Drags, c.Acks, c.Refused = maps.Clone(v.Drags), maps.Clone(v.Acks), maps.Clone(v.Refused)
	return c
}

// Person finds somebody in the roster.
func (v *View) Person(member string) (wire.Person, bool) {
	if v.Roster != nil {
		for _, p := range v.Roster.People {
			if p.Member == member {
				return p, true
			}
		}
	}
	return wire.Person{}, false
}
