package book_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
)

// soundCall is a half-line of a staff's own that mistakes are put into: the apex
// spills, the corner forces, the safety has the alley.
const soundCall = `book: 1
name: A staff
calls:
  ours:
    spots:
      C:
        role: corner
        stand: {best: "#1+1", inner: "#1", outer: "#1+1.5", depth: [7, 5, 8], keep: "outside of #1"}
        fits:
          toss: {job: force, owns: last, hat: outside, key: 0.3}
          bubble: {job: force, owns: last, hat: outside, key: throw}
        pass:
          - {if: "#2 out", do: his on the throw, holds: on-throw}
          - {if: "#2 wheel", do: his, holds: over}
          - {if: "#1", do: his, holds: in-phase}
      N:
        role: apex
        stand: {best: apex, inner: apex, outer: "#2-1", depth: [5, 4, 6], keep: "inside of #2"}
        fits:
          toss: {job: cutback, owns: 0, hat: inside, key: 0.05}
          bubble: {job: inside-out, owns: 0, hat: either, key: 0.5}
        pass:
          - {if: "#2", do: wall him, holds: under}
      FS:
        role: safety
        stand: {best: "#2-1", inner: "#2-4", outer: "#2", depth: [10, 8, 12], keep: "inside of #2"}
        fits:
          toss: {job: alley, owns: 1, hat: outside, key: 0.3}
          bubble: {job: overlap, owns: none, hat: outside, key: throw}
        pass:
          - {if: "#2 vertical", do: his, holds: over}
          - {if: "#2 wheel", do: over him, takes: "#1", holds: over}
      LB:
        role: hook
        stand: {best: "end-1", inner: "ball", outer: "end+1", depth: [4.5, 4, 5], keep: "head-up on ball"}
        fits:
          toss: {job: overlap, owns: 0, spare: true, hat: either, key: 0.2}
        pass:
          - {if: "back", do: his, holds: under}
`

// flaws are mistakes in a sound call, by what is then said. Each is one
// contradiction (common practice, no source).
var flaws = []struct{ what, old, new, want string }{
	{"two force men", "toss: {job: cutback, owns: 0, hat: inside, key", "toss: {job: force, owns: last, hat: outside, key",
		`20:23: call ours: C and N both force the toss on one side: one man forces; give the other another job, such as secondary contain or cutback`},
	{"an edge nobody holds", "toss: {job: force, owns: last, hat: outside", "toss: {job: overlap, owns: none, hat: either",
		`10:38: call ours: nobody holds the edge against the toss: let one man force, or own the last lane: {job: secondary contain, owns: last, hat: outside}`},
	{"two men in one lane, none in another", "toss: {job: alley, owns: 1", "toss: {job: alley, owns: 0",
		`28:36: call ours: N and FS both own lane 0 against the toss, while lane 1 has nobody and no hat shuts it: owns: 1 for one of them, or a hat that shuts it (outside on block 1 or further in, inside on block 2)`},
	{"a lane nobody has", "toss: {job: alley, owns: 1", "toss: {job: overlap, owns: none",
		`28:38: call ours: nobody owns lane 1 against the toss, and no hat shuts it: owns: 1 for a free man, or a hat that shuts it (outside on block 1 or further in, inside on block 2)`},
	{"a hat that shuts nothing", "toss: {job: force, owns: last, hat: outside", "toss: {job: force, owns: last, hat: either",
		`10:47: call ours: C has lane 2 against the toss, and he is blocked with a hat (either) that does not shut it: owns: 2 for a free man, or the hat outside on block 2 or further in`},
	{"the bubble's inside lane", "bubble: {job: inside-out, owns: 0", "bubble: {job: inside-out, owns: last",
		`21:43: call ours: C and N both own lane 1 against the bubble, while lane 0 has nobody and no hat shuts it: owns: 0 for one of them, or the hat inside on block 1`},
	{"a receiver nobody has on a wheel", `          - {if: "#2 wheel", do: his, holds: over}` + "\n          - {if: \"#1\", do: his, holds: in-phase}", `          - {if: "#1 vertical", do: his, holds: in-phase}`,
		`13:11: call ours: nobody has #1: #1 under and #2 vertical: a pass rule that takes him, such as {if: "#1 under", do: his, holds: in-phase}`},
	{"a slot nobody has", `{if: "#2", do: wall him, holds: under}`, `{if: "#2", do: wall him}`,
		`23:11: call ours: nobody has #2: #1 vertical and #2 under: a pass rule that takes him, such as {if: "#2 under", do: his, holds: in-phase}`},
	{"a back nobody has", `{if: "back", do: his, holds: under}`, `{if: "#3", do: his, holds: under}`,
		`39:11: call ours: nobody has back: #1 vertical and #2 vertical, the back out: a pass rule that takes him, such as {if: "back out", do: his, holds: in-phase}`},
	{"a force man's hat inside", "toss: {job: force, owns: last, hat: outside", "toss: {job: force, owns: last, hat: inside",
		`10:47: call ours: C stands outside of #1 and forces the toss, yet his hat is to be inside: hat: outside`},
	{"an edge's hat inside, from inside", `outer: "#1+1.5", depth: [7, 5, 8], keep: "outside of #1"}` + "\n        fits:\n          toss: {job: force, owns: last, hat: outside", `outer: "#1+1.5", depth: [7, 5, 8], keep: "inside of #1"}` + "\n        fits:\n          toss: {job: secondary contain, owns: last, hat: inside",
		`10:59: call ours: C is secondary contain against the toss, yet his hat is to be inside: hat: outside, or another job, such as cutback`},
	{"a spill from outside", `outer: "#2-1", depth: [5, 4, 6], keep: "inside of #2"}`, `outer: "#2-1", depth: [5, 4, 6], keep: "outside of #2"}`,
		`20:46: call ours: N stands outside of #2, yet his hat is to be inside of his block against the toss: stand him inside (keep: inside of #2), or hat: outside and job: force`},
}

func TestContradictionsAreExplained(t *testing.T) {
	_, err := book.Read("b.yaml", []byte(soundCall))
	require.NoError(t, err)
	for _, c := range flaws {
		t.Run(c.what, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(soundCall, c.old), "one place")
			_, err := book.Read("b.yaml", []byte(strings.Replace(soundCall, c.old, c.new, 1)))
			require.Error(t, err)
			lines := strings.Split(err.Error(), "\n")
			assert.Contains(t, lines, "b.yaml:"+c.want)
		})
	}
}

// What a staff's file has not written itself is told where it asked for it: at
// the way, the setting or the call.
func TestContradictionsOfWhatIsTakenOver(t *testing.T) {
	for _, c := range []struct{ what, text, want string }{
		{"a way", "calls:\n  ours: {from: two-read, ways: {N: force}}\n", "4:36: call ours: C and N both force the toss"},
		{"another spot's keys", "calls:\n  ours:\n    from: quarters\n    spots:\n      FS: {fits: {toss: {job: alley, owns: 1, hat: outside, key: 0.3}, swing: {job: alley, owns: 0, hat: outside, key: 0.3}}}\n      LB: {fits: {toss: {job: cutback, owns: none, hat: either, key: 0.2}}}\n",
			"7:44: call ours: nobody owns lane 0 against the toss"},
		{"a setting of a call with a way", "settings:\n  ours: {corner: inside}\ncalls:\n  ours: {from: two-read, ways: {FS: inside}}\n", "6:37: call ours: N and FS both own lane 0 against the toss, while lane 1"},
	} {
		_, err := book.Read("b.yaml", []byte("book: 1\nname: A staff\n"+c.text))
		require.Error(t, err, c.what)
		assert.Contains(t, err.Error(), "b.yaml:"+c.want, c.what)
	}
}

// A half-line may leave men out: what hangs on a corner and an apex is judged
// only where both are there, a kind of play only where they have a part in it.
func TestContradictionsLeaveOutWhatIsLeftOut(t *testing.T) {
	for what, cut := range map[string]string{
		"no apex":                   "      N:\n        role: apex\n        stand: {best: apex, inner: apex, outer: \"#2-1\", depth: [5, 4, 6], keep: \"inside of #2\"}\n        fits:\n          toss: {job: cutback, owns: 0, hat: inside, key: 0.05}\n          bubble: {job: inside-out, owns: 0, hat: either, key: 0.5}\n        pass:\n          - {if: \"#2\", do: wall him, holds: under}\n",
		"no linebacker":             soundCall[strings.Index(soundCall, "      LB:\n"):],
		"the corner has no bubble":  "          bubble: {job: force, owns: last, hat: outside, key: throw}\n",
		"the apex has no bubble":    "          bubble: {job: inside-out, owns: 0, hat: either, key: 0.5}\n",
		"the safety has no bubble":  "          bubble: {job: overlap, owns: none, hat: outside, key: throw}\n",
		"nobody says what #2 gives": "          - {if: \"#2 vertical\", do: his, holds: over}\n", // N walls him
	} {
		require.Contains(t, soundCall, cut, what)
		text := strings.Replace(soundCall, cut, "", 1)
		text = strings.ReplaceAll(text, "        pass:\n      LB", "      LB")
		_, err := book.Read("b.yaml", []byte(text))
		assert.NoError(t, err, what)
	}
}
