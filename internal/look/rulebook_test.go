package look_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/look"
)

// team is so many men on the line and so many backs, each where he may stand.
func team(r field.Rules, onLine, backs int) look.Look {
	var men []look.Man
	for i := range onLine {
		men = append(men, line(fmt.Sprintf("L%02d", i), float64(i)*3-18, 0))
	}
	for i := range backs {
		men = append(men, at(fmt.Sprintf("b%02d", i), float64(i)*3-10, -4))
	}
	return look.New(field.Ball{Rules: r, Hash: field.MiddleHash, Yard: 40}, men)
}

// How many may stand where, by three rulebooks: eleven at most; at most four
// backs and, of eleven, at least five on the line in NFHS (7-2-5a since 2019,
// status R) and NCAA (7-1-4-a, R); in the NFL seven on the line (7-5-1, from
// memory). Ten men, or nine, with four backs are legal: the old "seven on the
// line" is no high-school rule. Whole-team counts are asked of eleven men only,
// since a half-line shows fewer.
func TestHowManyMayStandWhere(t *testing.T) {
	for _, c := range []struct {
		line, backs     int
		nfhs, ncaa, pro bool
		what            string
	}{
		{7, 4, true, true, true, "seven and four"},
		{8, 3, true, true, true, "eight and three"},
		{11, 0, true, true, true, "all on the line"},
		{6, 5, false, false, false, "five backs"},
		{5, 6, false, false, false, "six backs, five on the line"},
		{4, 7, false, false, false, "four on the line"},
		{6, 4, true, true, true, "ten men with four backs"},
		{5, 5, false, false, false, "ten men with five backs"},
		{5, 4, true, true, true, "nine men, five on the line"},
		{8, 4, false, false, false, "twelve men"},
		{7, 5, false, false, false, "twelve men with five backs"},
	} {
		for r, legal := range map[field.Rules]bool{field.NFHS: c.nfhs, field.NCAA: c.ncaa, field.Pro: c.pro} {
			v := team(r, c.line, c.backs).Violations()
			assert.Equal(t, legal, len(v) == 0, "%s %s: %v", r, c.what, v)
		}
	}
	// The same for every number of men, by the rules as written above.
	for _, r := range field.AllRules {
		for onLine := range 13 {
			for backs := range 13 - onLine {
				least := map[field.Rules]int{field.NFHS: 5, field.NCAA: 5, field.Pro: 7}[r]
				legal := onLine+backs <= 11 && backs <= 4 && (onLine+backs != 11 || onLine >= least)
				v := team(r, onLine, backs).Violations()
				assert.Equal(t, legal, len(v) == 0, "%s, %d on the line and %d backs: %v", r, onLine, backs, v)
			}
		}
	}
	short := team(field.Pro, 6, 5).Violations()
	assert.Contains(t, short, "6 on the line: at least 7", "the pro rule names its own number")
	assert.NotContains(t, fmt.Sprint(team(field.NFHS, 6, 5).Violations()), "on the line: at least")
}

// A back's depth. NFHS: clear of the plane through the waist of the nearest man
// on the line (2-32-3 as worded inside 7-2-7, status R2): a yard is not the
// high-school rule. NFL: a whole yard behind the line (from memory).
func TestHowDeepABackMustBe(t *testing.T) {
	for _, c := range []struct {
		y               float64
		nfhs, ncaa, pro bool
	}{{-0.25, false, false, false}, {-0.5, true, true, false}, {-0.75, true, true, false}, {-1, true, true, true}, {-5, true, true, true}} {
		for r, legal := range map[field.Rules]bool{field.NFHS: c.nfhs, field.NCAA: c.ncaa, field.Pro: c.pro} {
			l := look.New(field.Ball{Rules: r, Hash: field.LeftHash, Yard: 40}, []look.Man{line("SN", 0, 0), line("Z", 10, 0), at("H", 9, c.y)})
			assert.Equal(t, legal, len(l.Violations()) == 0, "%s at %g: %v", r, c.y, l.Violations())
			assert.Equal(t, legal, len(l.Mirror().Violations()) == 0, "%s at %g, mirrored", r, c.y)
		}
	}
	// The plane is the nearest lineman's, not the ball's.
	back := look.New(field.Ball{Rules: field.NFHS, Hash: field.LeftHash, Yard: 40}, []look.Man{line("SN", 0, 0), line("Z", 10, -0.5), at("H", 9, -0.75)})
	assert.Len(t, back.Violations(), 1)
}

// Five men at most may go out for a pass besides the passer, ends and backs
// (NFHS 7-5-6, NCAA alike, from memory): of a legal eleven with seven on the line
// and nobody covered they are all counted, each once, as a number of a side or in
// the backfield, so that a call finds an owner for each. Backs stand wide, or 2½
// yd deep and more.
func TestFiveMayGoOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(field.AllRules).Draw(t, "rules")
		men := []look.Man{line("SN", 0, 0), line("LG", -1.5, -0.2), line("RG", 1.5, -0.2), line("LT", -3, -0.3), line("RT", 3, -0.3), at("Q", 0, -5)}
		inches := func(what string, lo, hi int) field.Inches { return field.Inches(rapid.IntRange(lo, hi).Draw(t, what)) }
		men = append(men,
			look.Man{Tag: "Z", At: field.Offset{X: inches("z", 150, 800)}, Line: true},
			look.Man{Tag: "X", At: field.Offset{X: -inches("x", 150, 800)}, Line: true})
		for _, tag := range []string{"B", "F", "H"} {
			o := field.Offset{X: inches(tag, -800, 800), Y: -inches("deep", 90, 250)}
			if o.X.Abs() > 200 && rapid.Bool().Draw(t, "up") {
				o.Y = -50
			}
			men = append(men, look.Man{Tag: tag, At: o})
		}
		l := look.New(field.Ball{Rules: r, Hash: field.MiddleHash, Yard: 40}, men)
		if v := l.Violations(); len(v) > 0 {
			t.Fatalf("%v: %v", men, v)
		}
		if n := l.Notes(); len(n) > 0 {
			t.Fatalf("%v: %v", men, n)
		}
		out := append(tags(l.Numbers(field.Left)), tags(l.Numbers(field.Right))...)
		out = append(out, tags(l.Backfield(field.Right))...)
		slices.Sort(out)
		if !slices.Equal(out, []string{"B", "F", "H", "X", "Z"}) {
			t.Fatalf("%v go out of %v", out, men)
		}
	})
}

// An end with another man outside of him on the line is covered, in all three
// codes (NFHS 7-5-6 and the like, from memory); a wide man off the line covers
// nobody, and interior linemen are never named.
func TestWhoIsCovered(t *testing.T) {
	for _, r := range field.AllRules {
		for _, c := range []struct {
			men  []look.Man
			want []string
		}{
			{[]look.Man{line("Y", 4.5, 0), line("Z", 18, 0)}, []string{"Y is covered by Z on the line: not eligible for a pass"}},
			{[]look.Man{line("Y", 4.5, 0), at("Z", 18, -1)}, nil},
			{[]look.Man{line("RG", 1.5, 0), line("RT", 3, 0), line("Z", 18, 0)}, nil},
			{[]look.Man{line("Y", 4.5, 0), line("X", -12, 0)}, nil},
		} {
			l := look.New(field.Ball{Rules: r, Hash: field.MiddleHash, Yard: 40}, append([]look.Man{line("SN", 0, 0)}, c.men...))
			assert.Equal(t, c.want, l.Notes(), r)
			assert.Equal(t, c.want, l.Mirror().Notes(), "%s mirrored", r)
		}
	}
}
