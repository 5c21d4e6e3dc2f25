package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
	"halfline/internal/look"
)

// eleven is a legal eleven of seven on the line; change alters it.
func eleven(r field.Rules, change func(m map[string]look.Man)) look.Look {
	m := map[string]look.Man{}
	for _, o := range []look.Man{
		line("SN", 0, 0), line("LG", -1.5, -0.2), line("RG", 1.5, -0.2), line("LT", -3, -0.3), line("RT", 3, -0.3),
		line("Z", 18, -0.3), line("X", -14, -0.3), at("Q", 0, -5), at("B", 1.5, -5), at("H", 9, -1.4), at("Y", -8, -1.4),
	} {
		m[o.Tag] = o
	}
	if change != nil {
		change(m)
	}
	var men []look.Man
	for _, o := range m {
		men = append(men, o)
	}
	return look.New(field.Ball{Rules: r, Hash: field.MiddleHash, Yard: 40}, men)
}

func TestLegalLooks(t *testing.T) {
	off := func(tags ...string) func(map[string]look.Man) {
		return func(m map[string]look.Man) {
			for _, tag := range tags {
				o := m[tag]
				o.Line, o.At.Y = false, -2*field.Yard
				m[tag] = o
			}
		}
	}
	on := func(tags ...string) func(map[string]look.Man) {
		return func(m map[string]look.Man) {
			for _, tag := range tags {
				o := m[tag]
				o.Line, o.At.Y = true, 0
				m[tag] = o
			}
		}
	}
	put := func(o look.Man) func(map[string]look.Man) {
		return func(m map[string]look.Man) { m[o.Tag] = o }
	}
	drop := func(tags ...string) func(map[string]look.Man) {
		return func(m map[string]look.Man) {
			for _, tag := range tags {
				delete(m, tag)
			}
		}
	}
	both := func(a, b func(map[string]look.Man)) func(map[string]look.Man) {
		return func(m map[string]look.Man) { a(m); b(m) }
	}
	for _, c := range []struct {
		what   string
		rules  field.Rules
		change func(map[string]look.Man)
		want   []string
	}{
		{"seven on the line, four backs", field.NFHS, nil, nil},
		{"seven on the line, four backs", field.NCAA, nil, nil},
		{"seven on the line, four backs", field.Pro, nil, nil},

		// NFHS 7-2-5a since 2019 and NCAA 7-1-4-a: at most four backs. The NFL's
		// seven on the line (7-5-1) is from memory.
		{"five backs", field.NFHS, off("Z"), []string{"5 backs: four at most; put 1 on the line"}},
		{"five backs", field.NCAA, off("Z"), []string{"5 backs: four at most; put 1 on the line"}},
		{"six on the line", field.Pro, off("Z"), []string{"5 backs: four at most; put 1 on the line", "6 on the line: at least 7"}},

		// NFHS 7-2-5a since 2019: ten men with four backs are legal; there is no
		// rule of seven on the line.
		{"ten men, six on the line", field.NFHS, drop("X"), nil},
		{"ten men, six on the line", field.NCAA, drop("X"), nil},
		{"nine on the line", field.NFHS, on("H", "Y"), nil},
		{"nine on the line", field.Pro, on("H", "Y"), nil},
		{"twelve men", field.NFHS, put(line("W", 6, 0)), []string{"12 men: eleven at most"}},

		// NFHS 2-32-3 (wording seen inside 7-2-7): a back is clear of the plane
		// through the waist of the nearest man on the line.
		{"neither back nor lineman", field.NFHS, put(at("H", 9, -0.5)),
			[]string{"H is neither on the line nor clear behind RT: move him back to 0.806 yd or put him on the line"}},
		{"clear by half a yard", field.NFHS, put(at("H", 9, -0.84)), nil},
		{"the passer under the snapper", field.NFHS, put(at("Q", 0, -0.3)), nil},
		// The NFL's whole yard is from memory.
		{"less than a yard back", field.Pro, put(at("H", 9, -0.84)), []string{"H is off the line but only 0.83 yd behind it: at least 1"}},
		{"a yard back", field.Pro, put(at("H", 9, -1)), nil},

		{"over the line", field.NFHS, put(line("Z", 18, 0.5)), []string{"Z is beyond the line of scrimmage"}},
		{"a lineman too deep", field.NFHS, put(line("Z", 18, -1.5)), []string{"Z is 1.5 yd deep: too deep to be on the line"}},
		{"two mistakes in the order of tags", field.NFHS, both(put(at("B", 1, 1)), put(line("Z", 18, 0.5))),
			[]string{"B is beyond the line of scrimmage", "Z is beyond the line of scrimmage"}},
		{"a half-line is judged by who is there", field.Pro, drop("LG", "RG", "LT", "RT", "X", "Y"), nil},
		{"four on the line of eleven", field.NFHS, off("Z", "X", "LG"),
			[]string{"7 backs: four at most; put 3 on the line", "4 on the line: at least 5"}},
	} {
		t.Run(string(c.rules)+" "+c.what, func(t *testing.T) {
			l := eleven(c.rules, c.change)
			assert.Equal(t, c.want, l.Violations())
			assert.Equal(t, c.want, l.Mirror().Violations(), "mirrored")
		})
	}
}

// An inside man on the line beside an end on the line is not eligible (NFHS
// 7-5-6 and the like, from memory).
func TestCoveredMenAreNoted(t *testing.T) {
	assert.Empty(t, eleven(field.NFHS, nil).Notes())
	l := eleven(field.NFHS, func(m map[string]look.Man) { m["H"] = line("H", 9, -0.3) })
	want := []string{"H is covered by Z on the line: not eligible for a pass"}
	assert.Empty(t, l.Violations(), "it is legal")
	assert.Equal(t, want, l.Notes())
	assert.Equal(t, want, l.Mirror().Notes())
}
