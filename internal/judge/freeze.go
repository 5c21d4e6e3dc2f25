package judge

import (
	"halfline/internal/field"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// Shown is the look that rules and numbers are read from.
func (b *Board) Shown() look.Look {
	if b.Before != nil {
		return *b.Before
	}
	men := make([]look.Man, len(b.Men))
	for i, m := range b.Men {
		men[i] = m.Man
	}
	l := look.New(b.Ball, men)
	l.Box, l.BoxSide = b.Box, b.Side
	return l
}

// Frozen is a moment made from an alignment, field terms.
type Frozen struct {
	Moment Moment
	Places map[string]field.Offset // men and spots
}

// Freeze runs a play from the alignment to the moment when the carrier commits.
// ok is false when the look has nobody to carry the ball. Men who neither carry
// nor block stay where they are.
func Freeze(b *Board, pl *play.Play) (f Frozen, ok bool) {
	w := newWork(b)
	var p leverage.Picture
	if pl.Kind == play.Pass || !w.lv.Draw(&p, pl) {
		return f, false
	}
	m := rep.Commit(&w.lv, &p, w.labels)
	s := b.Side
	f.Places = map[string]field.Offset{}
	f.Moment.Makes = map[string]Way{}
	for _, o := range b.Men {
		f.Places[o.Tag] = o.At
	}
	f.Moment.Carrier = w.lv.Men[p.Carrier].Man.Tag
	f.Places[f.Moment.Carrier] = s.FlipOffset(m.Ball)
	for _, bl := range m.Blocks {
		f.Places[bl.By] = s.FlipOffset(bl.At)
		f.Moment.Blocks = append(f.Moment.Blocks, Block{By: bl.By, On: m.Men[bl.On].Label})
	}
	for k, i := range w.order {
		if w.lv.Spots[k].Duty.Half == s {
			f.Places[b.Spots[i].Label] = s.FlipOffset(m.Men[k].At)
		} else {
			f.Places[b.Spots[i].Label] = b.Spots[i].At
		}
		if n := m.Men[k].Makes; n != nil && !m.Men[k].Late {
			f.Moment.Makes[b.Spots[i].Label] = Way{Lane: *n, Going: s.Flip(*m.Men[k].Vel)}
		}
		if m.Men[k].Makes == nil && m.Men[k].Vel != nil {
			f.Moment.Makes[b.Spots[i].Label] = Way{Lane: -1, Going: s.Flip(*m.Men[k].Vel)}
		}
		if m.Men[k].Late {
			f.Moment.Late = append(f.Moment.Late, b.Spots[i].Label)
		}
	}
	return f, true
}

// Picture draws one play against a board, for whoever runs reps: the engine's
// board, the picture, and the labels of its spots. ok is false when the look
// cannot run the play.
func Picture(b *Board, pl *play.Play) (lv *leverage.Board, p *leverage.Picture, labels []string, ok bool) {
	w := newWork(b)
	p = &leverage.Picture{}
	ok = w.lv.Draw(p, pl)
	return &w.lv, p, w.labels, ok
}
