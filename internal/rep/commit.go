package rep

import (
	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
)

const (
	// hatAside is how far to his side a defender's hat is from the blocker's
	// once a block is settled; a stalemate leaves it straight in front.
	hatAside = 0.8
	hatAhead = 0.35
	// insideEdge: a free man fits this far outside of his lane's inner edge.
	insideEdge = 2.5
)

// OrderOf is what the call wants of a man against a play to a side.
func OrderOf(d *assign.Duty, pl *play.Play, side field.Side) lane.Order {
	o := lane.Order{Role: d.Spot.Role}
	fit, ok := d.Spot.Fits[pl.Kind]
	if !ok || d.Half != side {
		return o
	}
	o.Fit, o.Known = fit, true
	if d.Placed {
		o.FromOutside = d.Stand.Keep.Side == call.Outside
	} else if d.Spot.Stand != nil {
		o.FromOutside = d.Spot.Stand.Keep.Side == call.Outside
	}
	for _, b := range pl.Blocks {
		if b.On == d.Spot.Role {
			o.Blocked = true
			if b.How == play.Kick && fit.Kick != "" {
				o.Fit.Hat = fit.Kick // spill it or box it, as the staff has it
			}
		}
	}
	return o
}

// Buffer is the memory of [Buffer.Commit], used again by the next: a moment
// holds until then.
type Buffer struct {
	men    []lane.Man
	blocks []lane.Block
	vels   []field.Vec
	makes  []int
	on     []*leverage.Block // by spot
}

// Commit is the moment at which the carrier of p commits, in out-terms of the
// play side. labels name b.Spots.
func Commit(b *leverage.Board, p *leverage.Picture, labels []string) lane.Moment {
	var buf Buffer
	return buf.Commit(b, p, labels)
}

// Commit is the moment at which the carrier of p commits.
func (buf *Buffer) Commit(b *leverage.Board, p *leverage.Picture, labels []string) lane.Moment {
	n := len(b.Spots)
	m := lane.Moment{
		Edge: b.Count.BoxEdge(b.Side), Sideline: b.Look.Ball.Sideline(b.Side),
		Ball: p.CommitAt.Offset(), Going: p.Going, Carrier: p.Ball, Kind: p.Play.Kind,
		Men: room(buf.men, n), Blocks: buf.blocks[:0],
	}
	buf.vels, buf.makes, buf.on = room(buf.vels, n), room(buf.makes, n), room(buf.on, n)
	clear(buf.on)
	for i := range p.Blocks {
		buf.on[p.Blocks[i].On] = &p.Blocks[i]
	}
	wide := Outermost(b.Numbers(b.Side), b.Men[p.Carrier].Man.Tag)
	for i := range b.Spots {
		d := &b.Spots[i]
		man := &m.Men[i]
		*man = lane.Man{Label: labels[i], Athlete: d.Athlete, Order: OrderOf(&d.Duty, p.Play, b.Side)}
		if bl := buf.on[i]; bl != nil {
			h, at := settle(b, p, i, bl)
			man.At = at.Offset()
			if lane.Here(bl.Meet.Offset(), m.Edge) {
				m.Blocks = append(m.Blocks, lane.Block{By: b.Men[bl.By].Man.Tag, At: bl.Meet.Offset(), On: i, Hat: h,
					Crack: b.Men[bl.By].Man.Tag == wide && man.Order.Role != play.Corner})
			}
			continue
		}
		var at field.Vec
		at, buf.vels[i] = free(b, p, i, &man.Order)
		man.At, man.Vel = at.Offset(), &buf.vels[i]
		if r := b.Against(p, i); r.Kind == leverage.Alley {
			buf.makes[i] = ownedLane(b, &man.Order, p)
			man.Makes, man.Late = &buf.makes[i], r.Margin <= -b.Model.Band
		}
	}
	buf.men, buf.blocks = m.Men, m.Blocks
	return m
}

// Outermost is the tag of the widest receiver but the carrier: when he blocks
// anybody but the corner, he cracks.
func Outermost(n []look.Man, carrier string) string {
	for i := range n {
		if n[i].Tag != carrier {
			return n[i].Tag
		}
	}
	return ""
}

// room gives a slice of n, in the memory of s if it is large enough.
func room[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// ownedLane is the lane a man answers for in a picture.
func ownedLane(b *leverage.Board, o *lane.Order, p *leverage.Picture) int {
	if o.Fit.Owns == call.ReadsHat {
		return b.ReadHat(p)
	}
	if o.Fit.Owns == call.LastLane || o.Fit.Owns > len(p.Blocks) {
		return len(p.Blocks)
	}
	return o.Fit.Owns
}

// settle says where the hat of a blocked man ends and where he stands then: he
// wins his side by the band or more, loses it by as much, else it is even.
func settle(b *leverage.Board, p *leverage.Picture, i int, bl *leverage.Block) (lane.Hat, field.Vec) {
	d := &b.Spots[i]
	want := 1.0
	side := 0.0
	if r, ok := b.Settles(p, i); ok {
		if r.Side == call.HatInside {
			want = -1
		}
		switch {
		case r.Margin >= b.Model.Band:
			side = want
		case r.Margin <= -b.Model.Band:
			side = -want
		}
	} else if o := b.Side.Out(d.At.Vec().X) - bl.From.X; o > 0 { // either hat: the side he comes from
		side = 1
	} else {
		side = -1
	}
	at := bl.Meet.Add(field.Vec{X: hatAside * side, Y: hatAhead})
	switch {
	case side > 0:
		return lane.Outside, at
	case side < 0:
		return lane.In, at
	}
	return lane.Even, at
}
