package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// namesIn lists the keys of an answer, those of men left out.
func namesIn(v any, out map[string]bool) {
	switch x := v.(type) {
	case map[string]any:
		for k, e := range x {
			if k == strings.ToLower(k) {
				out[k] = true
			}
			namesIn(e, out)
		}
	case []any:
		for _, e := range x {
			namesIn(e, out)
		}
	}
}

// The README names every command, every flag of the commands on scenes, and every
// key of what they answer.
func TestReadmeKeepsUp(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	readme := string(data)
	for _, c := range commands() {
		assert.Contains(t, readme, "`halfline "+c.name, c.name)
	}
	flag := regexp.MustCompile(`(?m)^  --(\S+)`)
	for _, c := range []string{"check", "rep", "cost", "depth"} {
		for _, m := range flag.FindAllStringSubmatch(runCommand(t, "", nil, c, "--help").out, -1) {
			assert.Regexp(t, "`[^`\n]*--"+m[1]+"[^`\n]*`", readme, "%s --%s", c, m[1])
		}
	}
	known := map[string]bool{}
	for _, args := range [][]string{{"rep", "--out", "trace", "--error", "N=over-the-top"}, {"cost", "--reps", "10"}} {
		for _, play := range []string{"toss", "wheel"} {
			if play == "wheel" && len(args) > 4 {
				args = args[:3]
			}
			got := runCommand(t, tossScene("right", play), nil, append(args, "-")...)
			require.Empty(t, got.err, args)
			var top map[string]any
			require.NoError(t, json.Unmarshal([]byte(got.out), &top))
			if s, ok := top["settings"].(map[string]any); ok { // its parts are named by what they are
				for k := range s {
					known[k] = true
				}
				delete(top, "settings")
			}
			delete(top, "lanes") // as in check
			namesIn(top, known)
		}
	}
	var answer map[string]any
	require.NoError(t, json.Unmarshal([]byte(runCommand(t, "", nil, "check", scene("apex-over-the-top.scene.yaml")).out), &answer))
	namesIn(answer["runner"], known)
	for k := range answer {
		known[k] = true
	}
	delete(known, "scene")
	for k := range known {
		assert.Regexp(t, "`"+k+"`", readme, "the key %s of an answer", k)
	}
}
