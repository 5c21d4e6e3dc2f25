package strip

import (
	"fmt"
	"strings"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// Still draws a board and the answer for it as one picture that stands alone: the
// alignment, or, in a frozen moment, the lanes. what is told under the title.
func Still(b *judge.Board, r *judge.Result, caution, what string, eyes Eyes) []byte {
	d := &drawing{b: b, eyes: eyes}
	d.frame(r, false)
	const wide = panelWide * 2
	y := margin
	var c canvas
	put := func(p part) {
		c.open("g", "transform", fmt.Sprintf("translate(%s %s)", num(margin), num(y)))
		c.b.WriteString(p.body)
		c.close("g")
		y += p.high
	}
	put(stillHead(r, boardTitle(b, r), what, wide, eyes))
	// The field is drawn as a panel of a strip is, twice as large.
	high := d.view.high() * 2
	c.open("g", "transform", fmt.Sprintf("translate(%s %s) scale(2)", num(margin), num(y)))
	c.b.WriteString(d.figure(r, Signs{Boxes: true, Keeps: true}))
	c.empty("rect", "class", "frame", "width", num(d.view.wide), "height", num(d.view.high()))
	c.close("g")
	y += high + gap
	put(stillFoot(b, r, caution, wide))
	told := strings.Join(Told(b, r), ". ")
	if caution != "" {
		told += ". Caution. " + caution
	}
	return document(wide+2*margin, y+margin, boardTitle(b, r), told, c.b.String())
}

func boardTitle(b *judge.Board, r *judge.Result) string {
	t := "The look"
	if b.Call != nil {
		t = b.Call.Name
	}
	if b.Moment != nil && r.Play != nil {
		return fmt.Sprintf("%s against %s, to the %s, when the carrier commits", r.Play.Name, t, b.Side)
	}
	return fmt.Sprintf("%s to the %s", t, b.Side)
}

func stillHead(r *judge.Result, title, what string, wide float64, eyes Eyes) part {
	var c canvas
	y := 0.0
	for _, line := range wrap(title, wide, titleSize*1.06) {
		y += titleSize + 3
		c.text("title", 0, y-3, line)
	}
	seen := "seen with the offense's eyes"
	if eyes == Defense {
		seen = "seen with the defense's eyes"
	}
	if what != "" {
		seen = what + "; " + seen
	}
	y += 2
	for _, line := range wrap(seen, wide, textSize) {
		y += lineHigh
		c.text("small", 0, y, line)
	}
	if v := r.Look.Violations; len(v) > 0 {
		for _, line := range wrap("Not a legal look: "+strings.Join(v, "; "), wide, textSize*1.1) {
			y += lineHigh
			c.text("strong", 0, y, line)
		}
	}
	return part{c.b.String(), y + gap}
}

func stillFoot(b *judge.Board, r *judge.Result, caution string, wide float64) part {
	var c canvas
	y := 0.0
	lines := func(class, text string) {
		size := textSize
		if class == "strong" {
			size *= 1.14 // bold is wider
		}
		for _, line := range wrap(text, wide, size) {
			y += lineHigh
			c.text(class, 0, y, line)
		}
	}
	for _, t := range Told(b, r) {
		lines("line", t)
	}
	y += 6
	lines("small", stillSigns(b))
	lines("small", Model)
	if caution != "" {
		lines("strong", "Caution. "+caution)
	}
	return part{c.b.String(), y}
}

func stillSigns(b *judge.Board) string {
	s := "Square: offense, numbered from the sideline. Disc: defense, the half-ring is the side of his hat. "
	if b.Moment != nil {
		return s + "Strips are lanes, counted from the box: hatched is shut, thin is fit, heavy is open; the wedge is the runner's best."
	}
	return s + "Whole ring and tick: keeps leverage; dashed ring and wave: contested; broken ring and cross: loses it. Thin box: where his rule lets him stand."
}

var keepsWords = map[leverage.Keeps]string{leverage.Yes: "keeps leverage", leverage.Contested: "contested", leverage.No: "loses leverage"}

// Told is a board in words, a line for each man of the defense and each lane.
func Told(b *judge.Board, r *judge.Result) []string {
	var out []string
	for i := range r.Spots {
		s := &r.Spots[i]
		line := fmt.Sprintf("%s: %s deep, %s outside the ball", s.Label, yards(s.At.Y), yards(b.Side.OutInches(s.At.X)))
		if out := b.Side.OutInches(s.At.X); out < 0 {
			line = fmt.Sprintf("%s: %s deep, %s to the other side", s.Label, yards(s.At.Y), yards(-out))
		}
		if b.Moment == nil {
			line += "; " + keepsWords[s.Keeps]
			if s.Fix != (field.Offset{}) {
				line += "; go " + judge.Move(s.Fix, s.Duty.Half)
			}
		}
		out = append(out, line)
	}
	if b.Moment == nil {
		return out
	}
	for i := range r.Lanes {
		out = append(out, "Lane "+laneSays(&r.Lanes[i])[0])
	}
	for i := range r.Faults {
		out = append(out, fmt.Sprintf("Fault %d: %s, %s", i+1, r.Faults[i].Who, judge.FaultWords(r.Faults[i].Kind)))
	}
	return out
}

func yards(v field.Inches) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v.Yards()), ".0") + " yd"
}

// hatSide is the side that a hat rule asks for: 1 outside, -1 inside, 0 neither.
func hatSide(h call.Hat) float64 {
	switch h {
	case call.HatOutside:
		return 1
	case call.HatInside:
		return -1
	}
	return 0
}
