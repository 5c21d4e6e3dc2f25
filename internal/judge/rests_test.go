package judge_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// Every kind of race has its own numbers under it, his and his opponent's first,
// few enough for a phone, the same on both sides.
func TestRestsAreOfTheRaceThatDecides(t *testing.T) {
	bk := book.Builtin()
	seen := map[leverage.Kind]bool{}
	for _, menu := range [][]string{{"toss"}, {"bubble"}, {"now"}, {"wheel"}, {"toss", "wheel"}, {}} {
		var lists [][][]judge.Rest
		both(t, func(t *testing.T, s field.Side) {
			b := setup{call: "two-read", side: s, menu: menu}.board(t, twins(18, 9), []at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, 10.5}})
			r := judge.Run(&b)
			all := map[string]judge.Assumption{}
			for _, a := range judge.Assumptions(&b, bk) {
				all[a.Key] = a
			}
			var list [][]judge.Rest
			for i := range r.Spots {
				sp := &r.Spots[i]
				rests := r.Rests(&b, bk, i)
				list = append(list, rests)
				seen[sp.Race.Kind] = true
				keys := map[string]bool{}
				for _, a := range rests {
					assert.Equal(t, all[a.Key], a.Assumption, "it is one that is stated")
					assert.False(t, keys[a.Key], "twice %s", a.Key)
					keys[a.Key] = true
					assert.NotEmpty(t, a.Say)
					assert.LessOrEqual(t, len([]rune(a.Say)), 32, "%s fits a phone", a.Say)
				}
				assert.Equal(t, "athlete."+sp.Label+".top", rests[0].Key, "his own first")
				assert.True(t, keys["model.band"])
				if sp.Race.Kind == leverage.NoRace {
					assert.Len(t, rests, 4)
					continue
				}
				assert.True(t, keys["athlete."+sp.By+".top"], "%s against %s", sp.Label, sp.By)
				assert.GreaterOrEqual(t, len(rests), 8, sp.Label)
				assert.LessOrEqual(t, len(rests), 13, sp.Label)
				assert.Equal(t, sp.Race.Kind == leverage.Hat, keys["model.set"])
				assert.Equal(t, sp.Race.Kind == leverage.Hat && sp.Label == "C", keys["model.stalk_set"], "a corner is stalked (common practice, no source)")
				assert.Equal(t, sp.Race.Kind == leverage.Top, keys["race.flight_share"])
				assert.Equal(t, sp.Race.Kind == leverage.Alley || sp.Race.Kind == leverage.Edge, keys["athletes.carry"])
			}
			lists = append(lists, list)
		})
		require.Len(t, lists, 2)
		assert.Equal(t, lists[0], lists[1], "no side in it: %s", strings.Join(menu, ", "))
	}
	for _, k := range []leverage.Kind{leverage.NoRace, leverage.Hat, leverage.Alley, leverage.Top} {
		assert.True(t, seen[k], "no %q race among these", k)
	}
}
