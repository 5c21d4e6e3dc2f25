package hub

import (
	"halfline/internal/session"
	"halfline/internal/wire"
)

// rosterTold reports whether a change alters what the roster tells: who is a
// member, who holds what, whether the code is shown.
func (o *owner) rosterTold(c session.Change) bool {
	for label, sp := range c.Spots {
		if sp == nil && o.shown.Spots[label].By != "" || sp != nil && sp.By != o.shown.Spots[label].By {
			return true
		}
	}
	return len(c.Members) > 0 || c.Door != nil
}

const rosterKey = "roster"

// sendRoster tells everybody who is here: one who waits learns of himself only.
func (o *owner) sendRoster() {
	all := o.everybody()
	staff := wire.Roster{People: all}
	if o.shown.Door != session.DoorClosed {
		staff.Code, staff.Link = o.door.code, o.door.link
	}
	var in wire.Roster // only staff needs to know who waits
	for _, p := range all {
		if p.In {
			in.People = append(in.People, p)
		}
	}
	forStaff, forPlayers := encoded(wire.Down{Roster: &staff}), encoded(wire.Down{Roster: &in})
	o.each(func(l *Link) {
		switch m := o.shown.Members[l.member]; {
		case !m.In:
			own := wire.Roster{}
			for _, p := range all {
				if p.Member == l.member {
					own.People = append(own.People, p)
				}
			}
			l.send(wire.Down{Roster: &own}, rosterKey)
		case m.Role == session.Player:
			l.sendRaw(forPlayers, rosterKey)
		default:
			l.sendRaw(forStaff, rosterKey)
		}
	})
}

// everybody lists the members in the order of their ids.
func (o *owner) everybody() []wire.Person {
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
	return all
}
