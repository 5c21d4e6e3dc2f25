package session

import (
	"maps"
	"slices"

	"halfline/internal/judge"
)

// moment handles a frozen moment of a run.
func (d decider) moment() (Change, *Refusal) {
	s, op := d.s, d.op
	switch op.Do {
	case "freeze":
		return d.freeze()
	case "thaw":
		if s.Moment.Play == "" {
			return Change{}, nil
		}
		return Change{Moment: &Moment{}}, nil
	}
	if s.Moment.Play == "" {
		return refuse(CodeNoMoment, "")
	}
	m := s.Moment.clone()
	if op.Do == "late" {
		if _, ok := s.Spots[op.Who]; !ok {
			return refuse(CodeUnknown, op.Who)
		}
		m.Late = slices.DeleteFunc(m.Late, func(l string) bool { return l == op.Who })
		if op.On {
			m.Late = append(m.Late, op.Who)
			slices.Sort(m.Late)
		}
		return Change{Moment: &m}, nil
	}
	if len(op.Blocks) > 11 {
		return refuse(CodeBadValue, "blocks")
	}
	by := map[string]bool{}
	for _, bl := range op.Blocks {
		_, man := s.Men[bl.By]
		_, spot := s.Spots[bl.On]
		if !man || bl.By == m.Carrier || by[bl.By] {
			return refuse(CodeBadValue, "by "+bl.By)
		}
		if !spot {
			return refuse(CodeUnknown, bl.On)
		}
		by[bl.By] = true
	}
	m.Blocks = append([]Block{}, op.Blocks...)
	m.Makes = map[string]Way{} // other blocks, other lanes
	return Change{Moment: &m}, nil
}

func (d decider) freeze() (Change, *Refusal) {
	pl, ok := d.b.Play(d.op.Play)
	if !ok {
		return refuse(CodeUnknown, d.op.Play)
	}
	s := d.s.Clone()
	s.Moment = Moment{}
	board := s.Board(d.b, nil)
	f, ok := judge.Freeze(&board, pl)
	if !ok {
		return refuse(CodeIllegalMove, "nobody in this look can carry "+pl.Name)
	}
	m := Moment{Play: pl.ID, Carrier: f.Moment.Carrier, Places: map[string]Place{}, Blocks: []Block{}, Late: []string{}}
	for who, at := range f.Places {
		m.Places[who] = PlaceOf(s.Ball.FieldBall().Clamp(at))
	}
	for _, b := range f.Moment.Blocks {
		m.Blocks = append(m.Blocks, Block{By: b.By, On: b.On})
	}
	m.Late = append(m.Late, f.Moment.Late...)
	m.Makes = map[string]Way{}
	for who, w := range f.Moment.Makes {
		m.Makes[who] = Way{Lane: w.Lane, Going: PlaceOf(w.Going.Offset())}
	}
	return Change{Moment: &m}, nil
}

// without is the moment without some spots.
func (m Moment) without(gone func(label string) bool) Moment {
	m = m.clone()
	maps.DeleteFunc(m.Places, func(label string, _ Place) bool { return gone(label) })
	maps.DeleteFunc(m.Makes, func(label string, _ Way) bool { return gone(label) })
	m.Blocks = slices.DeleteFunc(m.Blocks, func(b Block) bool { return gone(b.On) })
	m.Late = slices.DeleteFunc(m.Late, gone)
	return m
}
