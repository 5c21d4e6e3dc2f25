package leverage

import (
	"halfline/internal/assign"
	"halfline/internal/field"
)

// PocketSize is the number of cells along each side of a pocket's grid;
// PocketStep is their size: half a yard, over twenty yards each way.
const (
	PocketSize = 41
	PocketStep = field.Yard / 2
)

// Pocket is the set of places where a defender keeps leverage against every
// play of the menu, the others standing where they are. Cells are centred on
// Origin + (i, j) * PocketStep, out-terms of his half.
type Pocket struct {
	Origin field.Offset
	Cells  [PocketSize * PocketSize]Keeps // row by row, the row nearest the line first
}

// At is the answer of cell (i, j).
func (p *Pocket) At(i, j int) Keeps { return p.Cells[j*PocketSize+i] }

// Place is the middle of cell (i, j), out-terms.
func (p *Pocket) Place(i, j int) field.Offset {
	return field.Offset{X: p.Origin.X + field.Inches(i)*PocketStep, Y: p.Origin.Y + field.Inches(j)*PocketStep}
}

// Pocket fills p for spot i: a grid that holds the whole half yards around his
// rule's range, from the line to twenty yards deep. A cell keeps leverage if the
// side of his rule is right there and the least race has the band to spare; how
// tight or deep the rule wants him does not count, the rule's range is drawn
// apart.
func (b *Board) Pocket(ps []Picture, i int, p *Pocket) {
	d := &b.Spots[i]
	mid := d.Duty.Half.FlipOffset(d.At).X
	if d.Duty.Placed {
		mid = (d.Duty.Box.Inner + d.Duty.Box.Outer) / 2
	}
	p.Origin = field.Offset{X: mid/PocketStep*PocketStep - PocketSize/2*PocketStep}
	as := b.all(ps, i)
	for j := range PocketSize {
		for k := range PocketSize {
			o := p.Place(k, j)
			rule := assign.Result{Verdict: assign.Right}
			if d.Duty.Placed {
				if r := d.Duty.At(d.Duty.Half.FlipOffset(o)); r.Verdict == assign.WrongSide {
					rule.Verdict = r.Verdict
				}
			}
			keeps := No
			if rule.Verdict == assign.Right {
				keeps = Yes
				if m, which := least(as, o.Vec(), &d.Athlete, -b.Model.Band); which >= 0 { // lost is lost
					keeps = b.Model.Of(rule, Race{Kind: as[which].kind, Margin: m})
				}
			}
			p.Cells[j*PocketSize+k] = keeps
		}
	}
}

// Window is an interval of depths in yards.
type Window struct{ Least, Most float64 }

// depthStep and the bounds of a depth window.
const (
	depthStep  = 0.1
	depthLeast = 4.0
	depthMost  = 20.0
)

// Depth finds the depths at which spot i, standing across the field where his
// rule likes him best, keeps leverage against every play of the menu: the
// deepest run of depths that holds his usual one, or the widest. ok is false if
// no depth does. short and deep say which race ends the window at either end
// (NoRace at the bounds of the search).
func (b *Board) Depth(ps []Picture, i int) (w Window, short, deep Race, ok bool) {
	d := &b.Spots[i]
	if !d.Duty.Placed {
		return Window{}, Race{}, Race{}, false
	}
	const n = 160 // (depthMost - depthLeast) / depthStep
	as := b.all(ps, i)
	races := make([]Race, n+1)
	keep := make([]bool, n+1)
	for k := range races {
		at := field.Vec{X: d.Duty.Best.X.Yards(), Y: depthLeast + float64(k)*depthStep}
		races[k] = leastRace(as, at, &d.Athlete)
		keep[k] = races[k].Kind == NoRace || races[k].Margin >= b.Model.Band
	}
	usual := int((d.Duty.Best.Y.Yards()-depthLeast)/depthStep + 0.5)
	from, to := -1, -2
	for k := 0; k <= n; k++ {
		if !keep[k] {
			continue
		}
		e := k
		for e+1 <= n && keep[e+1] {
			e++
		}
		holds := k <= usual && usual <= e
		if holds || e-k > to-from {
			from, to = k, e
		}
		if holds {
			break
		}
		k = e
	}
	if from < 0 {
		return Window{}, Race{}, Race{}, false
	}
	if from > 0 {
		short = races[from-1]
	}
	if to < n {
		deep = races[to+1]
	}
	return Window{depthLeast + float64(from)*depthStep, depthLeast + float64(to)*depthStep}, short, deep, true
}
