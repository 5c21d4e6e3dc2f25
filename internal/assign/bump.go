package assign

import (
	"slices"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

// Standing is a man of the defense before the snap: his rule, where he stands
// (field terms) and his own depth in place of the call's, nil for the call's.
type Standing struct {
	Spot *call.Spot
	At   field.Offset
	Own  *call.Depth
}

// Bump is one man's answer to a motion: from T on (seconds, before the snap
// negative) his place is To, the nearest that is right at the snap. Field terms.
type Bump struct {
	Spot int // index into the men asked about
	T    float64
	To   field.Offset
}

// Bumps says who has to go elsewhere because of a motion, oldest first, then in
// the order of the men.
//
// A man bumps who stood right before the motion and does not at the snap. He does
// so at the renumbering from which on he is wrong and has to go that way: what he
// would do for a number that holds for a moment only, he need not do at all. If no
// renumbering does it, the man he lines up off has taken his place with him,
// and he goes when that man sets off. Who was wrong before has been told so by
// [Duty.At]. After the bumps everybody who was right before is right at the snap.
func Bumps(t look.Timeline, men []Standing, side field.Side) []Bump {
	if t.Who() == "" {
		return nil
	}
	spans, b := spansOf(t), t.At(0).Ball
	last := len(spans) - 1
	var out []Bump
	for i := range men {
		m := &men[i]
		if _, ok := m.needs(&spans[0].count, b, side); ok {
			continue
		}
		move, ok := m.needs(&spans[last].count, b, side)
		if !ok {
			continue
		}
		from := last
		for from > 1 {
			way, ok := m.needs(&spans[from-1].count, b, side)
			if !ok || way.Vec().Dot(move.Vec()) <= 0 {
				break
			}
			from--
		}
		out = append(out, Bump{Spot: i, T: spans[from].from, To: m.At.Add(move)})
	}
	slices.SortStableFunc(out, func(a, b Bump) int {
		switch {
		case a.T < b.T:
			return -1
		case a.T > b.T:
			return 1
		}
		return 0
	})
	return out
}

// span is a time during which the numbering stays as it is, counted at its end:
// there the men are where this numbering leads them.
type span struct {
	from  float64
	count look.Count
}

// justBefore is how long before a renumbering the look is still the old one.
const justBefore = 1e-6 // s

// spansOf cuts a motion into spans. The first is the look before anybody moves.
func spansOf(t look.Timeline) []span {
	from := []float64{t.Start - 1, t.Start}
	for _, r := range t.Renumberings() {
		if r.T > from[len(from)-1] {
			from = append(from, r.T)
		}
	}
	out := make([]span, len(from))
	for i := range out {
		end := 0.0
		if i+1 < len(from) {
			end = max(from[i], from[i+1]-justBefore)
		}
		l := t.At(end)
		out[i].from = from[i]
		out[i].count.Of(&l)
	}
	return out
}

// needs is how a man has to move to be right, in field terms; ok is false if he
// is.
func (m *Standing) needs(c *look.Count, b field.Ball, side field.Side) (move field.Offset, ok bool) {
	r := Lay(m.Spot, b, c, side, m.Own).At(m.At)
	return r.Move, r.Verdict != Right
}
