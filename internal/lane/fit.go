package lane

import "slices"

// candidate is a free man who can answer for a lane.
type candidate struct {
	man  int
	owns bool
	away int64 // from the ball, in inches squared: as near is as near wherever it happens
}

// before orders candidates: the man whose lane it is by the call before a
// helper, then the one nearer the ball.
func before(a, b candidate) int {
	switch {
	case a.owns != b.owns:
		if a.owns {
			return -1
		}
		return 1
	case a.away < b.away:
		return -1
	case a.away > b.away:
		return 1
	}
	return 0
}

// fit matches every lane that no hat shuts to its own free man: as many lanes
// as can be, in each the man whose lane it is by the call before a helper. A man
// without a velocity answers only for the lane he stands in; one with a velocity
// for every lane where he meets the ball in time. The lane at the sideline needs
// a man outside of the ball.
func (w *Work) fit(m *Moment, g *gains) {
	w.taken, w.seen = w.taken[:0], w.seen[:0]
	for range m.Men {
		w.taken, w.seen = append(w.taken, -1), append(w.seen, false)
	}
	for len(w.cand) < len(w.lanes) {
		w.cand = append(w.cand, nil)
	}
	for i := range w.lanes {
		if l := &w.lanes[i]; l.ShutBy < 0 {
			w.cand[i] = w.candidates(w.cand[i][:0], l, m, g)
		}
	}
	for i := range w.lanes {
		if w.lanes[i].ShutBy < 0 {
			clear(w.seen)
			w.claim(i)
		}
	}
	for man, i := range w.taken {
		if i >= 0 {
			w.lanes[i].FitBy = man
		}
	}
}

// candidates appends the free men who can answer for a lane.
func (w *Work) candidates(out []candidate, l *Lane, m *Moment, g *gains) []candidate {
	last := l.N == len(w.lanes)-1
	g.look(l)
	for k := range m.Men {
		d := &m.Men[k]
		if w.blockOf[k] >= 0 || d.Late || (last && d.At.X <= m.Ball.X) {
			continue
		}
		var can bool
		switch {
		case d.Makes != nil:
			can = *d.Makes == l.N
		case d.Vel == nil:
			can = l.holds(d)
		default:
			can = g.makes(k)
		}
		if can {
			o := d.At.Sub(m.Ball)
			away := int64(o.X)*int64(o.X) + int64(o.Y)*int64(o.Y)
			out = append(out, candidate{k, d.Order.ownsLane(m, w.blocks, l.N, len(w.lanes)), away})
		}
	}
	slices.SortStableFunc(out, before)
	return out
}

// claim finds a man for a lane; a man who is taken is given up if his lane finds
// another.
func (w *Work) claim(lane int) bool {
	for _, c := range w.cand[lane] {
		if w.seen[c.man] {
			continue
		}
		w.seen[c.man] = true
		if was := w.taken[c.man]; was < 0 || w.claim(was) {
			w.taken[c.man] = lane
			return true
		}
	}
	return false
}
