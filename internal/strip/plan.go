package strip

import (
	"strings"

	"halfline/internal/field"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// plan draws what the offense is going to do: every man's way, with a bar across
// its end where he blocks and an arrow where he runs with the ball or to it. Who
// blocks without a way to go has a bar in front of him.
func (d *drawing) plan(c *canvas, ps []piece, s Signs) {
	t := d.t
	end := t.End.T
	for i := range t.Events {
		switch e := &t.Events[i]; e.What {
		case rep.Commits:
			if t.Play.Kind != play.Pass {
				end = min(end, e.T)
			}
		case rep.Catch:
			if t.Play.Kind == play.Pass {
				end = min(end, e.T)
			}
		}
	}
	for i, tag := range t.Men {
		from := find(ps, tag)
		if from == nil {
			continue
		}
		way := []point{from.draw}
		last := at(t, i, t.From)
		for x := t.From + t.Step; x <= end+1e-6; x += t.Step {
			if o := at(t, i, x); far(o, last) >= field.Yard/3 {
				way, last = append(way, d.view.place(o)), o
			}
		}
		on := ""
		for _, m := range s.Blocks {
			if m.By == tag {
				on = m.On
			}
		}
		target := find(ps, on)
		switch {
		case target != nil: // as far as the man he blocks, wherever that one has gone
			d.bar(c, append(short(way, target.draw), target.draw))
		case len(way) > 2, tag == s.Carrier && len(way) > 1:
			class := "way"
			if tag == s.Carrier {
				class = "runs"
			}
			d.arrow(c, class, way)
		}
	}
}

// short cuts a way where it is nearest to a place.
func short(way []point, to point) []point {
	best, least := 0, 1e9
	for i, p := range way {
		if _, _, far := p.to(to); far < least {
			best, least = i, far
		}
	}
	for best > 0 { // the last step goes straight to the man
		if _, _, far := way[best].to(to); far > 2*manSize+6 {
			break
		}
		best--
	}
	return way[:best+1]
}

// bar is a block: a way that ends in a bar in front of its man.
func (d *drawing) bar(c *canvas, way []point) {
	n := len(way)
	dx, dy, far := way[n-2].to(way[n-1])
	if far < 1 {
		return
	}
	dx, dy = dx/far, dy/far
	stop := max(far-manSize-5, far/2)
	tip := point{way[n-2].x + dx*stop, way[n-2].y + dy*stop}
	const half = 7.0
	var w strings.Builder
	poly(&w, append(way[:n-1:n-1], tip)...)
	poly(&w, point{tip.x - dy*half, tip.y + dx*half}, point{tip.x + dy*half, tip.y - dx*half})
	c.path("blocks", &w)
}

// arrow is a way with a head at its end.
func (d *drawing) arrow(c *canvas, class string, way []point) {
	n := len(way)
	dx, dy, far := way[max(n-4, 0)].to(way[n-1])
	var w strings.Builder
	poly(&w, way...)
	if far > 1 {
		const back, half = 8.0, 5.0
		dx, dy = dx/far, dy/far
		tip := way[n-1]
		foot := point{tip.x - dx*back, tip.y - dy*back}
		poly(&w, point{foot.x - dy*half, foot.y + dx*half}, tip, point{foot.x + dy*half, foot.y - dx*half})
	}
	c.path(class, &w)
}
