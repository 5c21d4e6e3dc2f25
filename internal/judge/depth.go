package judge

import (
	"fmt"

	"halfline/internal/leverage"
)

// DepthResult is one man's depth window.
type DepthResult struct {
	Spot       string
	OK         bool // false: no depth keeps everything
	Window     leverage.Window
	Short      string // what ends it nearer the line, "" at the search's bound of 4 yd
	Deep       string // what ends it deeper, "" at the bound of 20 yd
	Top, Tau   float64
	React      float64
	Least      leverage.Race // at his usual depth
	MenuPlayed []string      // ids of the plays judged against
}

// Depth finds the depth window of the spot with a label. ok is false if the
// board has no such spot.
func Depth(b *Board, label string) (DepthResult, bool) {
	w := newWork(b)
	r := DepthResult{Spot: label}
	w.draw()
	for i := range w.pics {
		r.MenuPlayed = append(r.MenuPlayed, w.pics[i].Play.ID)
	}
	for k, i := range w.order {
		if b.Spots[i].Label != label {
			continue
		}
		a := b.Spots[i].Athlete
		r.Top, r.Tau, r.React = a.Top, a.Tau, a.React
		win, short, deep, ok := w.lv.Depth(w.pics, k)
		r.OK, r.Window = ok, win
		r.Short, r.Deep = w.ends(short), w.ends(deep)
		r.Least = w.lv.Least(w.pics, k)
		return r, true
	}
	return r, false
}

// ends names the race that ends a window.
func (w *work) ends(r leverage.Race) string {
	if r.Kind == leverage.NoRace {
		return ""
	}
	by := ""
	if r.By >= 0 {
		by = " against " + w.lv.Men[r.By].Man.Tag
	}
	return fmt.Sprintf("%s: %s race%s", r.Play.ID, r.Kind, by)
}
