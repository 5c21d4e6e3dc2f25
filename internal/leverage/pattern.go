package leverage

import (
	"slices"

	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/play"
)

// Stage is who has whom in a pattern from a time on: what the receivers have
// shown by then decides.
type Stage struct {
	T     float64 // s after the snap
	Shown []assign.Shown
	Own   []assign.Own // by spot, before the throw
	Then  []assign.Own // and once the ball is thrown
}

const (
	releaseBlock    = play.Release("block")
	releaseSwitch   = play.Release("switch")
	releaseVertical = play.Release("vertical")
	releaseBehind   = play.Release("behind")
	// firstSight: before that nobody shows anything, s (a straight release shows
	// then; chosen in a trial).
	firstSight = 0.35
	// crossed is how long after the last release shows the crossing is over, s.
	crossed = 0.5
	halfGap = field.Yard / 2 // men this near across stand in a stack
)

// pattern works out the stages of a picture with routes. Numbers are those at
// the snap; men who cross or start from a stack are numbered again once all have
// released: who is outermost then is #1 for the pass rules (common practice, no
// source). Memory in p is used again.
func (b *Board) pattern(p *Picture, pl *play.Play) {
	b.duties, p.spots = b.duties[:0], p.spots[:0]
	for i := range b.Spots {
		b.duties = append(b.duties, b.Spots[i].Duty)
		p.spots = append(p.spots, b.Spots[i].Duty.Spot)
	}
	b.times = append(b.times[:0], 0, firstSight)
	for k := range p.Routes {
		b.times = append(b.times, p.Routes[k].Route.Reads)
	}
	slices.Sort(b.times)
	b.times = slices.Compact(b.times)
	for i, t := range b.times {
		p.Stages = slices.Grow(p.Stages, 1)[:len(p.Stages)+1]
		st := &p.Stages[i]
		st.T = t
		st.Shown = b.shown(st.Shown[:0], p, pl, t)
		if i == len(b.times)-1 && b.crosses(p) {
			b.recount(st.Shown, p, t+crossed)
		}
		st.Own = assign.Owners(st.Own, b.duties, b.Side, st.Shown, false)
		st.Then = assign.Owners(st.Then, b.duties, b.Side, st.Shown, true)
	}
}

// shown appends what the receivers of the side show at a time.
func (b *Board) shown(out []assign.Shown, p *Picture, pl *play.Play, t float64) []assign.Shown {
	for n, m := range b.Numbers(b.Side) {
		out = append(out, assign.Shown{Number: n + 1, Tag: m.Tag, Release: b.release(p, pl, m.Tag, t)})
	}
	for k := range p.Routes {
		tag := b.Men[p.Routes[k].By].Man.Tag
		if !slices.ContainsFunc(out, func(x assign.Shown) bool { return x.Tag == tag }) {
			out = append(out, assign.Shown{Tag: tag, Release: b.release(p, pl, tag, t)})
		}
	}
	if p.Moved >= 0 {
		tag := b.Men[p.Moved].Man.Tag
		if !slices.ContainsFunc(out, func(x assign.Shown) bool { return x.Tag == tag }) {
			out = append(out, assign.Shown{Tag: tag, Release: b.release(p, pl, tag, t)})
		}
		b.recount(out, p, 0)
	}
	return out
}

// release is what a man shows at a time; in a run who has no route blocks. Who
// breaks off a vertical deeper than the line from which verticals are matched
// stays a vertical for the pass rules.
func (b *Board) release(p *Picture, pl *play.Play, tag string, t float64) play.Release {
	for k := range p.Routes {
		r := &p.Routes[k]
		switch {
		case b.Men[r.By].Man.Tag != tag:
		case t < firstSight:
			return ""
		case t < r.Route.Reads:
			return r.Route.Shows
		case r.Route.Shows == releaseVertical && Along(r.Route, b.Start(p, r.By), b.Men[r.By].Athlete, r.Route.Reads).Y >= b.Model.Match:
			return releaseVertical
		default:
			return r.Route.Release
		}
	}
	if pl.Kind != play.Pass {
		return releaseBlock
	}
	return ""
}

// crosses reports whether the releases change who is outermost: a switch, or men
// who start behind one another.
func (b *Board) crosses(p *Picture) bool {
	for k := range p.Routes {
		if r := p.Routes[k].Route; r.Release == releaseSwitch || r.Shows == releaseSwitch {
			return true
		}
	}
	n := b.Numbers(b.Side)
	for i := 1; i < len(n); i++ {
		if (n[i].At.X - n[i-1].At.X).Abs() <= halfGap {
			return true
		}
	}
	return false
}

// recount numbers receivers by where they are at a time; who is inside of the box
// has number 0.
func (b *Board) recount(in []assign.Shown, p *Picture, t float64) {
	b.xs = b.xs[:0]
	for i := range in {
		b.xs = append(b.xs, b.across(p, in[i].Tag, t))
	}
	for i := 1; i < len(in); i++ { // few: insertion keeps equal ones in order
		for j := i; j > 0 && b.xs[j] > b.xs[j-1]; j-- {
			b.xs[j], b.xs[j-1] = b.xs[j-1], b.xs[j]
			in[j], in[j-1] = in[j-1], in[j]
		}
	}
	for i := range in {
		in[i].Number = 0
		if b.xs[i] > p.Edge {
			in[i].Number = i + 1
		}
	}
}

// across is how far out a man is at a time.
func (b *Board) across(p *Picture, tag string, t float64) float64 {
	for i := range b.Men {
		if b.Men[i].Man.Tag != tag {
			continue
		}
		start := b.Start(p, i)
		for k := range p.Routes {
			if p.Routes[k].By == i && t > 0 {
				return Along(p.Routes[k].Route, start, b.Men[i].Athlete, t).X
			}
		}
		return start.X
	}
	return 0
}
