package judge

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/look"
)

// Move puts a move into a coach's words: "1½ yd inside, 1 deeper". In and out
// are spelled from the ball on the man's own side. Lengths are told in half
// yards; under a quarter of a yard in feet and inches is not worth words, so it
// is told in inches.
func Move(m field.Offset, half field.Side) string {
	out := half.OutInches(m.X)
	var parts []string
	say := func(v field.Inches, plus, minus string) {
		if v == 0 {
			return
		}
		w := plus
		if v < 0 {
			w, v = minus, -v
		}
		l := Length(v)
		if len(parts) > 0 {
			l = strings.TrimSuffix(l, " yd")
		}
		parts = append(parts, l+" "+w)
	}
	say(out, "outside", "inside")
	say(m.Y, "deeper", "up")
	if len(parts) == 0 {
		return "Stay"
	}
	return strings.Join(parts, ", ")
}

// Length tells a length: half yards from a third of a yard on, else inches.
func Length(v field.Inches) string {
	if v < 12 {
		return fmt.Sprintf("%d in", v)
	}
	halves := int(math.Round(float64(v) / 18))
	if math.Abs(float64(v)-float64(halves)*18) > 3 {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v.Yards()), ".0") + " yd"
	}
	w, h := halves/2, halves%2
	switch {
	case w == 0:
		return "½ yd"
	case h == 1:
		return fmt.Sprintf("%d½ yd", w)
	}
	return fmt.Sprintf("%d yd", w)
}

// Seconds tells a margin, to the tenth, without a sign.
func Seconds(s float64) string { return fmt.Sprintf("%.1f s", math.Abs(s)) }

// named puts the man's tag behind the first mention of each number in a call's
// words: "#2" becomes "#2 (H)". Numbers with nobody there stay as they are.
func named(t string, n []look.Man) string {
	for i, m := range n {
		if i > 2 {
			break
		}
		num := fmt.Sprintf("#%d", i+1)
		t = strings.Replace(t, num, num+" ("+m.Tag+")", 1)
	}
	return t
}

// landmarkWords tells where a landmark is: "1 inside #2".
func landmarkWords(l call.Landmark) string {
	what := string(l.Off)
	switch l.Off {
	case call.OffApex:
		what = "the apex"
	case call.OffEnd:
		what = "the last man on the line"
	case call.OffBall:
		what = "the ball"
	}
	switch {
	case l.Out == 0:
		return what
	case l.Out > 0:
		return strings.TrimSuffix(Length(l.Out), " yd") + " outside " + what
	}
	return strings.TrimSuffix(Length(-l.Out), " yd") + " inside " + what
}

// alignWords tells where a spot lines up in one line: "5 deep, the apex out to
// 1 inside #2".
func alignWords(s *call.Stand, d call.Depth) string {
	best := strings.TrimSuffix(Length(d.Best), " yd") + " deep, "
	switch s.Best {
	case s.Inner:
		return best + landmarkWords(s.Inner) + " out to " + landmarkWords(s.Outer)
	case s.Outer:
		return best + landmarkWords(s.Outer) + " in to " + landmarkWords(s.Inner)
	}
	return best + landmarkWords(s.Best)
}

// rangeWords tells the whole range his rule gives him.
func rangeWords(s *call.Stand, d call.Depth) string {
	yd := func(v field.Inches) string { return strings.TrimSuffix(Length(v), " yd") }
	return fmt.Sprintf("from %s to %s, %s to %s deep", landmarkWords(s.Inner), landmarkWords(s.Outer), yd(d.Least), yd(d.Most))
}
