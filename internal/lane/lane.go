package lane

import (
	"cmp"
	"slices"

	"halfline/internal/call"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// Judge applies the lane rule to a moment.
func Judge(m Moment, model leverage.Model) Result {
	var w Work
	return w.Judge(&m, model)
}

// Work is the memory of the lane rule, used again by the next moment: what a
// Result holds is good until then.
type Work struct {
	sorted, blocks []Block
	lanes          []Lane
	blockOf        []int         // by man: his block, or -1
	taken          []int         // by man: the lane he answers for, or -1
	seen           []bool        // by man
	cand           [][]candidate // by lane
	faults         []Fault
}

// Judge applies the lane rule to a moment.
func (w *Work) Judge(m *Moment, model leverage.Model) Result {
	w.merge(m)
	w.cut(m)
	g := gains{m: m, model: model, blocks: w.blocks, blockOf: w.blockOf}
	w.fit(m, &g)
	r := Result{Blocks: w.blocks, Lanes: w.lanes, Sound: true}
	for i := range w.lanes {
		l := &w.lanes[i]
		if l.ShutBy < 0 {
			l.Gain = g.first(l)
		}
		r.Sound = r.Sound && !l.Open()
	}
	f := finder{m: m, bs: w.blocks, lanes: w.lanes, blockOf: w.blockOf, out: w.faults[:0]}
	f.find()
	w.faults = f.out
	r.Faults = f.out
	return r
}

// merge settles hats and makes one block of a double team, at the outer
// blocker; blocks come out in order from the box edge.
func (w *Work) merge(m *Moment) {
	w.sorted = append(w.sorted[:0], m.Blocks...)
	slices.SortStableFunc(w.sorted, func(a, b Block) int {
		// Of two equally far out the one on the man further in comes first, so that
		// nothing hangs on how they are listed.
		da, db := &m.Men[a.On], &m.Men[b.On]
		return cmp.Or(cmp.Compare(a.At.X, b.At.X), cmp.Compare(da.At.X, db.At.X), cmp.Compare(a.By, b.By), cmp.Compare(da.Label, db.Label))
	})
	w.blockOf = w.blockOf[:0]
	for range m.Men {
		w.blockOf = append(w.blockOf, -1)
	}
	for i := range w.sorted { // the outermost on a man is the one that counts
		w.blockOf[w.sorted[i].On] = i
	}
	w.blocks = w.blocks[:0]
	for i, b := range w.sorted {
		if w.blockOf[b.On] != i {
			continue
		}
		if b.Hat == Auto {
			b.Hat = HatOf(b.At, m.Men[b.On].At)
		}
		w.blocks = append(w.blocks, b)
	}
	for i, b := range w.blocks {
		w.blockOf[b.On] = i
	}
}

// cut makes the lanes and finds the hats that shut them.
func (w *Work) cut(m *Moment) {
	bs := w.blocks
	w.lanes = w.lanes[:0]
	for i := range len(bs) + 1 {
		l := Lane{N: i, Inner: m.Edge, Outer: m.Sideline, Inside: Bound{Word: "box"}, Outside: Bound{Word: "sideline"}, ShutBy: -1, FitBy: -1, opened: -1}
		if i > 0 {
			l.Inner, l.Inside = bs[i-1].At.X, Bound{By: bs[i-1].By, On: m.Men[bs[i-1].On].Label}
		}
		if i < len(bs) {
			l.Outer, l.Outside = bs[i].At.X, Bound{By: bs[i].By, On: m.Men[bs[i].On].Label}
		}
		l.Outer = max(l.Outer, l.Inner)
		l.shut(m, bs)
		w.lanes = append(w.lanes, l)
	}
}

// holdsEdge reports whether a hat is an edge: outside of its block and outside
// of the ball.
func holdsEdge(m *Moment, b *Block) bool {
	return b.Hat == Outside && m.Men[b.On].At.X > m.Ball.X
}

// shut finds the hat that shuts a lane: the innermost edge at or inside of it,
// else a hat inside on the block that bounds it outside.
func (l *Lane) shut(m *Moment, bs []Block) {
	for i := 0; i < l.N && i < len(bs); i++ {
		if holdsEdge(m, &bs[i]) {
			l.ShutBy = bs[i].On
			return
		}
	}
	if l.N < len(bs) && bs[l.N].Hat == In {
		l.ShutBy = bs[l.N].On
	}
}

// holds reports whether a man stands in a lane. The innermost lane takes men
// who stand in the box too: they fit it from inside out. Beyond the box, on the
// other side of the ball, a man is in no lane of this side.
func (l *Lane) holds(d *Man) bool {
	return (d.At.X >= l.Inner || l.N == 0 && d.At.X > -l.Inner) && d.At.X < l.Outer
}

// ownsLane reports whether lane n of so many is his by the call.
func (o *Order) ownsLane(m *Moment, bs []Block, n, lanes int) bool {
	return o.Known && !o.Fit.Spare && o.Fit.Owns != call.NoLane && o.lane(m, bs, lanes) == n
}

// lane is the lane that a man answers for at this moment; a man who reads the
// apex's hat fits inside of an outside hat and outside of an inside one.
func (o *Order) lane(m *Moment, bs []Block, lanes int) int {
	if o.Fit.Owns != call.ReadsHat {
		return laneOf(o.Fit.Owns, lanes)
	}
	for i := range bs {
		if m.Men[bs[i].On].Order.Role == play.Apex && bs[i].Hat == In {
			return min(1, lanes-1)
		}
	}
	return 0
}

// laneOf turns a call's lane into a lane of this moment.
func laneOf(owns, lanes int) int {
	if owns == call.LastLane || owns >= lanes {
		return lanes - 1
	}
	return owns
}
