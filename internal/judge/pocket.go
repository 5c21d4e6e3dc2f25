package judge

import (
	"halfline/internal/field"
	"halfline/internal/leverage"
)

// PocketResult is where a man may stand and still keep everything, as closed
// outlines in field terms: Keeps around the places that keep leverage, Maybe
// around those that keep it or are contested.
type PocketResult struct{ Keeps, Maybe [][]field.Offset }

// Pocket finds the pocket of the spot with a label, the others standing where
// they are. ok is false in a frozen moment and for a man without a place here.
func Pocket(b *Board, label string) (r PocketResult, ok bool) {
	if b.Moment != nil {
		return r, false
	}
	w := newWork(b)
	w.draw()
	for k, i := range w.order {
		if b.Spots[i].Label != label || !w.lv.Spots[k].Duty.Placed {
			continue
		}
		var p leverage.Pocket
		w.lv.Pocket(w.pics, k, &p)
		half := w.lv.Spots[k].Duty.Half
		r.Keeps = outline(&p, half, func(c leverage.Keeps) bool { return c == leverage.Yes })
		r.Maybe = outline(&p, half, func(c leverage.Keeps) bool { return c != leverage.No })
		return r, true
	}
	return r, false
}

// corner is a corner of the grid's cells.
type corner struct{ x, y int }

// outline walks around the cells that are in: every edge between a cell that is
// in and one that is not belongs to one loop, with the cell on its right hand.
func outline(p *leverage.Pocket, half field.Side, in func(leverage.Keeps) bool) [][]field.Offset {
	const n = leverage.PocketSize
	has := func(i, j int) bool { return i >= 0 && j >= 0 && i < n && j < n && in(p.At(i, j)) }
	next := map[corner][]corner{}
	var starts []corner
	add := func(a, b corner) {
		next[a] = append(next[a], b)
		starts = append(starts, a)
	}
	for j := range n {
		for i := range n {
			if !has(i, j) {
				continue
			}
			if !has(i, j-1) {
				add(corner{i + 1, j}, corner{i, j})
			}
			if !has(i, j+1) {
				add(corner{i, j + 1}, corner{i + 1, j + 1})
			}
			if !has(i-1, j) {
				add(corner{i, j}, corner{i, j + 1})
			}
			if !has(i+1, j) {
				add(corner{i + 1, j + 1}, corner{i + 1, j})
			}
		}
	}
	var out [][]field.Offset
	for _, s := range starts {
		if len(next[s]) == 0 {
			continue
		}
		var loop []corner
		for at := s; len(next[at]) > 0; {
			to := next[at][len(next[at])-1]
			next[at] = next[at][:len(next[at])-1]
			if k := len(loop); k >= 2 && straight(loop[k-2], loop[k-1], at) {
				loop[k-1] = at
			} else {
				loop = append(loop, at)
			}
			at = to
		}
		var l []field.Offset
		for _, c := range loop {
			o := p.Place(c.x, c.y)
			o.X -= leverage.PocketStep / 2
			o.Y -= leverage.PocketStep / 2
			l = append(l, half.FlipOffset(o))
		}
		out = append(out, l)
	}
	return out
}

func straight(a, b, c corner) bool { return (a.x == b.x && b.x == c.x) || (a.y == b.y && b.y == c.y) }
