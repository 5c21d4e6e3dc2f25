package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tossScene is three on three in two-read, everybody where his rule likes him, to a
// side and with a play.
func tossScene(side, play string) string {
	s := `scene: 1
field: {rules: nfhs, yard: 42, hash: middle}
side: right
call: two-read
play: toss
offense:
  Z: {at: [18, -0.5], on_line: true}
  H: {at: [9, -1]}
  B: {at: [1.5, -5]}
  Q: {at: [0, -5]}
  SN: {at: [0, 0], on_line: true}
defense:
  C:  {at: [19, 7]}
  N:  {at: [7, 5]}
  FS: {at: [8, 10.5]}
`
	if side == "left" {
		s = regexp.MustCompile(`at: \[([1-9])`).ReplaceAllString(s, "at: [-$1")
	}
	return strings.Replace(strings.Replace(s, "side: right", "side: "+side, 1), "play: toss", "play: "+play, 1)
}

func sides(t *testing.T, f func(t *testing.T, side string)) {
	for _, side := range []string{"right", "left"} {
		t.Run(side, func(t *testing.T) { f(t, side) })
	}
}

func repOf(t *testing.T, in string, args ...string) (repOut, string) {
	got := runCommand(t, in, nil, append(append([]string{"rep"}, args...), "-")...)
	require.Empty(t, got.err)
	require.Equal(t, exitDone, got.code)
	var out repOut
	require.NoError(t, json.Unmarshal([]byte(got.out), &out))
	return out, got.out
}

// The published shape: outsiders rely on these keys, in this order.
func TestRepShape(t *testing.T) {
	out, text := repOf(t, tossScene("right", "toss"), "--error", "N=over-the-top")
	assert.Equal(t, []string{"play", "gain_yd", "broke", "how", "tackle", "with", "hip", "lane", "time_s", "caught", "say", "hats", "events", "faults", "owners", "free"},
		keys(t, json.RawMessage(text)))
	var top map[string]json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(text), &top))
	for list, want := range map[string][]string{
		"events": {"t_s", "what", "who", "to", "lane", "say"},
		"faults": {"who", "kind", "opens", "saved_by", "cost_yd", "man", "t_s", "because"},
	} {
		var items []json.RawMessage
		require.NoError(t, json.Unmarshal(top[list], &items))
		require.NotEmpty(t, items, list)
		assert.Equal(t, want, keys(t, items[0]))
	}
	assert.NotContains(t, text, ": null,\n  \"who\"", "no list is null")
	assert.Equal(t, "snap", out.Events[0].What)
	assert.Empty(t, out.Lanes, "lanes over time are of the trace")

	trace, text := repOf(t, tossScene("right", "toss"), "--out", "trace")
	assert.Equal(t, []string{"lanes", "trace"}, keys(t, json.RawMessage(text))[16:])
	require.NotEmpty(t, trace.Trace)
	assert.Equal(t, [2]float64{0, 0}, trace.Trace[0].Ball, "the ball starts at the snapper")
	assert.Equal(t, [2]float64{19, 7}, trace.Trace[0].Men["C"])
	assert.Len(t, trace.Trace[0].Men, 8)
	assert.InDelta(t, 0.1, trace.Trace[1].T, 1e-9)
	require.NotEmpty(t, trace.Lanes)
	assert.Len(t, trace.Lanes[0].Lanes, 3)
}

// Trade: the apex over the top in two-read opens the lane at the box, and the ball
// goes there; played right it goes to the alley, to the safety (common practice, no
// source). The mirrored rep says the same.
func TestRepTellsWhoBrokeHisRule(t *testing.T) {
	var said []string
	sides(t, func(t *testing.T, side string) {
		right, _ := repOf(t, tossScene(side, "toss"))
		assert.Equal(t, 1, right.Lane)
		assert.Equal(t, "FS", right.Tackle)
		assert.Equal(t, "tackled", right.How)
		assert.Empty(t, right.Faults)
		assert.Equal(t, map[string]string{"N": "inside", "C": "outside"}, right.Hats)

		wrong, text := repOf(t, tossScene(side, "toss"), "--error", "N=over-the-top")
		assert.Equal(t, 0, wrong.Lane)
		assert.Greater(t, wrong.GainYd, right.GainYd+3)
		require.NotEmpty(t, wrong.Faults)
		f := wrong.Faults[0]
		assert.Equal(t, "N over-the-top", f.Who+" "+f.Kind)
		require.NotNil(t, f.Opens)
		assert.Zero(t, *f.Opens)
		assert.InDelta(t, wrong.GainYd-right.GainYd, f.CostYd, 0.011, "a fault that was asked for costs what it adds")
		said = append(said, text)

		forced, _ := repOf(t, tossScene(side, "toss"), "--force", "2")
		assert.Equal(t, 2, forced.Lane)
	})
	require.Len(t, said, 2)
	assert.Equal(t, said[0], said[1], "nothing of it hangs on the side")
}

// A pass: who has whom, who is free, and by whom (trade: the corner who breaks on
// the bubble leaves the go; common practice, no source).
func TestRepOfAPass(t *testing.T) {
	sides(t, func(t *testing.T, side string) {
		right, _ := repOf(t, tossScene(side, "bubble-and-go"))
		assert.NotEmpty(t, right.Owners)
		assert.NotEmpty(t, right.Free)
		assert.Empty(t, right.Hats)
		wrong, _ := repOf(t, tossScene(side, "bubble-and-go"), "--error", "FS=trigger-early")
		var free bool
		for i, f := range wrong.Free {
			free = free || f.Free
			assert.GreaterOrEqual(t, f.MarginS, right.Free[i].MarginS-0.01, "an error frees nobody less")
		}
		assert.True(t, free, "the safety has bitten, somebody is free: %+v", wrong.Free)
	})
}

// The film strip is a whole document, says what was asked for and carries the
// book's cautions.
func TestRepStrip(t *testing.T) {
	got := runCommand(t, tossScene("right", "toss"), nil, "rep", "--out", "svg", "--error", "N=over-the-top", "--seed", "7", "--columns", "1", "--eyes", "defense", "-")
	require.Empty(t, got.err)
	assert.Equal(t, exitDone, got.code)
	dec := xml.NewDecoder(strings.NewReader(got.out))
	for {
		_, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
	flat := regexp.MustCompile(`</text>\s*<text[^>]*>`).ReplaceAllString(got.out, " ")
	for _, says := range []string{"N breaks his rule on purpose: over the top", "seed 7", "defense&#39;s eyes", "Caution. Head up", "never lead with the helmet"} {
		assert.Contains(t, flat, says)
	}
	assert.Equal(t, got, runCommand(t, tossScene("right", "toss"), nil, "rep", "--out", "svg", "--error", "N=over-the-top", "--seed", "7", "--columns", "1", "--eyes", "defense", "-"))
}

func TestRepAndCostRefuse(t *testing.T) {
	frozen, err := os.ReadFile(scene("apex-over-the-top.scene.yaml"))
	require.NoError(t, err)
	toss, pass := tossScene("right", "toss"), tossScene("right", "wheel")
	for _, c := range []struct {
		in, args, says string
	}{
		{toss, "rep", "want one"},
		{toss, "rep --out png -", "want json, trace or svg"},
		{toss, "rep --columns 5 -", "want 1 to 4"},
		{toss, "rep --eyes ball -", "want offense or defense"},
		{toss, "rep --out svg --explain -", "no room"},
		{toss, "rep --force 3 -", "0 to 2"},
		{toss, "rep --force -2 -", "0 to 2"},
		{pass, "rep --force 0 -", "a pass makes no lanes"},
		{toss, "rep --error N -", "SPOT=ERROR"},
		{toss, "rep --error SS=late -", "nobody of that name"},
		{toss, "rep --error N=sings -", "no such error"},
		{toss, "rep --error N=late,N=ducks-under -", "twice"},
		{toss, "rep --error FS=over-the-top -", "only for a blocked man"},
		{pass, "cost --error N=over-the-top -", "a pass has no block or lane"},
		{string(frozen), "rep -", "a rep starts at the snap"},
		{strings.Replace(toss, "play: toss\n", "", 1), "rep -", "none named"},
		{toss, "cost --reps 9 -", "10 to 100000"},
		{toss, "cost --force 1 -", "force"},
	} {
		got := runCommand(t, c.in, nil, strings.Fields(c.args)...)
		assert.Equal(t, exitInput, got.code, c.args)
		assert.Empty(t, got.out, c.args)
		oneLine(t, got.err)
		assert.Contains(t, got.err, c.says, c.args)
	}
}
