package strip

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// canvas collects a document's text. Places are absolute, paths have only M, L, Q
// and Z, so that a drawing can be held to its mirror image.
type canvas struct{ b strings.Builder }

// num writes a length to a tenth; halves go away from 0, so that a mirrored place
// stays the mirror image.
func num(v float64) string {
	v = math.Round(v*10) / 10
	if v == 0 {
		v = 0 // no negative zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// escape makes text safe between tags and in quotes. What XML cannot hold at all
// becomes the sign for an unreadable character.
func escape(t string) string {
	var b strings.Builder
	for _, r := range t {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&#34;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\t' || r == '\n' || r == '\r':
			b.WriteByte(' ')
		case r < ' ' || r == utf8.RuneError || r == 0xfffe || r == 0xffff:
			b.WriteRune(utf8.RuneError)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// open begins an element; attrs are names and values by turns.
func (c *canvas) open(name string, attrs ...string) {
	c.start(name, attrs)
	c.b.WriteString(">\n")
}

func (c *canvas) start(name string, attrs []string) {
	c.b.WriteString("<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		c.b.WriteString(" " + attrs[i] + `="` + escape(attrs[i+1]) + `"`)
	}
}

func (c *canvas) close(name string) { c.b.WriteString("</" + name + ">\n") }

func (c *canvas) empty(name string, attrs ...string) {
	c.start(name, attrs)
	c.b.WriteString("/>\n")
}

// element is one with text in it.
func (c *canvas) element(name, text string, attrs ...string) {
	c.start(name, attrs)
	c.b.WriteString(">" + escape(text) + "</" + name + ">\n")
}

func (c *canvas) text(class string, x, y float64, text string, attrs ...string) {
	c.element("text", text, append([]string{"class", class, "x", num(x), "y", num(y)}, attrs...)...)
}

func (c *canvas) line(class string, a, b point) {
	c.empty("line", "class", class, "x1", num(a.x), "y1", num(a.y), "x2", num(b.x), "y2", num(b.y))
}

func (c *canvas) path(class string, d *strings.Builder) {
	c.empty("path", "class", class, "d", d.String())
}

// point is a place in a panel.
type point struct{ x, y float64 }

func (p point) to(q point) (dx, dy, far float64) {
	dx, dy = q.x-p.x, q.y-p.y
	return dx, dy, math.Hypot(dx, dy)
}

// poly writes a line through points.
func poly(d *strings.Builder, ps ...point) {
	for i, p := range ps {
		if i == 0 {
			d.WriteString("M")
		} else {
			d.WriteString("L")
		}
		d.WriteString(num(p.x) + " " + num(p.y))
	}
}

// textWide is how wide a text is in a system's font, well enough to lay lines out.
func textWide(text string, size float64) float64 {
	return float64(utf8.RuneCountInString(text)) * size * 0.56
}

// wrap breaks text into lines that are not wider than so much, at spaces; a word
// wider than that stands alone.
func wrap(text string, wide, size float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		next := w
		if line != "" {
			next = line + " " + w
		}
		if line != "" && textWide(next, size) > wide {
			out = append(out, line)
			next = w
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// Style is the look of the signs, the same text in every document, so that a page's
// policy can name it. Colours are those of the board (Okabe and Ito, 2008), each
// beside a shape or a word that says the same.
var Style = strings.ReplaceAll(style, "\n", "")

const style = `
svg{font-family:system-ui,sans-serif;font-size:14px}text{fill:#14181c}
.paper{fill:#fff}.title{font-size:19px;font-weight:700}.end{font-size:15px;font-weight:700}
.strong,.time{font-weight:700}.small{fill:#3c4247}
.frame{fill:none;stroke:#14181c;stroke-width:1}.turf{fill:#fbfaf6}
.yard{stroke:#c3beb2;stroke-width:1}.goal{stroke:#8e8a80;stroke-width:3}.mark{fill:none;stroke:#8e8a80;stroke-width:1}
.numbers{fill:#b5b0a4;font-weight:600;text-anchor:middle}.scale{font-size:10px;fill:#555c62}
.sideline{stroke:#14181c;stroke-width:3}.scrimmage{stroke:#14181c;stroke-width:2}
.shut{fill:url(#hatching);stroke:#8e8a80;stroke-width:1}.fit{fill:#0072b2;fill-opacity:.08;stroke:#8e8a80;stroke-width:1}
.open{fill:#d55e00;fill-opacity:.1;stroke:#d55e00;stroke-width:4}
.lane{font-size:11px;text-anchor:middle;paint-order:stroke;stroke:#fbfaf6;stroke-width:4px;stroke-linejoin:round}.lane.of-open{font-weight:700}
.leader{stroke:#8e8a80;fill:none}.wedge{fill:#14181c}
.way{fill:none;stroke:#555c62;stroke-width:1.3}.way.ball{stroke:#14181c;stroke-width:2.6}.way.def{stroke-dasharray:4 3}
.has{stroke:#0072b2;stroke-width:1.6;stroke-dasharray:1.5 3.5;stroke-linecap:round}
.square,.disc{fill:#fff;stroke:#14181c}.square{stroke-width:1.6}.disc{stroke-width:1.6;fill:#e9e6dd}.has-ball{stroke-width:3.2}
.hat{fill:none;stroke:#14181c;stroke-width:3.6;stroke-linecap:round}.tag{font-weight:700;text-anchor:middle}
.free{fill:none;stroke:#d55e00;stroke-width:2;stroke-dasharray:5 3}
.pole{stroke:#14181c;stroke-width:1.4}.flag{fill:#d55e00;stroke:#14181c;stroke-width:1}.count{font-size:10px;font-weight:700;text-anchor:middle;fill:#000}
.oval{fill:#14181c;stroke:#fff;stroke-width:1}
.ring{fill:none;stroke:#14181c;stroke-width:2.6}.badge{fill:#fff;stroke:#14181c;stroke-width:1.2}.mark-of{fill:none;stroke:#14181c;stroke-width:1.8;stroke-linecap:round;stroke-linejoin:round}
.numeral{font-size:10px;font-weight:600;text-anchor:middle;paint-order:stroke;stroke:#fbfaf6;stroke-width:3px;stroke-linejoin:round}
.rulebox{fill:none;stroke:#555c62;stroke-width:1}.pocket{fill:#009e73;fill-opacity:.12;stroke:#14181c;stroke-width:1.2;stroke-dasharray:1.5 3.5;stroke-linecap:round}
.blocks{fill:none;stroke:#14181c;stroke-width:2}.runs{fill:none;stroke:#14181c;stroke-width:3;stroke-linejoin:round}.tie{stroke:#8e8a80;stroke-width:6;stroke-linecap:round}
`

const hatching = `<defs><pattern id="hatching" width="7" height="7" patternUnits="userSpaceOnUse"><path d="M0 7L7 0" stroke="#77736a" stroke-width="1.2"/></pattern></defs>
`
