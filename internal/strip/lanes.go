package strip

import (
	"fmt"
	"math"
	"strings"

	"halfline/internal/judge"
)

const (
	laneDeep = 8.0 // yd beyond the line that a lane's strip reaches
	laneSize = 11.0
	laneRow  = 13.0
	lanePad  = 3.0
	mostRows = 3 // further from its lane a name says nothing
)

// lanesAt is the lanes as last judged, nil before the carrier has chosen.
func lanesAt(t *judge.Track, s float64) *judge.LanesAt {
	var last *judge.LanesAt
	for i := range t.Lanes {
		if t.Lanes[i].T <= s+1e-6 {
			last = &t.Lanes[i]
		}
	}
	return last
}

func laneClass(l *judge.LaneResult) string {
	switch {
	case l.ShutBy != "":
		return "shut"
	case l.FitBy != "":
		return "fit"
	}
	return "open"
}

// laneSays words a lane from long to short; its number comes first.
func laneSays(l *judge.LaneResult) []string {
	n := fmt.Sprint(l.N)
	switch {
	case l.ShutBy != "":
		return []string{n + " shut by " + l.ShutBy, n + " by " + l.ShutBy, n + " " + l.ShutBy}
	case l.FitBy != "":
		return []string{fmt.Sprintf("%s %s fits, %.1f yd", n, l.FitBy, l.Gain), n + " " + l.FitBy + " fits", n + " " + l.FitBy}
	}
	return []string{fmt.Sprintf("%s open, %.1f yd", n, l.Gain), n + " open"}
}

// lanes draws the strips from the line to eight yards.
func (d *drawing) lanes(c *canvas, now *judge.LanesAt) {
	v := &d.view
	for i := range now.Lanes {
		l := &now.Lanes[i]
		a, b := v.at(l.Inner.Yards(), laneDeep), v.at(l.Outer.Yards(), 0)
		wide := max(math.Abs(a.x-b.x), 1) // a lane without width still is to be seen
		c.empty("rect", "class", laneClass(l), "x", num((a.x+b.x-wide)/2), "y", num(min(a.y, b.y)),
			"width", num(wide), "height", num(math.Abs(a.y-b.y)))
		if l.N == now.Takes {
			d.wedge(c, l)
		}
	}
}

// wedge points into the lane that the ball takes.
func (d *drawing) wedge(c *canvas, l *judge.LaneResult) {
	in, out := l.Inner.Yards(), l.Outer.Yards()
	if math.Abs(out-in) > 6 { // in a wide lane he turns up near its inner edge
		out = in + math.Copysign(6, out-in)
	}
	x := (in + out) / 2
	var p strings.Builder
	poly(&p, d.view.at(x-0.7, 0.3), d.view.at(x, 1.5), d.view.at(x+0.7, 0.3))
	p.WriteString("Z")
	c.path("wedge", &p)
}

// laneNames writes what each lane is at its end. A wording that is too wide for
// its lane is shortened; one that still is, or that a man would hide, goes a row
// further, with a line down to its lane.
func (d *drawing) laneNames(c *canvas, now *judge.LanesAt, men []piece) {
	v := &d.view
	end := v.at(0, laneDeep).y
	away := v.turnY // rows go on downfield
	rowY := func(row int) float64 { return end + away*(laneRow*float64(row)+9) }
	var rows [][][2]float64
	fits := func(row int, a, b float64) bool {
		for row >= len(rows) {
			rows = append(rows, nil)
		}
		for _, r := range rows[row] {
			if b > r[0] && a < r[1] {
				return false
			}
		}
		return row >= mostRows || !hidden(men, a, b, rowY(row))
	}
	for i := range now.Lanes {
		l := &now.Lanes[i]
		a, b := v.at(l.Inner.Yards(), 0).x, v.at(l.Outer.Yards(), 0).x
		a, b = max(min(a, b), 0), min(max(a, b), v.wide)
		says, row := laneSays(l), 1
		text := says[min(1, len(says)-1)]
		for _, s := range says {
			if textWide(s, laneSize) <= b-a-2*lanePad {
				text, row = s, 0
				break
			}
		}
		half := textWide(text, laneSize)/2 + lanePad
		foot := (a + b) / 2
		x := min(max(foot, half), v.wide-half)
		for !fits(row, x-half, x+half) {
			row++
		}
		rows[row] = append(rows[row], [2]float64{x - half, x + half})
		y := rowY(row)
		if row > 0 {
			c.line("leader", point{foot, end}, point{x, y - away*6})
		}
		c.text("lane of-"+laneClass(l), x, y, text, "dy", "0.35em")
	}
}

// hidden reports whether a man would hide a name that reaches from a to b.
func hidden(men []piece, a, b, y float64) bool {
	for i := range men {
		p := men[i].draw
		x := min(max(p.x, a), b)
		if math.Hypot(p.x-x, p.y-y) < manSize+3 {
			return true
		}
	}
	return false
}
