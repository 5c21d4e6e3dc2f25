package strip

import (
	"fmt"
	"math"
	"strings"

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
			d.disc(c, p.tag, p.draw, &st)
			continue
		}
		d.square(c, p.tag, p.draw, &st)
		// Held, the ball is drawn beside its man.
		if _, _, gap := ball.to(p.draw); !held && gap < manSize && (p.tag == st.carrier || st.carrier == "") {
			held = true
			ball = point{p.draw.x + manSize*0.85*d.view.turnX*float64(d.b.Side), p.draw.y - manSize*0.85*d.view.turnY}
		}
	}
	d.oval(c, ball)
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
	c.text("tag", p.x, p.y, tag, "dy", "0.36em", "style", "font-size:"+num(tagSize(tag))+"px")
}

func (d *drawing) square(c *canvas, tag string, p point, st *state) {
	class := "square"
	if tag == st.carrier {
		class += " has-ball"
	}
	if st.free[tag] {
		c.empty("circle", "class", "free", "cx", num(p.x), "cy", num(p.y), "r", num(manSize*1.75))
	}
	const r = manSize * 0.92
	c.empty("rect", "class", class, "x", num(p.x-r), "y", num(p.y-r), "width", num(2*r), "height", num(2*r), "rx", num(manSize*0.28))
	d.tag(c, tag, p)
}

// disc is a man of the defense: on a block with the half-ring on the side of his
// hat, at fault with his numbered flag.
func (d *drawing) disc(c *canvas, tag string, p point, st *state) {
	c.empty("circle", "class", "disc", "cx", num(p.x), "cy", num(p.y), "r", num(manSize))
	side := 0.0
	switch {
	case !st.on[tag]:
	case d.t.Hats[tag] == lane.Outside:
		side = 1
	case d.t.Hats[tag] == lane.In:
		side = -1
	}
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
	d.tag(c, tag, p)
	if f := st.flags[tag]; f != "" {
		d.flag(c, f, point{p.x - toward*manSize*0.6, p.y - manSize*0.7}, -toward)
	}
}

func (d *drawing) flag(c *canvas, text string, p point, toward float64) {
	wide := 11 + 5*float64(len(text)-1)
	a := point{p.x, p.y - 15}
	c.line("pole", point{p.x, p.y + 2}, a)
	b := point{a.x + toward*wide, a.y + 11}
	c.empty("rect", "class", "flag", "x", num(min(a.x, b.x)), "y", num(a.y), "width", num(wide), "height", num(11))
	c.text("count", (a.x+b.x)/2, a.y+5.5, text, "dy", "0.36em")
}

func (d *drawing) oval(c *canvas, p point) {
	var w strings.Builder
	w.WriteString("M" + num(p.x-5.5) + " " + num(p.y) + "Q" + num(p.x) + " " + num(p.y-5.5) + " " + num(p.x+5.5) + " " + num(p.y))
	w.WriteString("Q" + num(p.x) + " " + num(p.y+5.5) + " " + num(p.x-5.5) + " " + num(p.y) + "Z")
	c.path("oval", &w)
}
