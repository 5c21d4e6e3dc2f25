package judge

import (
	"slices"

	"halfline/internal/book"
	"halfline/internal/lane"
	"halfline/internal/play"
)

// FromScene is the board that a scene shows. A motion has been made: the board is
// that of the snap, and remembers how it came about.
func FromScene(s *book.Scene, b *book.Book) Board {
	l := s.Look()
	out := Board{Ball: s.Ball, Side: s.Side, Call: s.Call, Play: s.Play, Menu: s.Menu, Box: s.Box, Model: b.Model, Carry: b.Athletes.Carry()}
	if s.Limit > 0 {
		out.Model.Limit = s.Limit
	}
	if s.Play != nil && !slices.Contains(out.Menu, s.Play) {
		out.Menu = append([]*play.Play{s.Play}, out.Menu...)
	}
	if s.Motion != nil {
		t := l.Timeline(s.Motion.Motion)
		out.Motion, l = &t, t.At(0)
	}
	for _, m := range l.Men {
		man := Man{Man: m, Athlete: b.Offense(l, m)}
		for _, o := range s.Offense {
			if o.Tag == m.Tag && o.Athlete != nil {
				man.Athlete = *o.Athlete
			}
		}
		out.Men = append(out.Men, man)
	}
	for _, d := range s.Defense {
		sp := Spot{Label: d.Label, At: d.At, Depth: d.Depth}
		if d.Athlete != nil {
			sp.Athlete = *d.Athlete
		} else if cs, ok := s.Call.Spot(d.Label); ok {
			sp.Athlete = b.Defense(cs)
		} else {
			sp.Athlete = b.Athletes.ByKind["front"]
		}
		out.Spots = append(out.Spots, sp)
	}
	if s.Moment != nil {
		out.Moment = &Moment{Carrier: s.Moment.Carrier, Late: s.Moment.Late}
		for _, bl := range s.Moment.Blocks {
			out.Moment.Blocks = append(out.Moment.Blocks, Block{By: bl.By, On: bl.On, Hat: lane.Hat(bl.Hat)})
		}
		for i := range out.Men {
			if v, ok := s.Moment.Velocity[out.Men[i].Tag]; ok {
				out.Men[i].Vel = &v
			}
		}
		for i := range out.Spots {
			if v, ok := s.Moment.Velocity[out.Spots[i].Label]; ok {
				out.Spots[i].Vel = &v
			}
		}
	}
	return out
}
