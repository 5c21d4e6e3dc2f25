package strip

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/field"
)

// ground draws the field under the men: the yard lines, hash marks, numbers and
// sidelines of the rulebook in use, the line of scrimmage strongest.
func (d *drawing) ground(c *canvas) {
	v, ball := &d.view, d.b.Ball
	left, right := max(v.left, -ball.Sideline(field.Left).Yards()), min(v.right, ball.Sideline(field.Right).Yards())
	back, deep := max(v.back, ball.Behind().Yards()), min(v.deep, ball.Deepest().Yards())
	a, b := v.at(left, deep), v.at(right, back)
	c.empty("rect", "class", "turf", "x", num(min(a.x, b.x)), "y", num(min(a.y, b.y)), "width", num(math.Abs(a.x-b.x)), "height", num(math.Abs(a.y-b.y)))
	for yard := 0; yard <= 100; yard += 5 {
		y := float64(yard - ball.Yard)
		if y == 0 || y < back || y > deep {
			continue
		}
		class := "yard"
		if yard%100 == 0 {
			class = "goal"
		}
		c.line(class, v.at(left, y), v.at(right, y))
	}
	d.ticks(c, back, deep)
	d.numbers(c)
	for _, s := range []field.Side{field.Left, field.Right} {
		if x := float64(s) * ball.Sideline(s).Yards(); x >= v.left && x <= v.right {
			c.line("sideline", v.at(x, back), v.at(x, deep))
		}
	}
	c.line("scrimmage", v.at(left, 0), v.at(right, 0))
	d.depths(c)
}

// ticks are the hash marks at every yard, and those along the sidelines; each is
// two feet long.
func (d *drawing) ticks(c *canvas, back, deep float64) {
	const half = 1.0 / 3
	v, ball := &d.view, d.b.Ball
	h := ball.Rules.HashFromSideline().Yards()
	r, l := ball.Sideline(field.Right).Yards(), ball.Sideline(field.Left).Yards()
	var p strings.Builder
	for _, x := range []float64{-l + h, r - h, -l + half, r - half} {
		if x-half < v.left || x+half > v.right {
			continue
		}
		for y := math.Ceil(max(back, float64(-ball.Yard))); y <= min(deep, float64(100-ball.Yard)); y++ {
			poly(&p, v.at(x-half, y), v.at(x+half, y))
		}
	}
	if p.Len() > 0 {
		c.path("mark", &p)
	}
}

// numbers are the painted ones, two yards high, read from their sideline.
func (d *drawing) numbers(c *canvas) {
	v, ball := &d.view, d.b.Ball
	for _, s := range []field.Side{field.Left, field.Right} {
		x := float64(s) * (ball.Numbers(s).Yards() + 1)
		if x < v.left+1 || x > v.right-1 {
			continue
		}
		for yard := 10; yard <= 90; yard += 10 {
			y := float64(yard - ball.Yard)
			if y < v.back+1.5 || y > v.deep-1.5 {
				continue
			}
			p := v.at(x, y)
			turn := -90 * float64(s) * v.turnX // the foot of a digit is towards its own sideline
			c.text("numbers", 0, 0, fmt.Sprint(min(yard, 100-yard)), "dy", "0.35em", "font-size", num(2*v.scale),
				"transform", fmt.Sprintf("translate(%s %s) rotate(%s)", num(p.x), num(p.y), num(turn)))
		}
	}
}

// depths are the yards from the line along the ball's edge of the panel.
func (d *drawing) depths(c *canvas) {
	v := &d.view
	edge, anchor := v.left, "start"
	if d.b.Side == field.Left {
		edge = v.right
	}
	if p := v.at(edge, 0); p.x > v.wide/2 {
		anchor = "end"
	}
	for y := -5.0; y < v.deep-0.5; y += 5 {
		label := fmt.Sprint(math.Abs(y))
		if y == 0 {
			label = "line"
		}
		p := v.at(edge+float64(d.b.Side)*0.25, y)
		c.text("scale", p.x, p.y-2, label, "text-anchor", anchor)
	}
}
