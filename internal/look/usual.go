package look

import "halfline/internal/field"

const (
	// flatLast: the last yard of a usual path is flat, so that the man does not
	// come up at the snap.
	flatLast = field.Yard
	// jetAhead, jetBehind: a jet passes this far in front of a passer in the gun,
	// or this far behind one under the snapper (common practice, no source).
	jetAhead  = field.Yard
	jetBehind = 3 * field.Yard / 2
	// gunDepth: a passer at least this deep is in the gun.
	gunDepth = 5 * field.Yard / 2
	// orbitBehind, orbitBeside: an orbit goes round the passer this far off
	// (common practice, no source).
	orbitBehind = 2 * field.Yard
	orbitBeside = 2 * field.Yard
	// returnFar: a return turns this far from where he started (common practice,
	// no source).
	returnFar = 5 * field.Yard
	// noPasser is where the passer is taken to be when a look shows none.
	noPasser = -5 * field.Yard
)

// Usual is the motion of a kind that takes a man to a place in the usual way of
// that kind. Where the place lies nearer the line than he does, he comes up
// first and is flat for the last yard, as the rules want it of a man who moves
// at the snap; a shift goes straight, for he is set again.
func (l Look) Usual(kind MotionKind, who string, to field.Offset) Motion {
	m := Motion{Who: who, Kind: kind, Path: []field.Offset{to}}
	man, ok := l.Find(who)
	if !ok || kind == Shift {
		return m
	}
	var path []field.Offset
	switch kind {
	case Jet:
		path = l.jet(man, to)
	case Orbit:
		path = l.orbit(man, to)
	case Return:
		path = []field.Offset{turn(man, to)}
		if to == man.At { // he is set again, so he may come up at the end
			m.Path = append(path, to)
			return m
		}
	}
	last := man.At
	if len(path) > 0 {
		last = path[len(path)-1]
	}
	m.Path = append(path, flat(last, to)...)
	return m
}

// flat goes from one place to another so that the last yard is not towards the
// line: up first, as steep as half a right angle if there is room.
func flat(from, to field.Offset) []field.Offset {
	up, wide := to.Y-from.Y, (to.X - from.X).Abs()
	if up <= 0 || wide <= flatLast {
		return []field.Offset{to}
	}
	out := toward(from.X, to.X)
	return []field.Offset{{X: from.X + out.OutInches(min(up, wide-flatLast)), Y: to.Y}, to}
}

// toward is the side on which x lies, seen from another x.
func toward(from, x field.Inches) field.Side {
	if x < from {
		return field.Left
	}
	return field.Right
}

// passer is where the passer stands, seen by somebody else.
func (l Look) passer(who string) field.Offset {
	if q, ok := l.Find(Passer); ok && who != Passer {
		return q.At
	}
	return field.Offset{Y: noPasser}
}

// between reports whether x is passed on the way from a to b.
func between(x, a, b field.Inches) bool { return a < x && x < b || b < x && x < a }

// jet passes the passer on the side of the line: flat at the depth where he
// ends, but never nearer than jetAhead; behind a passer who is under the snapper.
func (l Look) jet(man Man, to field.Offset) []field.Offset {
	q := l.passer(man.Tag)
	if !between(q.X, man.At.X, to.X) {
		return nil
	}
	y := max(to.Y, q.Y+jetAhead)
	if q.Y > -gunDepth {
		y = min(to.Y, q.Y-jetBehind)
	}
	return []field.Offset{{X: q.X, Y: y}}
}

// orbit goes round behind the passer, as far round as the place lies.
func (l Look) orbit(man Man, to field.Offset) []field.Offset {
	q := l.passer(man.Tag)
	from := toward(q.X, man.At.X)
	var path []field.Offset
	for _, p := range []field.Offset{
		{X: q.X + from.OutInches(orbitBeside), Y: q.Y - orbitBehind*3/4},
		{X: q.X, Y: q.Y - orbitBehind},
		{X: q.X - from.OutInches(orbitBeside), Y: q.Y - orbitBehind*3/4},
	} {
		if between(p.X, man.At.X, to.X) {
			path = append(path, p)
		}
	}
	return path
}

// turn is where a return turns back: towards the ball, or outwards if he stands
// too near it; off the line in any case. Who stands behind the ball turns on the
// side where he ends, on the right if that is behind the ball too.
func turn(man Man, to field.Offset) field.Offset {
	side := toward(0, man.At.X)
	if man.At.X == 0 {
		side = toward(0, to.X)
	}
	x := side.OutInches(man.At.X)
	if x >= returnFar {
		x -= returnFar
	} else {
		x += returnFar
	}
	return field.Offset{X: side.OutInches(x), Y: min(man.At.Y, -field.Yard)}
}
