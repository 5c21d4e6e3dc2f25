package judge

import (
	"slices"
	"strings"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// work is one judgement under way, and the memory of the next.
type work struct {
	b      *Board
	lv     leverage.Board
	order  []int    // index into b.Spots, in the call's order
	labels []string // of b.Spots in that order
	pics   []leverage.Picture

	was    offense // what pictures were last drawn of
	men    []look.Man
	used   []bool
	own    leverage.Picture // of the board's own play
	commit rep.Buffer
	lane   lane.Work
	ahead  lane.Moment // as foreseen from before the snap
	frozen lane.Moment
	vels   []field.Vec
	makes  []int
}

// offense is all that a receiver's route depends on.
type offense struct {
	ball field.Ball
	side field.Side
	box  field.Inches
	on   field.Side
	men  []leverage.Runner
}

func newWork(b *Board) *work {
	w := &work{}
	w.set(b)
	return w
}

// set turns to a board.
func (w *work) set(b *Board) {
	w.b = b
	l := &w.lv
	l.Side, l.Model, l.Carry = b.Side, b.Model, b.Carry
	w.look()
	l.Men = l.Men[:0]
	for _, m := range l.Look.Men {
		r := leverage.Runner{Man: m}
		for i := range b.Men {
			if b.Men[i].Tag == m.Tag {
				r.Athlete = b.Men[i].Athlete
				break
			}
		}
		l.Men = append(l.Men, r)
	}
	l.Reset()
	w.count()
	w.arrange()
}

// look is the offense that rules and numbers are read from, in the order of tags.
func (w *work) look() {
	b := w.b
	if b.Before != nil {
		w.lv.Look = *b.Before
		return
	}
	w.men = w.men[:0]
	for i := range b.Men {
		w.men = append(w.men, b.Men[i].Man)
	}
	slices.SortStableFunc(w.men, func(a, b look.Man) int { return strings.Compare(a.Tag, b.Tag) })
	w.lv.Look = look.Look{Ball: b.Ball, Men: w.men, Box: b.Box, BoxSide: b.Side}
}

// count gives every change of the offense a new version.
func (w *work) count() {
	l, was := &w.lv, &w.was
	if was.ball == l.Look.Ball && was.side == l.Side && was.box == l.Look.Box && was.on == l.Look.BoxSide && slices.Equal(was.men, l.Men) && l.Version > 0 {
		return
	}
	*was = offense{l.Look.Ball, l.Side, l.Look.Box, l.Look.BoxSide, append(was.men[:0], l.Men...)}
	l.Version++
}

// unknown is a man to whom the call gives nothing.
var unknown = call.Spot{Half: call.This}

// arrange puts the spots in the call's order and lays their rules over the look.
func (w *work) arrange() {
	w.order, w.labels, w.lv.Spots, w.used = w.order[:0], w.labels[:0], w.lv.Spots[:0], w.used[:0]
	for range w.b.Spots {
		w.used = append(w.used, false)
	}
	if w.b.Call != nil {
		for k := range w.b.Call.Spots {
			for i := range w.b.Spots {
				if w.b.Spots[i].Label == w.b.Call.Spots[k].Label {
					w.lay(i, &w.b.Call.Spots[k])
				}
			}
		}
	}
	for i, used := range w.used {
		if !used {
			w.lay(i, &unknown)
		}
	}
}

func (w *work) lay(i int, sp *call.Spot) {
	s := &w.b.Spots[i]
	w.used[i] = true
	w.order, w.labels = append(w.order, i), append(w.labels, s.Label)
	w.lv.Spots = append(w.lv.Spots, leverage.Defender{
		Duty: assign.Lay(sp, w.lv.Look.Ball, &w.lv.Count, w.b.Side, s.Depth), At: s.At, Athlete: s.Athlete})
}

// draw makes the pictures of the menu; plays that the look cannot run have none.
func (w *work) draw() {
	w.pics = w.pics[:0]
	for _, pl := range w.b.Menu {
		w.pics = slices.Grow(w.pics, 1)[:len(w.pics)+1]
		if !w.lv.Draw(&w.pics[len(w.pics)-1], pl) {
			w.pics = w.pics[:len(w.pics)-1]
		}
	}
}

// shown is the picture whose lanes are shown: of the board's own play, or of
// the first run of the menu.
func (w *work) shown() *leverage.Picture {
	if pl := w.b.Play; pl != nil {
		if pl.Kind != play.Pass && w.lv.Draw(&w.own, pl) {
			return &w.own
		}
		return nil
	}
	for i := range w.pics {
		if w.pics[i].Play.Kind != play.Pass {
			return &w.pics[i]
		}
	}
	return nil
}
