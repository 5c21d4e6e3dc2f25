package session

import (
	"halfline/internal/assign"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

// picture handles what changes the whole picture: look, call, side, ball.
func (d decider) picture() (Change, *Refusal) {
	s, op := d.s, d.op
	switch op.Do {
	case "look":
		l, ok := d.b.Look(op.Look)
		if !ok {
			return refuse(CodeUnknown, op.Look)
		}
		return d.fresh(changeLook(s, d.b, l)), nil
	case "call":
		c, ok := d.b.Call(op.Call)
		if !ok {
			return refuse(CodeUnknown, op.Call)
		}
		return d.fresh(changeCall(s, d.b, c)), nil
	case "side":
		side, err := field.ParseSide(op.Side)
		if err != nil {
			return refuse(CodeBadValue, "side")
		}
		if side == s.FieldSide() {
			return Change{}, nil
		}
		return d.fresh(mirrored(s, side)), nil
	}
	if op.Ball == nil || op.Ball.FieldBall().Validate() != nil {
		return refuse(CodeBadValue, "ball")
	}
	return d.fresh(ballTo(s, *op.Ball)), nil
}

// changeLook puts up a look: its men, its ball, its side. Spots that players
// hold stay where they are (it is their job to adjust), on the side the look
// wants; spots that nobody holds go where their rule wants them.
func changeLook(s *State, b *book.Book, l *book.Look) Change {
	ball := Ball{Rules: string(l.Shown.Ball.Rules), Hash: string(l.Shown.Ball.Hash), Yard: l.Shown.Ball.Yard}
	c := Change{Look: ptr(l.ID), Ball: &ball, Side: ptr(l.Side.String()), Motion: &Motion{}, Moment: &Moment{}, Men: map[string]*Man{}}
	for tag := range s.Men {
		c.Men[tag] = nil
	}
	for _, m := range l.Shown.Men {
		c.Men[m.Tag] = &Man{At: PlaceOf(m.At), Line: m.Line}
	}
	next := s.Clone()
	next.Apply(c)
	flip := l.Side != s.FieldSide()
	c.Spots = map[string]*Spot{}
	for label, sp := range s.Spots {
		at := sp.At.Offset()
		if flip {
			at = field.Left.FlipOffset(at)
		}
		sp.At = PlaceOf(clampIn(ball.FieldBall(), at))
		c.Spots[label] = &sp
		next.Spots[label] = sp
	}
	for label, sp := range linedUp(&next, b, "") {
		c.Spots[label] = sp
	}
	return c
}

// changeCall calls a coverage: its spots are on the board, those that nobody
// holds where their rule wants them.
func changeCall(s *State, b *book.Book, cl *call.Call) Change {
	c := Change{Call: ptr(cl.ID), Spots: map[string]*Spot{}}
	next := s.Clone()
	next.Call = cl.ID
	next.Spots = map[string]Spot{}
	if len(s.Spots) == 0 {
		for _, label := range firstSpots(cl) {
			next.Spots[label] = begun(s, b, label)
		}
	}
	became := heirs(s, b, cl)
	for label, sp := range s.Spots {
		c.Spots[label] = nil // unless something takes its place below
		to := became[label]
		if to == "" {
			continue
		}
		if to != label && sp.By == "" {
			sp.Man = usualMan(b, to)
		}
		next.Spots[to] = sp
	}
	for label, sp := range next.Spots {
		if was, ok := s.Spots[label]; ok && was == sp {
			delete(c.Spots, label)
		} else {
			c.Spots[label] = &sp
		}
	}
	for label, sp := range linedUp(&next, b, "") {
		c.Spots[label] = sp
	}
	if s.Moment.Play != "" {
		// A frozen moment stays as it is: only what it is judged by changes,
		// and who is in it.
		m := s.Moment.without(func(label string) bool { sp, ok := c.Spots[label]; return ok && sp == nil })
		for label := range c.Spots {
			if _, ok := m.Places[label]; !ok && c.Spots[label] != nil {
				m.Places[label] = c.Spots[label].At
			}
		}
		c.Moment = &m
	}
	return c
}

// begun is a spot that comes on the board. Where its rule finds nothing to line
// up off it stands at the edge of the box, five deep.
func begun(s *State, b *book.Book, label string) Spot {
	at := s.Ball.FieldBall().Clamp(s.FieldSide().FlipOffset(field.At(4, 5)))
	return Spot{At: PlaceOf(at), Man: usualMan(b, label)}
}

// linedUp gives spots at the place their rule likes best: the named one, or all
// that nobody holds. Spots without a rule here stay.
func linedUp(s *State, b *book.Book, who string) map[string]*Spot {
	out := map[string]*Spot{}
	l := s.Shown()
	for label, sp := range s.Spots {
		if who != "" && label != who || who == "" && sp.By != "" {
			continue
		}
		cs, ok := onCall(b, s.Call, label)
		if !ok || cs.Stand == nil {
			continue
		}
		var own *call.Depth
		if p, ok := squadMan(b, sp.Man); ok && p.Spot == label {
			own = p.Depth
		}
		d := assign.For(cs, l, s.FieldSide(), own)
		if d.Placed {
			sp.At = PlaceOf(s.Ball.FieldBall().Clamp(d.Half.FlipOffset(d.Best)))
		}
		out[label] = &sp
	}
	return out
}

// mirrored turns the whole picture to the other side of the field: men, spots
// and hash, so that inside and outside mean the same as before.
func mirrored(s *State, side field.Side) Change {
	ball := s.Ball
	ball.Hash = string(field.Hash(s.Ball.Hash).Mirror())
	c := Change{Side: ptr(side.String()), Ball: &ball, Moment: &Moment{}, Men: map[string]*Man{}, Spots: map[string]*Spot{}}
	flip := func(p Place) Place { return PlaceOf(field.Left.FlipOffset(p.Offset())) }
	for tag, m := range s.Men {
		m.At = flip(m.At)
		c.Men[tag] = &m
	}
	for label, sp := range s.Spots {
		sp.At = flip(sp.At)
		c.Spots[label] = &sp
	}
	if s.Motion.Who != "" {
		m := s.Motion
		m.From, m.To, m.Via = flip(m.From), flip(m.To), each(m.Via, flip)
		c.Motion = &m
	}
	return c
}

// ballTo puts the ball on another hash or yard line. Men keep their distance
// from it; who would stand off the field is put a yard inside the line.
func ballTo(s *State, ball Ball) Change {
	c := Change{Ball: &ball, Moment: &Moment{}, Men: map[string]*Man{}, Spots: map[string]*Spot{}}
	fb := ball.FieldBall()
	if m := s.Motion; m.Who != "" {
		keep := func(p Place) Place { return PlaceOf(clampIn(fb, p.Offset())) }
		m.From, m.To, m.Via = keep(m.From), keep(m.To), each(m.Via, keep)
		c.Motion = &m
	}
	for tag, m := range s.Men {
		if at := clampIn(fb, m.At.Offset()); at != m.At.Offset() {
			m.At = PlaceOf(at)
			c.Men[tag] = &m
		}
	}
	for label, sp := range s.Spots {
		if at := clampIn(fb, sp.At.Offset()); at != sp.At.Offset() {
			sp.At = PlaceOf(at)
			c.Spots[label] = &sp
		}
	}
	return c
}

func clampIn(b field.Ball, o field.Offset) field.Offset {
	if b.Inside(o) {
		return o
	}
	o = b.Clamp(o)
	o.X = min(max(o.X, -b.Sideline(field.Left)+keepIn), b.Sideline(field.Right)-keepIn)
	return o
}

func withMan(l look.Look, tag string, at field.Offset, line bool) look.Look {
	out := l.With(tag, at)
	for i := range out.Men {
		if out.Men[i].Tag == tag {
			out.Men[i].Line = line
		}
	}
	return out
}
