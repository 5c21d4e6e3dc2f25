package strip

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/judge"
	"halfline/internal/play"
)

// Eyes are whose eyes the strip is seen with.
type Eyes int8

const (
	Offense Eyes = iota // the offense's right is right, deeper is up
	Defense             // the other way round
)

// Model is the line that tells what answers and drawings are.
const Model = "A teaching model: level ground, best effort, stated speeds, no missed tackles, nobody behind. The coach's eye governs."

// Options say how a strip is drawn.
type Options struct {
	Columns int // panels in a row; 0: 3
	Eyes    Eyes
	Notes   []string // what was asked for, told under the title
}

// Measures of the document, in its own units: about a pixel on a phone with one
// column, half a point on a page with three.
const (
	panelWide = 340.0
	gap       = 14.0
	margin    = 12.0
	textSize  = 14.0
	lineHigh  = 18.0
	titleSize = 19.0
)

// Draw draws a track on its board as a film strip. caution is the line about
// contact that stands under every drill.
func Draw(t *judge.Track, b *judge.Board, caution string, o Options) []byte {
	if o.Columns < 1 {
		o.Columns = 3
	}
	d := &drawing{t: t, b: b, eyes: o.Eyes}
	d.moments = choose(t)
	d.view = viewOf(t, b, d.moments, o.Eyes)
	columns := min(o.Columns, len(d.moments))
	wide := 2*margin + float64(columns)*(panelWide+gap) - gap

	head := d.head(o.Notes, wide-2*margin)
	var panels []panel
	for i := range d.moments {
		panels = append(panels, d.panel(i))
	}
	// What is left of the last row takes the foot; there is no such room after a
	// full one.
	left := (columns - len(panels)%columns) % columns
	last := len(panels) - len(panels)%columns
	var body canvas
	y := margin
	put := func(p part, x float64) {
		body.open("g", "transform", fmt.Sprintf("translate(%s %s)", num(x), num(y)))
		body.b.WriteString(p.body)
		body.close("g")
	}
	put(head, margin)
	y += head.high
	for row := 0; row < len(panels); row += columns {
		high := 0.0
		for k := row; k < min(row+columns, len(panels)); k++ {
			put(panels[k], margin+float64(k-row)*(panelWide+gap))
			high = max(high, panels[k].high)
		}
		if row == last {
			foot := d.foot(caution, float64(left)*(panelWide+gap)-gap)
			put(foot, margin+float64(columns-left)*(panelWide+gap))
			high = max(high, foot.high)
		}
		y += high + gap
	}
	if left == 0 {
		foot := d.foot(caution, wide-2*margin)
		put(foot, margin)
		y += foot.high
	}
	return document(wide, y+margin, d.title(), d.told(caution), body.b.String())
}

// document is a drawing that stands alone. Its size is told, so that a browser
// can make a picture of it.
func document(wide, high float64, title, told, body string) []byte {
	high = math.Ceil(high)
	var c canvas
	c.b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	c.open("svg", "xmlns", "http://www.w3.org/2000/svg", "width", num(wide), "height", num(high), "viewBox", fmt.Sprintf("0 0 %s %s", num(wide), num(high)),
		"role", "img", "aria-labelledby", "title desc", "lang", "en")
	c.element("title", title, "id", "title")
	c.element("desc", told, "id", "desc")
	c.element("style", Style)
	c.b.WriteString(hatching)
	c.empty("rect", "class", "paper", "width", num(wide), "height", num(high))
	c.b.WriteString(body)
	c.close("svg")
	return []byte(c.b.String())
}

// drawing is one strip in the making.
type drawing struct {
	t       *judge.Track
	b       *judge.Board
	eyes    Eyes
	moments []moment
	view    view
}

// part is something drawn around its upper left corner, and how high it is.
type part struct {
	body string
	high float64
}

func (d *drawing) title() string {
	against := ""
	if d.b.Call != nil {
		against = " against " + d.b.Call.Name
	}
	return fmt.Sprintf("%s%s, to the %s", d.t.Play.Name, against, d.b.Side)
}

// head is the title, what was asked for, and how it ended.
func (d *drawing) head(notes []string, wide float64) part {
	var c canvas
	y := 0.0
	for _, line := range wrap(d.title(), wide, titleSize*1.06) { // bold is wider
		y += titleSize + 3
		c.text("title", 0, y-3, line)
	}
	eyes := "seen with the offense's eyes"
	if d.eyes == Defense {
		eyes = "seen with the defense's eyes"
	}
	y += 4
	for _, line := range wrap(strings.Join(append(notes, eyes), "; "), wide, textSize) {
		y += lineHigh
		c.text("small", 0, y, line)
	}
	y += 3
	for _, line := range wrap(d.t.End.Say, wide, textSize*1.14) {
		y += lineHigh
		c.text("end", 0, y, line)
	}
	return part{c.b.String(), y + gap}
}

// foot lists who broke what, explains the signs, and gives the cautions.
func (d *drawing) foot(caution string, wide float64) part {
	var c canvas
	y := 0.0
	lines := func(class, text string, indent float64) {
		size := textSize
		if class == "strong" {
			size *= 1.14 // bold is wider
		}
		for i, line := range wrap(text, wide-indent, size) {
			y += lineHigh
			x := indent
			if i == 0 {
				x = 0
			}
			c.text(class, x, y, line)
		}
	}
	if len(d.t.Faults) == 0 {
		lines("strong", "Nobody broke his rule.", 0)
	} else {
		lines("strong", "Who broke his rule, first cause first", 0)
		for i := range d.t.Faults {
			lines("line", d.faultLine(i), 18)
		}
	}
	y += 6
	lines("small", d.signs(), 0)
	lines("small", Model, 0)
	if caution != "" {
		lines("strong", "Caution. "+caution, 0)
	}
	return part{c.b.String(), y}
}

func (d *drawing) faultLine(i int) string {
	f := &d.t.Faults[i]
	cost := ""
	if f.Cost >= 0.05 {
		cost = fmt.Sprintf(" (%.1f yd)", f.Cost)
	}
	return fmt.Sprintf("%d  %s, %s, at %.2f s: %s%s", i+1, f.Who, judge.FaultWords(f.Kind), f.T, d.t.Because(i), cost)
}

func (d *drawing) signs() string {
	s := "Square: offense. Disc: defense, the half-ring is the side of his hat. Full line: way of the offense, the heavy one the ball's; dashed: of the defense. "
	if len(d.t.Lanes) > 0 {
		s += "Strips are lanes, counted from the box: hatched is shut, thin is fit, heavy is open; the wedge is the ball's. "
	}
	if d.t.Play.Kind == play.Pass {
		s += "Dotted: who has whom. "
	}
	if len(d.t.Faults) > 0 {
		s += "Flags are numbered as above. "
	}
	return strings.TrimSpace(s)
}

// told is the whole strip in words, for who cannot see it.
func (d *drawing) told(caution string) string {
	var b strings.Builder
	for i := range d.moments {
		m := &d.moments[i]
		fmt.Fprintf(&b, "%d. At %.2f s: %s. ", i+1, m.t, strings.Join(m.says, "; "))
	}
	b.WriteString(d.t.End.Say + ". ")
	for i := range d.t.Faults {
		b.WriteString("Fault " + d.faultLine(i) + ". ")
	}
	if caution != "" {
		b.WriteString("Caution. " + caution)
	}
	return strings.TrimSpace(b.String())
}
