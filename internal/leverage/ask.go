package leverage

import (
	"math"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// ask is one thing that a man's job asks of him in time: to be near a place
// before the ball can be there, or to hold his hat against a blocker. All that
// does not depend on where he stands is in it, so that many places can be tried.
type ask struct {
	kind  Kind
	play  *play.Play
	by    int       // index into Men
	at    field.Vec // where he must be; of a hat, where the blocker stands
	react float64   // key and reaction
	// Of a place: how near is near enough, and when the ball can be there.
	reach, his float64
	// Of a hat: the blocker, the side, what the block needs, and how far out he
	// must stand for it to be asked.
	blocker *athlete.Athlete
	outside bool
	set     float64
	from    float64
	// Of an edge: the picture whose ball must not turn it, and how far out the block
	// on him will be at least (yd; -Inf without one).
	pic  *Picture
	past float64
}

// moves reports whether the place he must come to depends on where he stands.
func (k *ask) moves() bool { return k.kind == Hat || k.kind == Edge }

// asks appends all that one picture asks of spot i.
func (b *Board) asks(out []ask, p *Picture, i int) []ask {
	d := &b.Spots[i]
	if d.Duty.Half != b.Side {
		return out
	}
	if p.Play.Kind == play.Pass {
		return b.topAsks(out, p, i)
	}
	fit, ok := d.Duty.Spot.Fits[p.Play.Kind]
	if !ok {
		return out
	}
	react := React(fit, p.Play, d.Athlete)
	for k := range p.Blocks {
		bl := &p.Blocks[k]
		if bl.On != i || bl.Second {
			continue
		}
		if bl.How == play.Kick && fit.Kick != "" {
			fit.Hat = fit.Kick
		}
		if bl.How == play.Kick && fit.Hat != call.HatInside {
			return out // the blocker wants him outside, and there he is to be
		}
		if fit.Job == call.Force {
			out = append(out, edgeAsk(p, react, bl.Meet.X+halfMan))
		}
		if fit.Hat == call.HatEither || fit.Hat == call.HatIfOpen && b.edgeInside(p, k) {
			return out // nothing to lose to this blocker
		}
		a := ask{kind: Hat, play: p.Play, by: bl.By, at: bl.From, react: react, blocker: &b.Men[bl.By].Athlete,
			outside: fit.Hat != call.HatInside, set: b.Model.Set, from: math.Inf(-1)}
		if d.Duty.Spot.Role == play.Corner {
			a.set += b.Model.StalkSet
		}
		if fit.Hat == call.HatOnBall {
			a.from = p.CommitAt.X // inside of the ball either hat will do
		}
		return append(out, a)
	}
	switch {
	case fit.Job == call.Force || fit.Job == call.Secondary && p.cracked():
		return append(out, edgeAsk(p, react, math.Inf(-1))) // nobody blocks him: the edge is his
	case fit.Owns == call.NoLane || fit.Spare || fit.Job == call.Secondary:
		return out // he helps
	}
	lane := fit.Owns
	if lane == call.ReadsHat {
		lane = b.ReadHat(p)
	}
	if lane == call.LastLane || lane > len(p.Blocks) {
		lane = len(p.Blocks)
	}
	return b.alleyAsks(out, p, lane, react)
}

// alleyAsks appends the places of a lane's alley race: he must stand at the fit
// when the ball can be in the mouth.
func (b *Board) alleyAsks(out []ask, p *Picture, lane int, react float64) []ask {
	m := p.mouthsOf(lane)
	for i := range m.n {
		out = append(out, ask{kind: Alley, play: p.Play, by: p.Carrier, at: field.Vec{X: m.x[i] - insideBall, Y: b.Model.Limit - 1},
			react: react, reach: fitReach, his: m.his[i]})
	}
	return out
}

// topAsks appends the places of the top races against the receiver he answers for
// by his pass rules, once all have released. He acts when the release that gives
// him this man shows.
func (b *Board) topAsks(out []ask, p *Picture, i int) []ask {
	if len(p.Stages) == 0 {
		return out
	}
	d := &b.Spots[i]
	last := &p.Stages[len(p.Stages)-1].Own[i]
	if last.Hold != call.Over && last.Hold != call.InPhase {
		return out
	}
	for k := range p.Routes {
		rr := &p.Routes[k]
		if b.Men[rr.By].Man.Tag != last.Tag || rr.Route.Release == releaseBehind {
			continue // nobody must be over a man behind the line
		}
		react := p.taken(i) + d.Athlete.React
		for _, c := range rr.Points {
			a := ask{kind: Top, play: p.Play, by: rr.By, at: c.At, react: react, reach: phaseReach, his: c.Met}
			if last.Hold == call.Over {
				a.at.Y += overBy
				a.reach = overReach
			}
			out = append(out, a)
		}
	}
	return out
}

// taken is when the release shows that gives spot i the receiver he has to the
// end: the earliest stage from which on rules that name a release give him that
// man. What a rule gives that only names a number is nobody's yet, unless it is
// that rule to the end.
func (p *Picture) taken(i int) float64 {
	last := len(p.Stages) - 1
	end := &p.Stages[last].Own[i]
	t := p.Stages[last].T
	for k := last; k >= 0; k-- {
		o := &p.Stages[k].Own[i]
		if o.Tag != end.Tag || o.Rule != end.Rule && o.Rule.If.Release == "" {
			break
		}
		t = p.Stages[k].T
	}
	return t
}

// hatAsk gives the hat race of spot i against a picture alone, if he has one.
func (b *Board) hatAsk(p *Picture, i int) (ask, bool) {
	b.asked = b.asks(b.asked[:0], p, i)
	for k := range b.asked {
		if b.asked[k].kind == Hat {
			return b.asked[k], true
		}
	}
	return ask{}, false
}

// Settles runs the hat race of spot i against a picture; ok is false if his job
// has none where he stands.
func (b *Board) Settles(p *Picture, i int) (r Race, ok bool) {
	a, ok := b.hatAsk(p, i)
	if !ok {
		return Race{}, false
	}
	d := &b.Spots[i]
	at := d.Duty.Half.Flip(d.At.Vec())
	if _, asked := a.margin(at, &d.Athlete); !asked {
		return Race{}, false
	}
	return a.race(at, &d.Athlete), true
}

// margin is what a man who stands at a place has to spare; ok is false when
// nothing is asked of him there.
func (k *ask) margin(at field.Vec, a *athlete.Athlete) (m float64, ok bool) {
	if k.kind == Hat {
		if at.X < k.from {
			return 0, false
		}
		return HatMargin(at, k.at, *a, *k.blocker, k.outside, k.react, k.set).Margin, true
	}
	if k.kind == Edge {
		return k.edge(at, a).Margin, true
	}
	return k.his - (k.react + a.TimeFor(at.Dist(k.at)-k.reach)), true
}

// race is the same as a race to be told.
func (k *ask) race(at field.Vec, a *athlete.Athlete) Race {
	if k.kind == Hat {
		r := HatMargin(at, k.at, *a, *k.blocker, k.outside, k.react, k.set)
		r.Play, r.By = k.play, k.by
		return r
	}
	if k.kind == Edge {
		return k.edge(at, a)
	}
	r := Race{Kind: k.kind, Play: k.play, By: k.by, At: k.at, His: k.his, Mine: k.react + a.TimeFor(at.Dist(k.at)-k.reach)}
	r.Margin = r.His - r.Mine
	return r
}

// least is the least margin of some asks for a man at a place, and which asks it,
// -1 if none does; a tie goes to the earlier. A margin at or below floor is low
// enough: the search ends.
func least(as []ask, at field.Vec, a *athlete.Athlete, floor float64) (m float64, which int) {
	m, which = math.Inf(1), -1
	for i := range as {
		if x, ok := as[i].margin(at, a); ok && (x < m || which < 0) {
			if m, which = x, i; m <= floor {
				break
			}
		}
	}
	return m, which
}

// noFloor asks for the least margin, however low.
var noFloor = math.Inf(-1)

// leastRace is the least race of some asks.
func leastRace(as []ask, at field.Vec, a *athlete.Athlete) Race {
	if _, i := least(as, at, a, noFloor); i >= 0 {
		return as[i].race(at, a)
	}
	return Race{}
}

// all collects what the pictures ask of spot i, in b's memory.
func (b *Board) all(ps []Picture, i int) []ask {
	b.asked = b.asked[:0]
	for k := range ps {
		b.asked = b.asks(b.asked, &ps[k], i)
	}
	return b.asked
}

// Against runs the race that spot i's job gives him against one picture. Kind
// is NoRace if his job has none: he only helps, or the play goes to the other
// side of the ball.
func (b *Board) Against(p *Picture, i int) Race {
	d := &b.Spots[i]
	b.asked = b.asks(b.asked[:0], p, i)
	return leastRace(b.asked, d.Duty.Half.Flip(d.At.Vec()), &d.Athlete)
}

// Least runs spot i's races against every picture and gives the least; a tie
// goes to the earlier play of the menu.
func (b *Board) Least(ps []Picture, i int) Race {
	d := &b.Spots[i]
	return leastRace(b.all(ps, i), d.Duty.Half.Flip(d.At.Vec()), &d.Athlete)
}
