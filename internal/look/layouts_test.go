package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
	"halfline/internal/look"
)

// layout is how a formation is shown, to the right, and what follows from it:
// numbers, box edges and apex of both sides in yards (0: no apex), and whom the
// apex cannot stand inside of.
type layout struct {
	what              string
	hash              field.Hash
	men               []look.Man
	right, left       []string
	edgeR, edgeL      float64
	apexR, apexL      float64
	attached, covered []string
}

// layouts are those an opponent uses against perimeter rules, eleven men each.
// Names, splits and numbers after trade brief section 1 (common practice, no
// source); splits of the field and boundary after its high-school figures.
var layouts = []layout{
	{what: "2x1", hash: field.MiddleHash, men: []look.Man{line("Z", 18, -0.3), at("H", 9, -1.4), line("X", -14, -0.3), at("B", 1.5, -5), at("F", -1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X"}, edgeR: 4, edgeL: 4, apexR: 6},
	{what: "2x2", hash: field.MiddleHash, men: []look.Man{line("Z", 17, -0.3), at("H", 8, -1.4), line("X", -16, -0.3), at("Y", -8, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 5.5, apexL: 5.5},
	{what: "3x1", hash: field.LeftHash, men: []look.Man{line("Z", 20, -0.3), at("H", 13, -1.4), at("Y", 8, -1.4), line("X", -9, -0.3), at("B", -1.5, -5)},
		right: []string{"Z", "H", "Y"}, left: []string{"X"}, edgeR: 4, edgeL: 4, apexR: 10.5},
	{what: "3x1 with an end", hash: field.LeftHash, men: []look.Man{at("Z", 18, -1.4), at("H", 10, -1.4), line("Y", 4.5, -0.3), line("X", -9, -0.3), at("B", -1.5, -5)},
		right: []string{"Z", "H", "Y"}, left: []string{"X"}, edgeR: 5.5, edgeL: 4, apexR: 7.25, attached: []string{"Y"}},
	{what: "stack", hash: field.MiddleHash, men: []look.Man{line("Z", 14, -0.3), at("H", 14, -2.4), line("X", -14, -0.3), at("Y", -8, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 8.5, apexL: 5.5},
	{what: "bunch", hash: field.MiddleHash, men: []look.Man{at("Z", 11, -1.4), line("Y", 9.5, -0.3), at("H", 8, -1.4), line("X", -14, -0.3), at("B", 1.5, -5)},
		right: []string{"Z", "Y", "H"}, left: []string{"X"}, edgeR: 4, edgeL: 4, apexR: 8.75},
	{what: "end and flanker", hash: field.MiddleHash, men: []look.Man{at("Z", 15, -1.4), line("Y", 4.5, -0.3), line("X", -14, -0.3), at("F", 0, -7), at("B", 0, -5)},
		right: []string{"Z", "Y"}, left: []string{"X"}, edgeR: 5.5, edgeL: 4, attached: []string{"Y"}},
	{what: "unbalanced, the end covered", hash: field.MiddleHash, men: []look.Man{line("Z", 18, -0.3), line("Y", 4.5, -0.3), at("H", -9, -1.4), at("F", -1.5, -5), at("B", 1.5, -5)},
		right: []string{"Z", "Y"}, left: []string{"H"}, edgeR: 5.5, edgeL: 4, attached: []string{"Y"}, covered: []string{"Y"}},
	{what: "unbalanced, a tackle over", hash: field.MiddleHash, men: []look.Man{at("Z", 18, -1.4), line("OT", 4.5, -0.3), line("Y", 6, -0.3), at("H", -9, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "Y"}, left: []string{"H"}, edgeR: 7, edgeL: 4, attached: []string{"Y"}},
	{what: "to the field", hash: field.LeftHash, men: []look.Man{line("Z", 20, -0.3), at("H", 11, -1.4), line("X", -9, -0.3), at("Y", -6, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 7, apexL: 4.5},
	{what: "into the boundary", hash: field.RightHash, men: []look.Man{line("Z", 9, -0.3), at("H", 6, -1.4), line("X", -20, -0.3), at("Y", -11, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 4.5, apexL: 7},
	{what: "tight", hash: field.MiddleHash, men: []look.Man{line("Z", 9, -0.3), at("H", 6.5, -1.4), line("X", -9, -0.3), at("Y", -4.5, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 4.75, attached: []string{"Y"}},
	{what: "wide", hash: field.MiddleHash, men: []look.Man{line("Z", 19, -0.3), at("H", 11, -1.4), line("X", -18, -0.3), at("Y", -10, -1.4), at("B", 1.5, -5)},
		right: []string{"Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 7, apexL: 6.5},
	{what: "empty, the back widest", hash: field.MiddleHash, men: []look.Man{line("Z", 16, -0.3), at("H", 9, -1.4), line("X", -16, -0.3), at("Y", -8, -1.4), at("B", 22, -1.4)},
		right: []string{"B", "Z", "H"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 12.5, apexL: 5.5},
	{what: "empty, the back inside", hash: field.MiddleHash, men: []look.Man{line("Z", 18, -0.3), at("H", 12, -1.4), line("X", -16, -0.3), at("Y", -8, -1.4), at("B", 6, -1.4)},
		right: []string{"Z", "H", "B"}, left: []string{"X", "Y"}, edgeR: 4, edgeL: 4, apexR: 9, apexL: 5.5},
}

func (f layout) look(r field.Rules) look.Look {
	men := append([]look.Man{line("SN", 0, 0), line("LG", -1.5, -0.2), line("RG", 1.5, -0.2), line("LT", -3, -0.3), line("RT", 3, -0.3), at("Q", 0, -5)}, f.men...)
	return look.New(field.Ball{Rules: r, Hash: f.hash, Yard: 40}, men)
}

func TestLayouts(t *testing.T) {
	for _, f := range layouts {
		for _, r := range field.AllRules {
			l := f.look(r)
			assert.Len(t, l.Men, 11, f.what)
			assert.Empty(t, l.Violations(), "%s %s", r, f.what)
			assert.Empty(t, l.Mirror().Violations(), "%s %s", r, f.what)
		}
		for _, s := range sidesOf {
			t.Run(f.what+" "+s.String(), func(t *testing.T) {
				l := f.look(field.NFHS)
				if s == field.Left {
					l = l.Mirror()
				}
				assert.Equal(t, f.right, tags(l.Numbers(s)))
				assert.Equal(t, f.left, tags(l.Numbers(s.Other())))
				const half = 0.5 / 36
				for side, want := range map[field.Side][2]float64{s: {f.edgeR, f.apexR}, s.Other(): {f.edgeL, f.apexL}} {
					assert.InDelta(t, want[0], l.BoxEdge(side).Yards(), half)
					x, ok := l.Apex(side)
					assert.Equal(t, want[1] != 0, ok)
					assert.InDelta(t, want[1], x.Yards(), half)
				}
				var attached []string
				for _, side := range []field.Side{s, s.Other()} {
					for _, m := range l.Numbers(side) {
						if l.Attached(side, m) {
							attached = append(attached, m.Tag)
						}
					}
				}
				assert.Equal(t, f.attached, attached)
				assert.Len(t, l.Notes(), len(f.covered))
				for i, who := range f.covered {
					assert.Contains(t, l.Notes()[i], who+" is covered by")
				}
			})
		}
	}
}

// What the words for a layout mean, held against the looks that bear them
// (trade brief section 1): a bunch is three within 5 yd, tight is #1 within 10
// of the ball, wide at or outside of the numbers, empty nobody behind the line.
func TestLayoutsAreWhatTheyAreCalled(t *testing.T) {
	for _, f := range layouts {
		l := f.look(field.NFHS)
		n := l.Numbers(field.Right)
		at := func(i int) field.Inches { return n[i].At.X }
		switch f.what {
		case "bunch":
			assert.LessOrEqual(t, at(0)-at(2), 5*field.Yard)
		case "tight":
			assert.LessOrEqual(t, at(0), 10*field.Yard)
		case "wide":
			assert.GreaterOrEqual(t, at(0), l.Ball.Numbers(field.Right))
		case "to the field":
			s, ok := l.Ball.FieldSide()
			assert.True(t, ok)
			assert.Equal(t, field.Right, s)
		case "into the boundary":
			s, ok := l.Ball.FieldSide()
			assert.True(t, ok)
			assert.Equal(t, field.Left, s)
		case "empty, the back widest", "empty, the back inside":
			assert.Empty(t, l.Backfield(field.Right))
		default:
			assert.NotEmpty(t, l.Backfield(field.Right), f.what)
		}
	}
}

// Any motion of an eligible man from any layout counts the same on both sides,
// and its end is what the look says there.
func TestMotionFromEveryLayout(t *testing.T) {
	for _, f := range layouts {
		l := f.look(field.NFHS)
		for _, m := range f.men {
			for _, kind := range look.MotionKinds {
				to := field.At(15, -2)
				if kind == look.Jet || kind == look.Orbit {
					to = field.At(-6, -5)
				}
				tl, far := l.Timeline(l.Usual(kind, m.Tag, to)), l.Mirror().Timeline(l.Mirror().Usual(kind, m.Tag, field.Left.FlipOffset(to)))
				r := tl.Renumberings()
				assert.Equal(t, len(r), len(far.Renumberings()), "%s: %s %s", f.what, m.Tag, kind)
				last := tags(l.Numbers(field.Right))
				if len(r) > 0 {
					last = r[len(r)-1].Right
				}
				assert.Equal(t, tags(tl.At(0).Numbers(field.Right)), last, "%s: %s %s", f.what, m.Tag, kind)
			}
		}
	}
}
