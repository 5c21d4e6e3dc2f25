package strip

import (
	"halfline/internal/field"
	"halfline/internal/judge"
)

// view is the part of the field that every panel shows, and how.
type view struct {
	left, right, back, deep float64 // yards from the ball, field terms
	wide                    float64 // units across
	scale                   float64 // units a yard
	turnX, turnY            float64 // +1 if the offense's right is right, if deeper is down
}

// What is worth showing, in yards: from a little beyond the ball on the far side
// to the sideline, where the last lane ends, and a yard more.
const (
	nearSide  = 3.5
	beyond    = 1.0
	leastBack = -6.5
	leastDeep = 12.5
	around    = 2.0
)

// viewOf finds the view of a strip. Men far out on the other side are not worth
// the room.
func viewOf(t *judge.Track, b *judge.Board, ms []moment, eyes Eyes) view {
	var places []field.Offset
	for _, m := range ms {
		for i := range len(t.Men) + len(t.Spots) {
			places = append(places, at(t, i, m.t))
		}
		places = append(places, ballAt(t, m.t))
	}
	return viewAround(b, eyes, places)
}

// viewAround is the half of the field that a board is about, as deep as it takes
// to show the places there.
func viewAround(b *judge.Board, eyes Eyes, places []field.Offset) view {
	side := b.Side
	outer, back, deep := b.Ball.Sideline(side).Yards()+beyond, leastBack, leastDeep
	for _, o := range places {
		if y := o.Y.Yards(); side.Out(o.X.Yards()) >= -nearSide {
			back, deep = min(back, y-around), max(deep, y+around)
		}
	}
	v := view{left: -nearSide, right: outer, back: back, deep: deep, wide: panelWide, turnX: 1, turnY: -1}
	if side == field.Left {
		v.left, v.right = -outer, nearSide
	}
	if eyes == Defense {
		v.turnX, v.turnY = -1, 1
	}
	v.scale = v.wide / (v.right - v.left)
	return v
}

// high is the height of the field in a panel.
func (v *view) high() float64 { return (v.deep - v.back) * v.scale }

// at turns a place in yards into one in a panel.
func (v *view) at(x, y float64) point {
	p := point{(x - v.left) * v.scale, (v.deep - y) * v.scale}
	if v.turnX < 0 {
		p.x = v.wide - p.x
	}
	if v.turnY > 0 {
		p.y = v.high() - p.y
	}
	return p
}

func (v *view) place(o field.Offset) point { return v.at(o.X.Yards(), o.Y.Yards()) }

// sees reports whether a place is in the view, a man's width around it.
func (v *view) sees(o field.Offset) bool {
	x, y := o.X.Yards(), o.Y.Yards()
	return x >= v.left-0.5 && x <= v.right+0.5 && y >= v.back-0.5 && y <= v.deep+0.5
}

// at is where man i of a track is at a time, tags first, then spots: on the
// straight way between two keys.
func at(t *judge.Track, i int, s float64) field.Offset {
	return between(t, s, func(k int) field.Offset { return t.Keys[k][i] })
}

func ballAt(t *judge.Track, s float64) field.Offset {
	return between(t, s, func(k int) field.Offset { return t.Ball[k] })
}

func between(t *judge.Track, s float64, of func(k int) field.Offset) field.Offset {
	x := min(max((s-t.From)/t.Step, 0), float64(len(t.Keys)-1))
	k := min(int(x), max(len(t.Keys)-2, 0))
	a, b, f := of(k).Vec(), of(min(k+1, len(t.Keys)-1)).Vec(), x-float64(k)
	return a.Add(b.Sub(a).Mul(f)).Offset()
}
