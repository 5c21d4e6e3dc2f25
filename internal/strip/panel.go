package strip

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/field"
	"halfline/internal/play"
)

const (
	manSize  = 9.5 // radius of a man
	headHigh = 20.0
)

// panel is one moment drawn.
type panel = part

// panel draws moment i: its number and time, the field, and what is told of it.
func (d *drawing) panel(i int) panel {
	m := &d.moments[i]
	high := d.view.high()
	var c canvas
	c.text("time", 0, 14, fmt.Sprintf("%d", i+1))
	c.text("time", panelWide, 14, fmt.Sprintf("%.2f s", m.t), "text-anchor", "end")
	c.open("g", "transform", "translate(0 "+num(headHigh)+")")
	c.open("svg", "width", num(d.view.wide), "height", num(high), "viewBox", "0 0 "+num(d.view.wide)+" "+num(high))
	d.ground(&c)
	now := lanesAt(d.t, m.t)
	if now != nil {
		d.lanes(&c, now)
	}
	d.ways(&c, m.t)
	if d.t.Play.Kind == play.Pass {
		d.owners(&c, m.t)
	}
	ps := d.pieces(m.t)
	if now != nil {
		d.laneNames(&c, now, ps)
	}
	d.men(&c, ps, m.t)
	c.close("svg")
	c.empty("rect", "class", "frame", "width", num(panelWide), "height", num(high))
	c.close("g")
	y := headHigh + high + 2
	class := "strong"
	for _, s := range m.says {
		for _, line := range wrap(s, panelWide, textSize) {
			y += lineHigh
			c.text(class, 0, y, line)
		}
		class = "line"
	}
	return panel{c.b.String(), y + 4}
}

// ways draws how everybody and the ball came to where they are.
func (d *drawing) ways(c *canvas, s float64) {
	for i := range len(d.t.Men) + len(d.t.Spots) {
		class := "way"
		if i >= len(d.t.Men) {
			class = "way def"
		}
		d.way(c, class, s, func(x float64) field.Offset { return at(d.t, i, x) })
	}
	if s > 0 {
		d.way(c, "way ball", s, func(x float64) field.Offset { return ballAt(d.t, x) })
	}
}

func (d *drawing) way(c *canvas, class string, s float64, of func(float64) field.Offset) {
	const least = field.Yard / 3
	var ps []point
	last := of(d.t.From)
	moved := false
	ps = append(ps, d.view.place(last))
	for x := d.t.From + d.t.Step; x < s; x += d.t.Step {
		if o := of(x); far(o, last) >= least {
			ps, last, moved = append(ps, d.view.place(o)), o, true
		}
	}
	if o := of(s); far(o, last) > 0 {
		ps, moved = append(ps, d.view.place(o)), moved || far(o, last) >= least
	}
	if moved {
		var p strings.Builder
		poly(&p, ps...)
		c.path(class, &p)
	}
}

func far(a, b field.Offset) field.Inches {
	o := a.Sub(b)
	return field.Inches(math.Round(math.Hypot(float64(o.X), float64(o.Y))))
}

// owners draws who has whom at a time of a pass.
func (d *drawing) owners(c *canvas, s float64) {
	var of map[string]string
	for i := range d.t.Owners {
		if d.t.Owners[i].T <= s+1e-6 {
			of = d.t.Owners[i].Of
		}
	}
	for i, spot := range d.t.Spots {
		for k, tag := range d.t.Men {
			if of[spot] == tag {
				c.line("has", d.view.place(at(d.t, len(d.t.Men)+i, s)), d.view.place(at(d.t, k, s)))
			}
		}
	}
}
