package lane

import (
	"sort"

	"halfline/internal/call"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// Judge applies the lane rule to a moment.
func Judge(m Moment, model leverage.Model) Result {
	bs := merge(m)
	r := Result{Blocks: bs, Lanes: cut(m, bs)}
	for i := range r.Lanes {
		r.Lanes[i].shut(m, bs)
	}
	g := gains{m: m, model: model, blocks: bs}
	fit(m, r.Lanes, &g)
	r.Sound = true
	for i := range r.Lanes {
		l := &r.Lanes[i]
		if l.ShutBy < 0 {
			l.Gain = g.first(*l)
		}
		r.Sound = r.Sound && !l.Open()
	}
	r.Faults = faults(m, bs, r.Lanes)
	return r
}

// merge settles hats and makes one block of a double team, at the outer
// blocker; blocks come out in order from the box edge.
func merge(m Moment) []Block {
	bs := append([]Block(nil), m.Blocks...)
	sort.SliceStable(bs, func(i, j int) bool { return bs[i].At.X < bs[j].At.X })
	var out []Block
	for _, b := range bs {
		if b.Hat == Auto {
			b.Hat = HatOf(b.At, m.Men[b.On].At)
		}
		twice := false
		for i := range out {
			if out[i].On == b.On {
				out = append(out[:i], out[i+1:]...)
				out = append(out, b)
				twice = true
				break
			}
		}
		if !twice {
			out = append(out, b)
		}
	}
	return out
}

func cut(m Moment, bs []Block) []Lane {
	lanes := make([]Lane, len(bs)+1)
	for i := range lanes {
		l := Lane{N: i, Inner: m.Edge, Outer: m.Sideline, Inside: "box", Outside: "sideline", ShutBy: -1, FitBy: -1, shutAt: -1, opened: -1}
		if i > 0 {
			l.Inner, l.Inside = bs[i-1].At.X, bs[i-1].By+" on "+m.Men[bs[i-1].On].Label
		}
		if i < len(bs) {
			l.Outer, l.Outside = bs[i].At.X, bs[i].By+" on "+m.Men[bs[i].On].Label
		}
		l.Outer = max(l.Outer, l.Inner)
		lanes[i] = l
	}
	return lanes
}

// holdsEdge reports whether a hat is an edge: outside of its block and outside
// of the ball.
func holdsEdge(m Moment, b Block) bool {
	return b.Hat == Outside && m.Men[b.On].At.X > m.Ball.X
}

// shut finds the hat that shuts a lane: the innermost edge at or inside of it,
// else a hat inside on the block that bounds it outside.
func (l *Lane) shut(m Moment, bs []Block) {
	for i := 0; i < l.N && i < len(bs); i++ {
		if holdsEdge(m, bs[i]) {
			l.ShutBy, l.shutAt = bs[i].On, i
			return
		}
	}
	if l.N < len(bs) && bs[l.N].Hat == In {
		l.ShutBy, l.shutAt = bs[l.N].On, l.N
	}
}

// candidate is a free man who can answer for a lane.
type candidate struct {
	man  int
	owns bool
	away float64 // yards from the ball
}

// fit matches every lane that no hat shuts to its own free man: as many lanes
// as can be, in each the man whose lane it is by the call before a helper, then
// the least gain. A man without a velocity answers only for the lane he stands
// in; one with a velocity for every lane where he meets the ball in time. The
// lane at the sideline needs a man outside of the ball.
func fit(m Moment, lanes []Lane, g *gains) {
	blocked := make([]bool, len(m.Men))
	for _, b := range g.blocks {
		blocked[b.On] = true
	}
	var open []int
	cand := map[int][]candidate{}
	for i := range lanes {
		l := &lanes[i]
		if l.ShutBy >= 0 {
			continue
		}
		open = append(open, i)
		last := i == len(lanes)-1
		for k := range m.Men {
			d := &m.Men[k]
			if blocked[k] || d.Late || (last && d.At.X <= m.Ball.X) {
				continue
			}
			switch {
			case d.Makes != nil:
				if *d.Makes != i {
					continue
				}
			case d.Vel == nil:
				if !l.holds(*d, i == 0) {
					continue
				}
			case g.by(*l, k) > g.model.Limit:
				continue
			}
			cand[i] = append(cand[i], candidate{k, d.Order.ownsLane(m, g.blocks, i, len(lanes)), d.At.Vec().Dist(m.Ball.Vec())})
		}
		sort.SliceStable(cand[i], func(a, b int) bool {
			ca, cb := cand[i][a], cand[i][b]
			if ca.owns != cb.owns {
				return ca.owns
			}
			return ca.away < cb.away
		})
	}
	taken := map[int]int{} // man -> lane
	var claim func(lane int, seen map[int]bool) bool
	claim = func(lane int, seen map[int]bool) bool {
		for _, c := range cand[lane] {
			if seen[c.man] {
				continue
			}
			seen[c.man] = true
			if was, ok := taken[c.man]; !ok || claim(was, seen) {
				taken[c.man] = lane
				return true
			}
		}
		return false
	}
	for _, i := range open {
		claim(i, map[int]bool{})
	}
	for man, lane := range taken {
		lanes[lane].FitBy = man
	}
}

// holds reports whether a man stands in a lane. The innermost lane takes men
// who stand inside of the box edge too: they fit it from inside out.
func (l Lane) holds(d Man, innermost bool) bool {
	return (d.At.X >= l.Inner || innermost) && d.At.X < l.Outer
}

// ownsLane reports whether lane n of so many is his by the call.
func (o Order) ownsLane(m Moment, bs []Block, n, lanes int) bool {
	return o.Known && !o.Fit.Spare && o.Fit.Owns != call.NoLane && o.lane(m, bs, lanes) == n
}

// lane is the lane that a man answers for at this moment; a man who reads the
// apex's hat fits inside of an outside hat and outside of an inside one.
func (o Order) lane(m Moment, bs []Block, lanes int) int {
	if o.Fit.Owns != call.ReadsHat {
		return laneOf(o.Fit.Owns, lanes)
	}
	for _, b := range bs {
		if m.Men[b.On].Order.Role == play.Apex && b.Hat == In {
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
