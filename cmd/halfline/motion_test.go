package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
)

// motionScene is the worked motion cases' scene: two-read, the apex right inside
// the slot. x turns it to a side; spots and motion are filled in.
func motionScene(x float64, spots map[string][2]float64, motion string) string {
	side := "right"
	if x < 0 {
		side = "left"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "scene: 1\nfield: {rules: nfhs, yard: 42, hash: middle}\nside: %s\ncall: two-read\n", side)
	fmt.Fprintf(&b, "offense:\n  Z: {at: [%g, -0.5], on_line: true}\n  H: {at: [%g, -1]}\n  B: {at: [%g, -5]}\n  Q: {at: [0, -5]}\n  SN: {at: [0, 0], on_line: true}\ndefense:\n", 18*x, 9*x, 1.5*x)
	for _, label := range []string{"C", "N", "FS"} {
		fmt.Fprintf(&b, "  %s: {at: [%g, %g]}\n", label, spots[label][0]*x, spots[label][1])
	}
	fmt.Fprintf(&b, "motion: %s\n", motion)
	return b.String()
}

// Trade brief 3.3, A4 to A6 through the command (common practice, no source): who
// was right and is wrong at the snap is among the bumps, and right once he has
// made his.
func TestCheckTellsTheBumps(t *testing.T) {
	for _, c := range []struct {
		what, who, kind string
		x, y            float64
		wrong           map[string]string
	}{
		{"A4", "B", "push", 13, -2, map[string]string{"N": "too-tight", "FS": "too-tight"}},
		{"A5", "B", "push", 22, -1, map[string]string{"C": "wrong-side", "N": "too-tight", "FS": "too-tight"}},
		{"A6", "H", "jet", -5, -3, map[string]string{"N": "too-wide", "FS": "too-tight"}},
	} {
		for _, x := range []float64{1, -1} {
			spots := map[string][2]float64{"C": {19, 7}, "N": {8, 5}, "FS": {8, 10.5}}
			motion := fmt.Sprintf("{who: %s, kind: %s, to: [%g, %g]}", c.who, c.kind, c.x*x, c.y)
			verdicts := func() (wire.Answer, map[string]string) {
				got := runCommand(t, motionScene(x, spots, motion), nil, "check", "-")
				require.Empty(t, got.err, c.what)
				var a wire.Answer
				require.NoError(t, json.Unmarshal([]byte(got.out), &a))
				wrong := map[string]string{}
				for _, d := range a.Defenders {
					if d.Rule.Verdict != "right" {
						wrong[d.Spot] = d.Rule.Verdict
					}
				}
				return a, wrong
			}
			a, wrong := verdicts()
			assert.Equal(t, c.wrong, wrong, "%s before the bumps", c.what)
			require.NotNil(t, a.Look.Motion)
			require.Len(t, a.Look.Motion.Bumps, len(c.wrong), c.what)
			last := a.Look.Motion.Renumber[len(a.Look.Motion.Renumber)-1]
			assert.Equal(t, a.Look.Numbers, last.Numbers, "%s: the numbers at the snap", c.what)
			for _, b := range a.Look.Motion.Bumps {
				assert.Negative(t, b.TS, "%s: %s", c.what, b.Spot)
				p := spots[b.Spot]
				spots[b.Spot] = [2]float64{p[0] + x*b.Move[0], p[1] + b.Move[1]}
			}
			_, wrong = verdicts()
			assert.Empty(t, wrong, "%s after the bumps", c.what)
		}
	}
}

// The shape that outsiders rely on: there with a motion only, after the keys that
// are always there.
func TestCheckMotionShape(t *testing.T) {
	look := func(in string) json.RawMessage {
		got := runCommand(t, in, nil, "check", "-")
		require.Empty(t, got.err)
		var top map[string]json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(got.out), &top))
		return top["look"]
	}
	scene, err := os.ReadFile(scene("push.scene.yaml"))
	require.NoError(t, err)
	l := look(string(scene))
	assert.Equal(t, []string{"legal", "violations", "notes", "numbers", "motion"}, keys(t, l))
	var parts struct {
		Motion json.RawMessage
	}
	require.NoError(t, json.Unmarshal(l, &parts))
	assert.Equal(t, []string{"start_s", "set_s", "velocity", "renumber", "bumps"}, keys(t, parts.Motion))
	var lists struct{ Renumber, Bumps []json.RawMessage }
	require.NoError(t, json.Unmarshal(parts.Motion, &lists))
	require.NotEmpty(t, lists.Renumber)
	require.NotEmpty(t, lists.Bumps)
	assert.Equal(t, []string{"t_s", "right", "left"}, keys(t, lists.Renumber[0]))
	assert.Equal(t, []string{"spot", "t_s", "move"}, keys(t, lists.Bumps[0]))

	still := strings.Replace(string(scene), "motion:", "#", 1)
	assert.Equal(t, []string{"legal", "violations", "notes", "numbers"}, keys(t, look(still)))
	set := look(strings.Replace(string(scene), "kind: push", "kind: shift", 1))
	assert.Contains(t, string(set), `"set_s": -1`)
}

// In a moment of the run nobody is told to bump: they stand elsewhere by then.
func TestNobodyBumpsInAMoment(t *testing.T) {
	spots := map[string][2]float64{"C": {19, 7}, "N": {8, 5}, "FS": {8, 10.5}}
	in := motionScene(1, spots, "{who: B, kind: push, to: [13, -2]}") + "moment: {carrier: B}\n"
	got := runCommand(t, in, nil, "check", "-")
	require.Empty(t, got.err)
	var a wire.Answer
	require.NoError(t, json.Unmarshal([]byte(got.out), &a))
	require.NotNil(t, a.Look.Motion)
	assert.NotEmpty(t, a.Look.Motion.Renumber)
	assert.Empty(t, a.Look.Motion.Bumps)
}
