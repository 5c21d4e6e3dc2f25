package hub

import (
	"cmp"
	"hash/fnv"
	"maps"
	"slices"
	"strings"

	"halfline/internal/judge"
	"halfline/internal/session"
	"halfline/internal/wire"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// each visits links in a fixed order; f may take links off.
func (o *owner) each(f func(*Link)) {
	ls := slices.Collect(maps.Keys(o.links))
	slices.SortFunc(ls, func(a, b *Link) int {
		return cmp.Or(strings.Compare(a.member, b.member), cmp.Compare(a.client, b.client))
	})
	for _, l := range ls {
		f(l)
	}
}

// judge runs the engine once on what is shown, men under a finger included.
func (o *owner) judge() {
	if o.book == nil {
		return
	}
	live := map[string]session.Place{}
	for who, d := range o.drags {
		live[who] = d.at
	}
	o.board = o.shown.Board(o.book, live)
	o.result = judge.Run(&o.board)
	o.frames = map[session.Sight]seen{}
}

// seen is what members of one sight get of the present verdicts.
type seen struct {
	v   *wire.Verdicts
	sum uint64
}

// verdicts gives what one sight may see, made once per judgement.
func (o *owner) verdicts(s session.Sight) seen {
	if v, ok := o.frames[s]; ok {
		return v
	}
	v := &wire.Verdicts{Live: len(o.drags) > 0, Look: wire.LookOf(&o.result), Spots: map[string]wire.SpotAnswer{}, Signs: map[string]string{},
		Lanes: []wire.LaneAnswer{}, Faults: []wire.FaultAnswer{}}
	for i := range o.result.Spots {
		sp := &o.result.Spots[i]
		if s.All || s.Own == sp.Label {
			v.Spots[sp.Label] = wire.SpotOf(&o.board, &o.result, i)
		}
		if s.All || s.Others {
			v.Signs[sp.Label] = string(sp.Keeps)
		}
	}
	if s.All || s.Others {
		v.Lanes, v.Faults, v.Sound = wire.LanesOf(&o.result), wire.FaultsOf(&o.result), o.result.Sound
	}
	out := seen{v: v}
	if b, err := wire.EncodeBody(v); err == nil {
		h := fnv.New64a()
		h.Write(b)
		out.sum = h.Sum64()
	}
	v.On = o.mark
	o.frames[s] = out
	return out
}

const verdictsKey = "verdicts"

// fresh gives the verdicts for a link, or nil if it has the same already.
func (o *owner) fresh(l *Link) *wire.Verdicts {
	if o.book == nil || !l.let {
		return nil
	}
	s := o.verdicts(o.shown.SightOf(l.member))
	if l.lastSeen[verdictsKey] == s.sum {
		return nil
	}
	l.lastSeen[verdictsKey] = s.sum
	return s.v
}

func (o *owner) sendVerdicts(l *Link) {
	if v := o.fresh(l); v != nil {
		l.send(wire.Down{Verdicts: v}, verdictsKey)
	}
}

// publish sends settled facts to everybody who is in, with what follows from
// them in the same frame.
func (o *owner) publish(facts []wire.Fact) {
	for _, f := range facts {
		o.settled(f)
	}
	o.judge()
	people := false
	for _, f := range facts {
		people = people || len(f.Set.Members) > 0 || len(f.Set.Spots) > 0 || f.Set.Door != nil
	}
	o.each(func(l *Link) {
		if !l.let {
			return
		}
		rest := facts
		for len(rest) > 0 {
			n := fits(rest)
			d := wire.Down{Facts: rest[:n]}
			rest = rest[n:]
			if len(rest) == 0 {
				d.Verdicts = o.fresh(l)
			}
			l.send(d, "")
		}
	})
	o.admitted()
	if people {
		o.sendRoster()
	}
}

// settled reacts to one durable fact: a book named, members taken out.
func (o *owner) settled(f wire.Fact) {
	if f.Set.Book != nil {
		if b, err := o.books(*f.Set.Book); err == nil {
			o.book = b
		} else {
			o.log.Error("book of this session is not there", "err", err)
		}
	}
	for id, m := range f.Set.Members {
		if m == nil {
			delete(o.people, id)
			o.each(func(l *Link) {
				if l.member == id {
					o.drop(l, wire.CloseRemoved)
				}
			})
			o.forgetPerson(id)
		}
	}
}

// admitted welcomes devices that were waiting and are in now.
func (o *owner) admitted() {
	o.each(func(l *Link) {
		if !l.let && o.shown.Members[l.member].In {
			o.welcome(l, nil)
		}
	})
}

// fanOutDrag shows a drag to all others, and the verdicts that follow from it
// in the same frame to whom they concern.
func (o *owner) fanOutDrag(from *Link, d wire.Drag) {
	o.each(func(l *Link) {
		if !l.let {
			return
		}
		down := wire.Down{Verdicts: o.fresh(l)}
		key := verdictsKey
		if l != from {
			down.Drags = []wire.Drag{d}
			key = "drag " + d.Who
		}
		if down.Verdicts != nil || down.Drags != nil {
			l.send(down, key)
		}
	})
}

// sendRoster tells everybody who is here: one who waits learns of himself only.
func (o *owner) sendRoster() {
	here := map[string]bool{}
	for l := range o.links {
		here[l.member] = true
	}
	var all []wire.Person
	for _, id := range sortedKeys(o.shown.Members) {
		m := o.shown.Members[id]
		p := o.people[id]
		all = append(all, wire.Person{Member: id, Name: p.Name, Number: p.Number, Role: m.Role, In: m.In, Here: here[id], Spot: o.shown.SpotOf(id)})
	}
	o.each(func(l *Link) {
		r := wire.Roster{People: all}
		switch m := o.shown.Members[l.member]; {
		case !m.In:
			r.People = nil
			for _, p := range all {
				if p.Member == l.member {
					r.People = []wire.Person{p}
				}
			}
		case m.Role != session.Player && o.shown.Door != session.DoorClosed:
			r.Code, r.Link = o.door.code, o.door.link
		case m.Role == session.Player:
			r.People = inOnly(all, l.member)
		}
		l.send(wire.Down{Roster: &r}, "roster")
	})
}

// inOnly leaves out who waits: only staff needs to know.
func inOnly(all []wire.Person, own string) []wire.Person {
	var out []wire.Person
	for _, p := range all {
		if p.In || p.Member == own {
			out = append(out, p)
		}
	}
	return out
}
