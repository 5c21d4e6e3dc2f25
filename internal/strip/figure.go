package strip

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// Signs say what a figure shows beside the men, their numbers and their hats.
type Signs struct {
	Boxes  bool // where each rule lets its man stand
	Keeps  bool // whether each man keeps leverage
	Pocket string
	// Eyes the figure is seen with.
	Eyes Eyes
	// Full shows both sides of the ball, else the half that the board is about.
	Full bool
	// Play, a track from this board, draws the ways of the offense until it ends or
	// the carrier chooses, and Blocks who meets whom.
	Play    *judge.Track
	Carrier string // of a run
	Blocks  []Meets
}

// Meets is one block: by a man of the offense on a spot.
type Meets struct{ By, On string }

// Figure draws a board as an SVG element for a page that has [Style] and
// [Hatching]; label says in words what it shows.
func Figure(b *judge.Board, r *judge.Result, label string, s Signs) string {
	d := &drawing{b: b, t: s.Play, eyes: s.Eyes}
	d.frame(r, s.Full)
	var c canvas
	c.open("svg", "viewBox", fmt.Sprintf("0 0 %s %s", num(d.view.wide), num(d.view.high())), "preserveAspectRatio", "xMinYMid", "role", "img", "aria-label", label)
	c.b.WriteString(d.figure(r, s))
	c.empty("rect", "class", "frame", "width", num(d.view.wide), "height", num(d.view.high()))
	c.close("svg")
	return c.b.String()
}

// Hatching is the pattern of shut lanes, once for a page.
const Hatching = `<svg width="0" height="0" aria-hidden="true">` + hatching + `</svg>`

// frame finds the view of a board, with all its rules' boxes.
func (d *drawing) frame(r *judge.Result, full bool) {
	places := []field.Offset{{}}
	for i := range d.b.Men {
		places = append(places, d.b.Men[i].At)
	}
	for i := range d.b.Spots {
		places = append(places, d.b.Spots[i].At)
	}
	for i := range r.Spots {
		if x := &r.Spots[i].Box; r.Spots[i].Duty.Placed && d.b.Moment == nil {
			places = append(places, field.Offset{X: x.MinX, Y: x.MinY}, field.Offset{X: x.MaxX, Y: x.MaxY - field.Yard}) // its end is room enough
		}
	}
	d.view = viewAround(d.b, d.eyes, places)
	const wide, room, tallest = 2 * panelWide, 2.0, 0.62
	v := &d.view
	if !full {
		// A narrow half, into the boundary, shows more of the other side instead of
		// becoming a tower.
		if more := (v.deep-v.back)/tallest - (v.right - v.left); more > 0 && d.b.Side == field.Right {
			v.left -= more
		} else if more > 0 {
			v.right += more
		}
		v.scale = v.wide / (v.right - v.left)
		return
	}
	for _, o := range places {
		v.left, v.right = min(v.left, o.X.Yards()-room), max(v.right, o.X.Yards()+room)
	}
	v.wide = wide
	v.scale = wide / (v.right - v.left)
}

// figure draws field, lanes and men.
func (d *drawing) figure(r *judge.Result, s Signs) string {
	var c canvas
	c.open("svg", "width", num(d.view.wide), "height", num(d.view.high()), "viewBox", "0 0 "+num(d.view.wide)+" "+num(d.view.high()))
	d.ground(&c)
	var now *judge.LanesAt
	if d.b.Moment != nil && len(r.Lanes) > 0 {
		now = &judge.LanesAt{Lanes: r.Lanes, Takes: r.Runner.Lane}
		d.lanes(&c, now)
	}
	if s.Boxes && d.b.Moment == nil {
		d.boxes(&c, r)
	}
	d.pocket(&c, s.Pocket)
	ps := d.standing()
	if s.Play != nil {
		d.plan(&c, ps, s)
	}
	if d.b.Moment != nil {
		d.ties(&c, ps)
	}
	if now != nil {
		d.laneNames(&c, now, ps)
	}
	d.stand(&c, ps, r, s)
	c.close("svg")
	return c.b.String()
}

// standing are the men in sight where the board has them.
func (d *drawing) standing() []piece {
	var ps []piece
	add := func(tag string, o field.Offset, def bool) {
		if d.view.sees(o) {
			ps = append(ps, piece{tag: tag, def: def, draw: d.view.place(o)})
		}
	}
	for i := range d.b.Men {
		add(d.b.Men[i].Tag, d.b.Men[i].At, false)
	}
	for i := range d.b.Spots {
		add(d.b.Spots[i].Label, d.b.Spots[i].At, true)
	}
	apart(ps)
	return ps
}

// boxes are where the rules let their men stand.
func (d *drawing) boxes(c *canvas, r *judge.Result) {
	for i := range r.Spots {
		b := &r.Spots[i].Box
		if !r.Spots[i].Duty.Placed || !d.view.sees(r.Spots[i].At) {
			continue
		}
		p, q := d.view.place(field.Offset{X: b.MinX, Y: b.MinY}), d.view.place(field.Offset{X: b.MaxX, Y: b.MaxY})
		const least = 3 // a rule without play on one axis still has something to see
		w, h := max(math.Abs(p.x-q.x), least), max(math.Abs(p.y-q.y), least)
		c.empty("rect", "class", "rulebox", "x", num((p.x+q.x-w)/2), "y", num((p.y+q.y-h)/2), "width", num(w), "height", num(h))
	}
}

// pocket is where one man may stand and still keep everything.
func (d *drawing) pocket(c *canvas, label string) {
	if label == "" {
		return
	}
	r, ok := judge.Pocket(d.b, label)
	if !ok {
		return
	}
	var w strings.Builder
	for _, loop := range r.Keeps {
		ps := make([]point, len(loop))
		for i, o := range loop {
			ps[i] = d.view.place(o)
		}
		poly(&w, ps...)
		w.WriteString("Z")
	}
	if w.Len() > 0 {
		c.path("pocket", &w)
	}
}

// ties join the men of a frozen block.
func (d *drawing) ties(c *canvas, ps []piece) {
	for _, bl := range d.b.Moment.Blocks {
		by, on := find(ps, bl.By), find(ps, bl.On)
		if by != nil && on != nil {
			c.line("tie", by.draw, on.draw)
		}
	}
}

func find(ps []piece, tag string) *piece {
	for i := range ps {
		if ps[i].tag == tag {
			return &ps[i]
		}
	}
	return nil
}

// stand draws the men with their numbers, hats and signs, and the ball.
func (d *drawing) stand(c *canvas, ps []piece, r *judge.Result, s Signs) {
	numbers := map[string]int{}
	for _, side := range [][]string{r.Look.Left, r.Look.Right} {
		for i, tag := range side {
			numbers[tag] = i + 1
		}
	}
	carrier := ""
	if d.b.Moment != nil {
		carrier = d.b.Moment.Carrier
	}
	ball := d.view.at(0, 0)
	for i := range ps {
		p := &ps[i]
		if p.def {
			d.answered(c, p, r, s)
			continue
		}
		d.square(c, p.tag, p.draw, p.tag == carrier)
		if n := numbers[p.tag]; n > 0 { // behind him, where no defender is
			c.text("numeral", p.draw.x, p.draw.y-d.view.turnY*(manSize+6.5), fmt.Sprintf("#%d", n), "dy", "0.36em")
		}
		if p.tag == carrier {
			ball = point{p.draw.x + manSize*0.85*d.view.turnX*float64(d.b.Side), p.draw.y - manSize*0.85*d.view.turnY}
		}
	}
	if carrier == "" { // in front of the snapper, who hides it else
		ball.y += d.view.turnY * (manSize + 3)
	}
	d.oval(c, ball)
	if d.b.Moment == nil {
		return
	}
	for i := range ps {
		text := ""
		for k := range r.Faults {
			if r.Faults[k].Who == ps[i].tag {
				text += fmt.Sprintf(",%d", k+1)
			}
		}
		if ps[i].def && text != "" {
			d.flag(c, text[1:], ps, i)
		}
	}
}

// answered is a man of the defense with the side of his hat, and his sign.
func (d *drawing) answered(c *canvas, p *piece, r *judge.Result, signs Signs) {
	var s *judge.SpotResult
	for i := range r.Spots {
		if r.Spots[i].Label == p.tag {
			s = &r.Spots[i]
		}
	}
	hat := 0.0
	if s != nil && signs.Play == nil { // on a plan it is the others' men
		hat = hatSide(s.Hat)
	}
	d.disc(c, p.tag, p.draw, hat)
	if s != nil && signs.Keeps && d.b.Moment == nil {
		d.sign(c, p.draw, s.Keeps)
	}
}

// dashes of a ring around a man: whole, dashed, broken.
var dashes = map[leverage.Keeps]string{leverage.Yes: "none", leverage.Contested: "4 2.5", leverage.No: "14 6"}

// sign is the ring of the three answers and its mark in a badge, on the side
// toward the ball and downfield.
func (d *drawing) sign(c *canvas, p point, k leverage.Keeps) {
	c.empty("circle", "class", "ring", "cx", num(p.x), "cy", num(p.y), "r", num(manSize), "stroke-dasharray", dashes[k])
	const r = 5.0
	m := point{p.x - float64(d.b.Side)*d.view.turnX*(manSize*0.75+2), p.y + d.view.turnY*(manSize*0.75+2)}
	c.empty("circle", "class", "badge", "cx", num(m.x), "cy", num(m.y), "r", num(r))
	var w strings.Builder
	switch k {
	case leverage.Yes:
		poly(&w, point{m.x - 2.4, m.y + 0.2}, point{m.x - 0.6, m.y + 2}, point{m.x + 2.6, m.y - 2})
	case leverage.Contested:
		poly(&w, point{m.x - 3, m.y + 1}, point{m.x - 1.3, m.y - 1}, point{m.x + 1.3, m.y + 1}, point{m.x + 3, m.y - 1})
	default:
		poly(&w, point{m.x - 2, m.y - 2}, point{m.x + 2, m.y + 2})
		poly(&w, point{m.x - 2, m.y + 2}, point{m.x + 2, m.y - 2})
	}
	c.path("mark-of", &w)
}
