package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden answers anew")

// ran is what a command run in this process left.
type ran struct {
	code     int
	out, err string
}

// runCommand runs a command in this process with a standard input and an
// environment.
func runCommand(t testing.TB, in string, env map[string]string, args ...string) ran {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(t.Context(), stdio{strings.NewReader(in), &out, &errs, func(k string) string { return env[k] }}, args)
	return ran{code, out.String(), errs.String()}
}

func scene(name string) string { return filepath.Join("..", "..", "testdata", "scenes", name) }

// file is a file that lives as long as the test.
func file(t testing.TB, name, text string) string {
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// The whole answer, words and order of keys included, for one board before the
// snap, one frozen moment and two motions.
func TestCheckGolden(t *testing.T) {
	for name, code := range map[string]int{"three-on-three": exitDone, "apex-over-the-top": exitNo, "push": exitDone, "jet": exitDone} {
		got := runCommand(t, "", nil, "check", scene(name+".scene.yaml"))
		assert.Equal(t, code, got.code, name)
		assert.Empty(t, got.err, name)
		golden := scene(name + ".check.json")
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(got.out), 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		assert.Equal(t, string(want), got.out, "%s: run the test with -update and look at what changed", name)
		again := runCommand(t, "", nil, "check", scene(name+".scene.yaml"))
		assert.Equal(t, got.out, again.out, "%s: the same question has the same answer", name)
	}
}

// keys lists an object's keys in the order in which they are written.
func keys(t testing.TB, raw json.RawMessage) []string {
	dec := json.NewDecoder(bytes.NewReader(raw))
	_, err := dec.Token()
	require.NoError(t, err)
	var out []string
	for dec.More() {
		k, err := dec.Token()
		require.NoError(t, err)
		out = append(out, k.(string))
		var skip json.RawMessage
		require.NoError(t, dec.Decode(&skip))
	}
	return out
}

// The published shape: outsiders rely on these keys, in this order.
func TestCheckShape(t *testing.T) {
	got := runCommand(t, "", nil, "check", scene("apex-over-the-top.scene.yaml"))
	var top map[string]json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(got.out), &top))
	assert.Equal(t, []string{"scene", "look", "defenders", "lanes", "sound", "faults", "runner"}, keys(t, json.RawMessage(got.out)))
	assert.Equal(t, []string{"legal", "violations", "notes", "numbers"}, keys(t, top["look"]))
	first := func(key string) json.RawMessage {
		var list []json.RawMessage
		require.NoError(t, json.Unmarshal(top[key], &list))
		require.NotEmpty(t, list, key)
		return list[0]
	}
	d := first("defenders")
	assert.Equal(t, []string{"spot", "half", "rule", "leverage", "fix", "assignment", "pocket"}, keys(t, d))
	var man map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(d, &man))
	assert.Equal(t, []string{"verdict", "landmark", "side", "move", "box", "because"}, keys(t, man["rule"]))
	assert.Equal(t, []string{"keeps", "margin_s", "margin_yd", "against", "race", "by", "because"}, keys(t, man["leverage"]))
	assert.Equal(t, []string{"n", "inside", "outside", "shut_by", "fit_by", "gain_yd"}, keys(t, first("lanes"))[:6])
	assert.Equal(t, []string{"who", "kind", "opens", "saved_by", "cost_yd", "because"}, keys(t, first("faults")))
	assert.Equal(t, []string{"lane", "gain_yd", "fit_by", "because", "lost"}, keys(t, top["runner"]))
	var runner map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(top["runner"], &runner))
	var lost []json.RawMessage
	require.NoError(t, json.Unmarshal(runner["lost"], &lost))
	require.Len(t, lost, 2, "the nickel's hat shuts both lanes beyond him")
	assert.Equal(t, []string{"by", "on", "lane", "because"}, keys(t, lost[0]))
	for _, list := range []string{"violations", "notes", "right", "left", "plays", "rules"} {
		assert.NotContains(t, got.out, `"`+list+`": null`, "an absent list is an empty one")
	}
}

// Every worked lane case of the trade through the command, from standard input:
// common practice, no source. Sound is exit 0, not sound exit 1.
func TestCheckWorkedLanes(t *testing.T) {
	data, err := os.ReadFile(scene("lanes.json"))
	require.NoError(t, err)
	var cases []struct {
		ID     string          `json:"id"`
		Scene  json.RawMessage `json:"scene"`
		Expect struct {
			Sound  bool                         `json:"sound"`
			Faults []struct{ Who, Kind string } `json:"faults"`
		} `json:"expect"`
	}
	require.NoError(t, json.Unmarshal(data, &cases))
	require.Len(t, cases, 88)
	for _, c := range cases {
		got := runCommand(t, string(c.Scene), nil, "check", "-")
		require.Empty(t, got.err, c.ID)
		var a struct {
			Sound  bool
			Faults []struct{ Who, Kind string }
		}
		require.NoError(t, json.Unmarshal([]byte(got.out), &a), c.ID)
		assert.Equal(t, c.Expect.Sound, a.Sound, c.ID)
		assert.Equal(t, c.Expect.Faults, a.Faults, c.ID)
		assert.Equal(t, map[bool]int{true: exitDone, false: exitNo}[c.Expect.Sound], got.code, c.ID)
	}
}

// A staff's book changes the answer; --book has its twin in the environment.
func TestCheckWithAStaffsBook(t *testing.T) {
	// By the staff's rule the apex of two-read is the force, hat outside.
	staff := file(t, "staff.book.yaml", "book: 1\nname: A staff\nsettings:\n  two-read: {apex: force}\n")
	for name, got := range map[string]ran{
		"by flag":        runCommand(t, "", nil, "check", "--book", staff, scene("apex-over-the-top.scene.yaml")),
		"by environment": runCommand(t, "", map[string]string{"HALFLINE_BOOK": staff}, "check", scene("apex-over-the-top.scene.yaml")),
		"flag first":     runCommand(t, "", map[string]string{"HALFLINE_BOOK": "/nowhere"}, "check", "--book", staff, scene("apex-over-the-top.scene.yaml")),
	} {
		assert.Equal(t, exitNo, got.code, "%s: the lane inside is open all the same", name)
		assert.NotContains(t, got.out, "over-the-top", "%s: but his hat is right", name)
	}
}

func TestCheckRefuses(t *testing.T) {
	whole, err := os.ReadFile(scene("three-on-three.scene.yaml"))
	require.NoError(t, err)
	bad := strings.Replace(string(whole), "side: right", "side: up", 1)
	worse := strings.Replace(bad, "yard: 42", "yard: 142", 1)
	for name, c := range map[string]struct {
		in   string
		args []string
		want string
	}{
		"no file":           {"", []string{"check"}, "halfline: check: 0 files: want one, or - for standard input\n"},
		"two files":         {"", []string{"check", "a", "b"}, "halfline: check: 2 files: want one, or - for standard input\n"},
		"a missing file":    {"", []string{"check", "/nowhere/a.scene.yaml"}, "halfline: /nowhere/a.scene.yaml: no such file or directory: name a file that can be read\n"},
		"a folder":          {"", []string{"check", scene("")}, "halfline: " + scene("") + ": is a directory: name a file that can be read\n"},
		"a mistake":         {bad, []string{"check", "-"}, "halfline: -:3:7: side: \"up\": want left or right\n"},
		"two mistakes":      {worse, []string{"check", "-"}, "halfline: -:2:28: yard (from the offense's own goal line): \"142\": want a whole number, 1 to 99\nhalfline: -:3:7: side: \"up\": want left or right\n"},
		"nothing":           {"", []string{"check", "-"}, "halfline: -:1:1: empty file: a mapping of keys\n"},
		"a book too many":   {string(whole), []string{"check", "--book", "/nowhere/b.book.yaml", "-"}, "halfline: /nowhere/b.book.yaml: no such file or directory: name a file that can be read\n"},
		"a broken book":     {string(whole), []string{"check", "--book", file(t, "b.yaml", "book: 2"), "-"}, ""},
		"an unknown flag":   {"", []string{"check", "--colour", "-"}, "halfline: check: provided but not defined: -colour: see halfline check --help\n"},
		"a flag's no value": {"", []string{"check", "--book"}, "halfline: check: needs an argument: -book: see halfline check --help\n"},
		"more than a MiB":   {strings.Repeat("#", 1<<20+5), []string{"check", "-"}, "halfline: -:1:1: file of 1048577 bytes: at most 1 MiB\n"},
	} {
		t.Run(name, func(t *testing.T) {
			got := runCommand(t, c.in, nil, c.args...)
			assert.Equal(t, exitInput, got.code)
			assert.Empty(t, got.out)
			if c.want != "" {
				assert.Equal(t, c.want, got.err)
			}
			for _, l := range strings.Split(strings.TrimSuffix(got.err, "\n"), "\n") {
				oneLine(t, l+"\n")
			}
		})
	}
}

// full is an output that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestCheckCannotWrite(t *testing.T) {
	var errs bytes.Buffer
	code := run(t.Context(), stdio{strings.NewReader(""), full{}, &errs, func(string) string { return "" }}, []string{"check", scene("three-on-three.scene.yaml")})
	assert.Equal(t, exitMachine, code)
	oneLine(t, errs.String())
}
