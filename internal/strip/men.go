package strip

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/rep"
)

// state is what the events up to a time have made of the men.
type state struct {
	carrier string
	free    map[string]bool
	on      map[string]bool // spots on a block
	flags   map[string]string
}

func (d *drawing) stateAt(s float64) state {
	st := state{free: map[string]bool{}, on: map[string]bool{}, flags: map[string]string{}}
	for i := range d.t.Events {
		e := &d.t.Events[i]
		if e.T > s+1e-6 {
			continue
		}
		switch e.What {
		case rep.Catch:
			st.carrier = e.To
		case rep.Open:
			st.free[e.To] = true
		case rep.Meets:
			st.on[e.Who] = true
		case rep.Sheds:
			delete(st.on, e.Who)
		}
	}
	for i := range d.t.Faults {
		if f := &d.t.Faults[i]; f.T <= s+1e-6 {
			sep := ""
			if st.flags[f.Who] != "" {
				sep = ","
			}
			st.flags[f.Who] += fmt.Sprintf("%s%d", sep, i+1)
		}
	}
	return st
}

// piece is a man in sight and where he is drawn.
type piece struct {
	tag  string
	def  bool
	draw point
}

// pieces are everybody in sight, pushed apart where they would hide each other.
func (d *drawing) pieces(s float64) []piece {
	var ps []piece
	for i := range len(d.t.Men) + len(d.t.Spots) {
		o := at(d.t, i, s)
		if !d.view.sees(o) {
			continue
		}
		p := piece{def: i >= len(d.t.Men), draw: d.view.place(o)}
		if p.def {
			p.tag = d.t.Spots[i-len(d.t.Men)]
		} else {
			p.tag = d.t.Men[i]
		}
		ps = append(ps, p)
	}
	apart(ps)
	return ps
}

// men draws them, and the ball.
func (d *drawing) men(c *canvas, ps []piece, s float64) {
	st := d.stateAt(s)
	ball := d.view.place(ballAt(d.t, s))
	held := false
	for i := range ps {
		p := &ps[i]
		if p.def {
			d.disc(c, p.tag, p.draw, hatOf(d.t, &st, p.tag))
			continue
		}
		if st.free[p.tag] {
			c.empty("circle", "class", "free", "cx", num(p.draw.x), "cy", num(p.draw.y), "r", num(manSize*1.75))
		}
		d.square(c, p.tag, p.draw, p.tag == st.carrier)
		// Held, the ball is drawn beside its man.
		if _, _, gap := ball.to(p.draw); !held && gap < manSize && (p.tag == st.carrier || st.carrier == "") {
			held = true
			ball = point{p.draw.x + manSize*0.85*d.view.turnX*float64(d.b.Side), p.draw.y - manSize*0.85*d.view.turnY}
		}
	}
	d.oval(c, ball)
	for i := range ps {
		if f := st.flags[ps[i].tag]; ps[i].def && f != "" {
			d.flag(c, f, ps, i)
		}
	}
}

// apart pushes places away from each other until no two men hide each other.
func apart(ps []piece) {
	const want = 2*manSize + 1.5
	for range 14 {
		for i := range ps {
			for k := i + 1; k < len(ps); k++ {
				a, b := &ps[i].draw, &ps[k].draw
				dx, dy, gap := a.to(*b)
				if gap >= want {
					continue
				}
				if gap < 0.01 {
					dx, dy, gap = 0, 1, 1
				}
				push := (want - gap) / gap / 2
				a.x, a.y = a.x-dx*push, a.y-dy*push
				b.x, b.y = b.x+dx*push, b.y+dy*push
			}
		}
	}
}

func tagSize(tag string) float64 {
	switch len([]rune(tag)) {
	case 0, 1:
		return 13
	case 2:
		return 11
	case 3:
		return 8.5
	}
	return 7
}

func (d *drawing) tag(c *canvas, tag string, p point) {
	c.text("tag", p.x, p.y, tag, "dy", "0.36em", "font-size", num(tagSize(tag)))
}

func (d *drawing) square(c *canvas, tag string, p point, ball bool) {
	class := "square"
	if ball {
		class += " has-ball"
	}
	const r = manSize * 0.92
	c.empty("rect", "class", class, "x", num(p.x-r), "y", num(p.y-r), "width", num(2*r), "height", num(2*r), "rx", num(manSize*0.28))
	d.tag(c, tag, p)
}

// hatOf is the side of his hat of a man on a block: 1 outside, -1 inside.
func hatOf(t *judge.Track, st *state, spot string) float64 {
	switch {
	case !st.on[spot]:
	case t.Hats[spot] == lane.Outside:
		return 1
	case t.Hats[spot] == lane.In:
		return -1
	}
	return 0
}

// disc is a man of the defense with the half-ring on the side of his hat: 1
// outside, -1 inside, 0 none.
func (d *drawing) disc(c *canvas, tag string, p point, side float64) {
	c.empty("circle", "class", "disc", "cx", num(p.x), "cy", num(p.y), "r", num(manSize))
	d.hat(c, p, side)
	d.tag(c, tag, p)
}

// hat is the half-ring beside a man.
func (d *drawing) hat(c *canvas, p point, side float64) {
	toward := float64(d.b.Side) * d.view.turnX
	if side != 0 {
		var w strings.Builder
		var arc []point
		for a := -1.2; a <= 1.21; a += 0.3 {
			arc = append(arc, point{p.x + side*toward*math.Cos(a)*(manSize+3.2), p.y + math.Sin(a)*(manSize+3.2)})
		}
		poly(&w, arc...)
		c.path("hat", &w)
	}
}

// flag gives a man at fault his number, on the first side of him where it hides
// nobody: up and away from the sideline, up and toward it, then below.
func (d *drawing) flag(c *canvas, text string, ps []piece, i int) {
	const high, pole = 11.0, 4.0
	wide := 11 + 5*float64(len(text)-1)
	away := -float64(d.b.Side) * d.view.turnX
	mids := make([]point, 0, 4)
	for _, to := range [...]point{{away, -1}, {-away, -1}, {away, 1}, {-away, 1}} {
		foot := point{ps[i].draw.x + to.x*manSize*0.6, ps[i].draw.y + to.y*manSize*0.75}
		mids = append(mids, point{foot.x + to.x*wide/2, foot.y + to.y*(pole+high/2)})
	}
	best := mids[max(0, slices.IndexFunc(mids, func(m point) bool { return free(ps, i, m, wide/2) }))]
	foot := point{best.x + wide/2*sign(ps[i].draw.x-best.x), ps[i].draw.y}
	c.line("pole", point{foot.x, foot.y + manSize*0.75*sign(best.y-foot.y)}, point{foot.x, best.y})
	c.empty("rect", "class", "flag", "x", num(best.x-wide/2), "y", num(best.y-high/2), "width", num(wide), "height", num(high))
	c.text("count", best.x, best.y, text, "dy", "0.36em")
}

// free reports whether a flag around a place would hide nobody but its own man.
func free(ps []piece, own int, mid point, half float64) bool {
	for i := range ps {
		x := min(max(ps[i].draw.x, mid.x-half), mid.x+half)
		if i != own && math.Hypot(ps[i].draw.x-x, ps[i].draw.y-mid.y) < manSize+6 {
			return false
		}
	}
	return true
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

func (d *drawing) oval(c *canvas, p point) {
	var w strings.Builder
	w.WriteString("M" + num(p.x-5.5) + " " + num(p.y) + "Q" + num(p.x) + " " + num(p.y-5.5) + " " + num(p.x+5.5) + " " + num(p.y))
	w.WriteString("Q" + num(p.x) + " " + num(p.y+5.5) + " " + num(p.x-5.5) + " " + num(p.y) + "Z")
	c.path("oval", &w)
}
