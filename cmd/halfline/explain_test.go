package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/judge"
)

// told splits what a command with --explain prints: the answer, and the text.
func told(t testing.TB, in string, args ...string) (answer, text string) {
	plain := runCommand(t, in, nil, append(args, "-")...)
	long := runCommand(t, in, nil, append(append([]string{args[0], "--explain"}, args[1:]...), "-")...)
	require.Empty(t, long.err, args)
	assert.Equal(t, plain.code, long.code, "the exit code stays")
	require.True(t, strings.HasPrefix(long.out, plain.out), "%v: the answer stays as it is, the explanation comes after it", args)
	return plain.out, long.out[len(plain.out):]
}

// counted is the numbers of an answer, found another way than the explanation
// does: by walking what the library makes of it. A list of numbers is one.
func counted(v any) int {
	n := 0
	switch x := v.(type) {
	case float64:
		return 1
	case map[string]any:
		for _, e := range x {
			n += counted(e)
		}
	case []any:
		for _, e := range x {
			if _, is := e.(float64); is {
				return 1
			}
			n += counted(e)
		}
	}
	return n
}

// Every number of check has its entry, with the value that the answer has: over
// all worked lane cases and every scene with its answer beside it.
func TestEveryNumberOfCheckIsExplained(t *testing.T) {
	data, err := os.ReadFile(scene("lanes.json"))
	require.NoError(t, err)
	var cases []struct {
		ID    string          `json:"id"`
		Scene json.RawMessage `json:"scene"`
	}
	require.NoError(t, json.Unmarshal(data, &cases))
	in := map[string]string{}
	for _, c := range cases {
		in[c.ID] = string(c.Scene)
	}
	for _, name := range []string{"three-on-three", "apex-over-the-top", "push", "jet"} {
		s, err := os.ReadFile(scene(name + ".scene.yaml"))
		require.NoError(t, err)
		in[name] = string(s)
	}
	for name, s := range in {
		answer, text := told(t, s, "check")
		var v any
		require.NoError(t, json.Unmarshal([]byte(answer), &v))
		assert.Equal(t, counted(v), strings.Count(text, "\n  <- ")-assumed(text), "%s: as many entries as numbers", name)
		ns, err := numbersOf([]byte(compact(t, answer)))
		require.NoError(t, err)
		assert.Len(t, ns, counted(v), name)
		for _, n := range ns {
			assert.Contains(t, text, fmt.Sprintf("\n%s = %s\n  <- ", strings.Join(n.path, "."), n.value), name)
		}
	}
}

// assumed counts the lines of assumptions under the formulas: each entry has one
// formula and at most one such line.
func assumed(text string) int {
	n := 0
	entry := false
	for _, line := range strings.Split(text, "\n") {
		if !strings.HasPrefix(line, "  <- ") {
			entry = false
			continue
		}
		if entry {
			n++
		}
		entry = true
	}
	return n
}

func compact(t testing.TB, answer string) string {
	var v json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(answer), &v))
	out, err := json.Marshal(v)
	require.NoError(t, err)
	return string(out)
}

// rep, cost and depth: every number has a formula, every key that a formula needs
// is in the table, and what the table shows was needed.
func TestEveryNumberOfTheOthersIsExplained(t *testing.T) {
	for _, play := range []string{"toss", "bubble", "wheel", "bubble-and-go", "double-crack"} {
		for _, args := range [][]string{
			{"rep"}, {"rep", "--out", "trace", "--seed", "3"}, {"rep", "--error", "FS=late"}, {"cost", "--reps", "20"}, {"depth", "--spot", "FS"},
		} {
			in := tossScene("left", play)
			if args[0] == "depth" {
				in = tossScene("right", play)
			}
			plain := runCommand(t, in, nil, append(args, "-")...)
			if plain.code == exitInput {
				assert.NotEmpty(t, plain.err)
				continue // this error is none of his
			}
			_, text := told(t, in, args...)
			assert.Contains(t, text, "How each number came about", args)
			assert.Contains(t, text, "Assumptions: value, status", args)
		}
	}
}

// The needs of every formula name assumptions that there are.
func TestFormulasNameAssumptionsThatThereAre(t *testing.T) {
	sc, err := book.ReadScene("a", []byte(tossScene("right", "toss")), book.Builtin())
	require.NoError(t, err)
	b := judge.FromScene(sc, book.Builtin())
	pl, _ := book.Builtin().Play("wheel")
	b.Menu = append(b.Menu, pl)
	all := judge.Assumptions(&b, book.Builtin())
	for about, who := range map[string]string{"check": "", "rep": "", "cost": "", "depth": "FS"} {
		x := explaining{about: about, who: who, board: &b, book: book.Builtin()}
		seen := map[string]bool{}
		for _, f := range x.formulas() {
			assert.False(t, seen[f.path], "%s: %s twice", about, f.path)
			seen[f.path] = true
			assert.NotEmpty(t, f.words, f.path)
			for _, need := range f.needs {
				one := f
				one.needs = []string{need}
				against := "toss"
				if strings.HasSuffix(f.path, "@top") {
					against = "wheel"
				}
				n := number{who: "N", by: "H", against: against}
				assert.NotEmpty(t, x.stated(&n, &one, all, map[string]bool{}), "%s: %s needs %s", about, f.path, need)
			}
		}
	}
}

// What a staff changes is told as theirs, with its value; in the answer and in the
// explanation alike.
func TestExplainNamesTheStaffsOwn(t *testing.T) {
	staff := file(t, "staff.book.yaml", "book: 1\nname: A staff\nmodel: {set: 0.3, gain_limit: 5}\nathletes: {safety: {forty: 5.4, react: 0.5}}\n")
	got := runCommand(t, tossScene("right", "toss"), nil, "check", "--explain", "--book", staff, "-")
	assert.Empty(t, got.err)
	assert.Regexp(t, `(?m)^  model\.set +0\.3 s +chosen +the staff's own; change: model: \{set: \.\.\.\} in a book$`, got.out)
	assert.Regexp(t, `(?m)^  model\.gain_limit +5 yd +chosen +the staff's own; `, got.out)
	assert.Regexp(t, `(?m)^  athlete\.FS\.react +0\.5 s +chosen`, got.out)
	own := strings.Replace(tossScene("right", "toss"), "FS: {at: [8, 10.5]}", "FS: {at: [8, 10.5], athlete: {top: 7, tau: 0.9, react: 0.4}}", 1)
	got = runCommand(t, own, nil, "check", "--explain", "-")
	assert.Regexp(t, `(?m)^  athlete\.FS\.top +7 yd/s +chosen +the staff's own; `, got.out)
}
