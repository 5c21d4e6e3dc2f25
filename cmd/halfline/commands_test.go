package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every command has a page: what it is called with first, its flags after.
func TestHelpOfEveryCommand(t *testing.T) {
	got := runCommand(t, "", nil, "--help")
	assert.Equal(t, exitDone, got.code)
	assert.Empty(t, got.err)
	for _, c := range commands() {
		assert.Contains(t, got.out, "halfline "+c.name, "the list names every command")
		assert.Contains(t, got.out, c.does)
		for _, ask := range []string{"--help", "-h"} {
			page := runCommand(t, "", nil, c.name, ask)
			assert.Equal(t, exitDone, page.code, c.name)
			assert.Empty(t, page.err, c.name)
			assert.True(t, strings.HasPrefix(page.out, "halfline "+c.name), "%s begins with its call: %q", c.name, page.out)
		}
	}
	assert.Equal(t, got, runCommand(t, "", nil, "help"))
	assert.Equal(t, got, runCommand(t, "", nil, "-h"))
	assert.Contains(t, runCommand(t, "", nil, "check", "--help").out, "  --book  ")
}

func TestUnknownCommand(t *testing.T) {
	got := runCommand(t, "", nil, "chekc", "a")
	assert.Equal(t, exitInput, got.code)
	assert.Empty(t, got.out)
	oneLine(t, got.err)
	assert.Contains(t, got.err, `command "chekc": there is none: want serve, check`)
}

func TestBookCheck(t *testing.T) {
	herons := filepath.Join("..", "..", "internal", "book", "books", "herons.book.yaml")
	got := runCommand(t, "", nil, "book", "check", herons)
	assert.Equal(t, exitDone, got.code)
	assert.Empty(t, got.err)
	assert.Regexp(t, `^Herons week 4: 17 looks, \d+ calls, \d+ plays, 9 men\nmatch-line: 8 yd, kick-outs: box\ntwo-read: corner outside \(or inside, divider, press\); apex spill \(or force\); `, got.out)

	own := file(t, "own.book.yaml", "book: 1\nname: Our book\nsettings:\n  two-read: {corner: inside, apex: force}\n  quarters: {force: safety}\n  match-line: 10\n  kick-outs: spill\n")
	set := runCommand(t, "", nil, "book", "check", own)
	assert.Equal(t, exitDone, set.code)
	assert.Contains(t, set.out, "\nmatch-line: 10 yd, kick-outs: spill\ntwo-read: corner inside (or outside, divider, press); apex force (or spill); wheel corner (or safety)\nquarters: ")

	text, err := os.ReadFile(herons)
	require.NoError(t, err)
	again := runCommand(t, string(text), nil, "book", "check", "-")
	assert.Equal(t, got.out, again.out, "standard input")

	bad := strings.Replace(strings.Replace(string(text), "hash: middle", "hash: centre", 1), "spot: LB}", "spot: LBX}", 1)
	wrong := runCommand(t, bad, nil, "book", "check", "-")
	assert.Equal(t, exitInput, wrong.code)
	assert.Empty(t, wrong.out, "nothing is half read")
	lines := strings.Split(strings.TrimSuffix(wrong.err, "\n"), "\n")
	require.Len(t, lines, 2, wrong.err)
	assert.Regexp(t, `^halfline: -:\d+:\d+: spot: "LBX": want C, N, `, lines[0])
	assert.Regexp(t, `^halfline: -:\d+:\d+: hash: "centre": want left, middle or right$`, lines[1])

	for _, args := range [][]string{{"book"}, {"book", "check"}, {"book", "check", "a", "b"}, {"book", "mend", "a"}, {"book", "check", "/nowhere/a"}, {"book", "--colour"}} {
		refused := runCommand(t, "", nil, args...)
		assert.Equal(t, exitInput, refused.code, args)
		oneLine(t, refused.err)
	}
}

func TestDepthCommand(t *testing.T) {
	got := runCommand(t, "", nil, "depth", "--spot", "FS", scene("three-on-three.scene.yaml"))
	assert.Equal(t, exitDone, got.code)
	assert.Regexp(t, `^\{"spot":"FS","from":[\d.]+,"to":[\d.]+,`, got.out)
	assert.Equal(t, got, runCommand(t, "", map[string]string{"HALFLINE_SPOT": "FS"}, "depth", scene("three-on-three.scene.yaml")), "by environment")
	for _, args := range [][]string{{"depth", scene("three-on-three.scene.yaml")}, {"depth", "--spot", "FS"}, {"depth", "--spot", "SS", scene("three-on-three.scene.yaml")}, {"depth", "--spot", "FS", "/nowhere/a"}} {
		refused := runCommand(t, "", nil, args...)
		assert.Equal(t, exitInput, refused.code, args)
		oneLine(t, refused.err)
	}
}

func TestAthleteCommand(t *testing.T) {
	// The published fit of the simulated athlete "Kimberley" (R package shorts,
	// README): top 8.5911 m/s, tau 0.8113 s.
	got := runCommand(t, "", nil, "athlete", "--metres", "--splits", "5=1.158,10=1.893,15=2.541,20=3.149,30=4.313,40=5.444", "--at", "10")
	assert.Equal(t, exitDone, got.code)
	assert.Regexp(t, `^\{"top":8\.591\d*,"tau":0\.811\d*,"a0":10\.5[89]\d*,"rse":0\.034\d*,"times":\[\{"at":10,"t":1\.89`, got.out)
	// Top 9 m/s, tau 0.77 s: 11.5861 m after 2 s (closed form).
	forward := runCommand(t, "", nil, "athlete", "--metres", "--top", "9", "--tau", "0.77", "--at", "11.5861")
	assert.Regexp(t, `"rse":null,"times":\[\{"at":11\.5861,"t":(2\.0000|1\.9999)\d*\}`, forward.out)
	for _, args := range [][]string{{"athlete"}, {"athlete", "--splits", "10"}, {"athlete", "--splits", "10=1.7", "--top", "9"}, {"athlete", "--top", "99", "--tau", "1"},
		{"athlete", "--top", "9", "--tau", "0.8", "--at", "-1"}, {"athlete", "x"}, {"athlete", "--splits", "10=1.2,20=1.3,40=1.4"}} {
		refused := runCommand(t, "", nil, args...)
		assert.Equal(t, exitInput, refused.code, args)
		oneLine(t, refused.err)
	}
}
