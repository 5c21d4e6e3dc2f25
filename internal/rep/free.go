package rep

import (
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// free is where a man nobody blocks is when the carrier commits, and how fast:
// from the moment he may act he runs for his fit.
func free(b *leverage.Board, p *leverage.Picture, i int, o *lane.Order) (at, vel field.Vec) {
	d := &b.Spots[i]
	from := b.Side.Flip(d.At.Vec())
	if !o.Known {
		return from, field.Vec{}
	}
	to := fitPoint(b, p, o)
	t := p.Play.Commits - leverage.React(o.Fit, p.Play, d.Athlete)
	way := to.Sub(from)
	dist := way.Norm()
	if t <= 0 || dist == 0 {
		return from, field.Vec{}
	}
	run := d.Athlete.Run(t)
	u := way.Unit()
	if run >= dist {
		return to, field.Vec{} // he is there and comes to balance
	}
	return from.Add(u.Mul(run)), u.Mul(d.Athlete.Speed(t))
}

// fitPoint is the place a free man runs to: in his lane, near its inner edge,
// a yard in front of the gain limit; a man without a lane stays inside-out of
// the ball.
func fitPoint(b *leverage.Board, p *leverage.Picture, o *lane.Order) field.Vec {
	y := b.Model.Limit - 1
	n := o.Fit.Owns
	if n == call.ReadsHat {
		n = b.ReadHat(p)
	}
	switch {
	case n == call.NoLane:
		return field.Vec{X: p.CommitAt.X + 1, Y: y + 2}
	case n == call.LastLane || n > len(p.Blocks):
		n = len(p.Blocks)
	}
	in, out := p.LaneEdges(n)
	if n == len(p.Blocks) {
		return field.Vec{X: max(in, p.CommitAt.X) + 1.5, Y: y - 1}
	}
	if p.Play.Kind.Thrown() {
		// the ball is out there already: run to its inside hip
		return field.Vec{X: min(max(p.CommitAt.X-0.5, in), out), Y: y}
	}
	return field.Vec{X: in + min(insideEdge, 0.35*(out-in)), Y: y}
}
