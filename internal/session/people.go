package session

import "slices"

// people handles who is in and who holds what.
func (d decider) people() (Change, *Refusal) {
	s, op := d.s, d.op
	switch op.Do {
	case "admit":
		m, ok := s.Members[op.Member]
		if !ok {
			return refuse(CodeUnknown, op.Member)
		}
		if m.In {
			return Change{}, nil
		}
		m.In = true
		return Change{Members: map[string]*Member{op.Member: &m}}, nil
	case "remove":
		m, ok := s.Members[op.Member]
		if !ok {
			return refuse(CodeUnknown, op.Member)
		}
		if m.Role == Coach {
			return refuse(CodeNotAllowed, op.Do)
		}
		c := Change{Members: map[string]*Member{op.Member: nil}}
		return d.freed(c, op.Member), nil
	case "hold":
		return d.hold(op.Spot, d.a.Member)
	case "letgo":
		if s.SpotOf(d.a.Member) == "" {
			return refuse(CodeNoSpot, "")
		}
		return d.freed(Change{}, d.a.Member), nil
	}
	// give
	if _, ok := s.Spots[op.Spot]; !ok {
		return refuse(CodeUnknown, op.Spot)
	}
	if op.Member == "" {
		if by := s.Spots[op.Spot].By; by != "" {
			return d.freed(Change{}, by), nil
		}
		return Change{}, nil
	}
	m, ok := s.Members[op.Member]
	switch {
	case !ok || m.Role != Player || !m.In:
		return refuse(CodeUnknown, op.Member)
	case s.Spots[op.Spot].By == op.Member:
		return Change{}, nil
	}
	c := d.freed(Change{}, op.Member)
	d.take(&c, op.Spot, op.Member, d.a.Other)
	return c, nil
}

func (d decider) hold(spot, member string) (Change, *Refusal) {
	sp, ok := d.s.Spots[spot]
	switch {
	case !ok:
		return refuse(CodeUnknown, spot)
	case sp.By == member:
		return Change{}, nil
	case sp.By != "":
		return refuse(CodeHeld, spot)
	}
	c := d.freed(Change{}, member)
	d.take(&c, spot, member, d.a.Number)
	return c, nil
}

// take gives a spot to a member. If his jersey is in the book's squad, his own
// speed and depth count.
func (d decider) take(c *Change, spot, member, number string) {
	sp := d.s.Spots[spot]
	sp.By = member
	sp.Man = usualMan(d.b, spot)
	if _, ok := squadMan(d.b, number); ok {
		sp.Man = number
	}
	if c.Spots == nil {
		c.Spots = map[string]*Spot{}
	}
	c.Spots[spot] = &sp
	d.uncommit(c, spot) // whoever held it had answered, not he
}

// freed frees what a member holds.
func (d decider) freed(c Change, member string) Change {
	own := d.s.SpotOf(member)
	if own == "" {
		return c
	}
	sp := d.s.Spots[own]
	sp.By = ""
	sp.Man = usualMan(d.b, own)
	if c.Spots == nil {
		c.Spots = map[string]*Spot{}
	}
	c.Spots[own] = &sp
	d.uncommit(&c, own)
	return c
}

// uncommit takes back that a spot's player has committed.
func (d decider) uncommit(c *Change, spot string) {
	now := d.s.Committed
	if c.Committed != nil {
		now = *c.Committed
	}
	if i := slices.Index(now, spot); i >= 0 {
		left := slices.Delete(slices.Clone(now), i, i+1)
		c.Committed = &left
	}
}

// Join is the change that a device's joining makes: the hub asks, not a member.
func Join(s *State, member, role string) (Change, *Refusal) {
	if len(s.Members) >= MaxMembers {
		return refuse(CodeTooMany, "")
	}
	in := role != Player || s.Door == DoorOpen
	return Change{Members: map[string]*Member{member: {Role: role, In: in}}}, nil
}
