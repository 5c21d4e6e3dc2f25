package wire

import (
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/look"
)

// SceneLook is the offense's part of `halfline check`: as on the wire, and how it
// came about if the scene has a motion.
type SceneLook struct {
	LookAnswer
	Motion *MotionAnswer `json:"motion,omitempty"`
}

// MotionAnswer is what a motion does before the snap. Times are seconds from the
// snap, before it negative.
type MotionAnswer struct {
	StartS float64 `json:"start_s"`
	// SetS is from when on he is set again; null: he is in motion at the snap.
	SetS *float64 `json:"set_s"`
	// Velocity is his at the snap, in yards a second, [x to the offense's right, y].
	Velocity [2]float64       `json:"velocity"`
	Renumber []RenumberAnswer `json:"renumber"`
	Bumps    []BumpAnswer     `json:"bumps"`
}

// RenumberAnswer is a moment at which the numbers change, and the numbers from
// then on.
type RenumberAnswer struct {
	TS float64 `json:"t_s"`
	Numbers
}

// BumpAnswer is a man of the defense who has to go elsewhere because of the motion:
// from when on, and how far in yards, [x to the offense's right, y deeper].
type BumpAnswer struct {
	Spot string     `json:"spot"`
	TS   float64    `json:"t_s"`
	Move [2]float64 `json:"move"`
}

// MotionOf is the answer for a board's motion, nil without one.
func MotionOf(b *judge.Board) *MotionAnswer {
	t := b.Motion
	if t == nil {
		return nil
	}
	v := t.Velocity(0)
	out := &MotionAnswer{StartS: field.Round2(t.Start), Velocity: [2]float64{field.Round2(v.X), field.Round2(v.Y)},
		Renumber: []RenumberAnswer{}, Bumps: []BumpAnswer{}}
	if t.Who() != "" && !t.Moving() {
		set := field.Round2(t.Set)
		out.SetS = &set
	}
	m := judge.MotionOf(b)
	for _, r := range m.Renumberings {
		out.Renumber = append(out.Renumber, RenumberAnswer{TS: field.Round2(r.T), Numbers: Numbers{Right: r.Right, Left: r.Left}})
	}
	for _, x := range m.Bumps {
		out.Bumps = append(out.Bumps, BumpAnswer{Spot: x.Label, TS: field.Round2(x.T),
			Move: [2]float64{field.Round2(x.Move.X.Yards()), field.Round2(x.Move.Y.Yards())}})
	}
	return out
}

// LookOn is the look's answer on the wire, with the way of the man in motion.
func LookOn(b *judge.Board, r *judge.Result) LookAnswer {
	out := LookOf(r)
	if b.Motion != nil && b.Motion.Who() != "" {
		out.Way = wayOf(b.Motion)
	}
	return out
}

func wayOf(t *look.Timeline) *WayAnswer {
	inches := func(o field.Offset) [2]int { return [2]int{int(o.X), int(o.Y)} }
	w := &WayAnswer{StartS: field.Round2(t.Start), Path: [][2]int{}, Changes: []CountAnswer{}}
	for _, p := range t.Path() {
		w.Path = append(w.Path, inches(p))
	}
	for _, r := range t.Renumberings() {
		w.Changes = append(w.Changes, CountAnswer{TS: field.Round2(r.T), At: inches(t.Place(r.T).Offset()),
			Numbers: Numbers{Right: full(r.Right), Left: full(r.Left)}})
	}
	return w
}
