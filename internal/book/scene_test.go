package book_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/look"
)

// goodScene is a whole scene, every key used, that mistakes are put into.
const goodScene = `scene: 1
field: {rules: nfhs, yard: 42, hash: middle}
side: right
call: two-read
play: toss
menu: [toss, bubble]
offense:
  Z: {at: [17, -0.5], on_line: true}
  H: {at: [8, -1]}
  B: {at: [1.5, -5], athlete: {top: 8.1, tau: 0.8, react: 0.15}}
  SN: {at: [0, 0], on_line: true}
defense:
  C: {at: [18, 7]}
  N: {at: [7, 5], athlete: {top: 8.6, tau: 1.1, react: 0.35}}
  FS: {at: [7, 10.5], depth: [10, 11]}
motion: {who: B, to: [9, -5]}
moment:
  carrier: B
  velocity: {B: [6.5, 1], FS: [1, -5]}
  blocks: [{by: H, on: N}, {by: Z, on: C, hat: outside}]
  late: [FS]
box: 4
limits: {gain: 4}
`

func TestGoodScene(t *testing.T) {
	s, err := book.ReadScene("a.scene.yaml", []byte(goodScene), book.Builtin())
	require.NoError(t, err)
	assert.Equal(t, field.Ball{Rules: field.NFHS, Hash: field.MiddleHash, Yard: 42}, s.Ball)
	assert.Equal(t, field.Right, s.Side)
	assert.Equal(t, "two-read", s.Call.ID)
	assert.Equal(t, "toss", s.Play.ID)
	require.Len(t, s.Menu, 2)
	assert.Equal(t, "bubble", s.Menu[1].ID)
	require.Len(t, s.Offense, 4)
	assert.Equal(t, "Z", s.Offense[0].Tag, "as listed")
	assert.Equal(t, field.Offset{X: 612, Y: -18}, s.Offense[0].At, "whole inches")
	assert.Equal(t, 8.1, s.Offense[2].Athlete.Top)
	require.Len(t, s.Defense, 3)
	assert.Equal(t, 1.1, s.Defense[1].Athlete.Tau)
	assert.Equal(t, field.Inches(396), s.Defense[2].Depth.Most)
	assert.Equal(t, look.Motion{Who: "B", Kind: look.Straight, Path: []field.Offset{field.At(9, -5)}}, s.Motion.Motion)
	assert.Equal(t, field.Vec{X: 1, Y: -5}, s.Moment.Velocity["FS"])
	assert.Equal(t, book.SceneBlock{By: "Z", On: "C", Hat: "outside"}, s.Moment.Blocks[1])
	assert.Equal(t, []string{"FS"}, s.Moment.Late)
	assert.Equal(t, 4*field.Yard, s.Box)
	assert.Equal(t, 4.0, s.Limit)
}

// Each row puts one mistake into the good scene and names all that is then said.
func TestWrongScenes(t *testing.T) {
	for _, c := range []struct{ what, old, new, want string }{
		{"an unknown key", "box: 4", "boxes: 4",
			"a.scene.yaml:22:1: scene: unknown key \"boxes\": want scene, field, side, call, play, menu, offense, defense, motion, moment, box or limits"},
		{"a missing key", "call: two-read\n", "",
			"a.scene.yaml:1:1: scene: \"call\" is missing: add it"},
		{"another version", "scene: 1", "scene: 2",
			"a.scene.yaml:1:8: scene: version \"2\": want 1"},
		{"a missing version", "scene: 1\n", "",
			"a.scene.yaml:1:1: scene: \"scene\" is missing: add it"},
		{"an unknown key of a man", "H: {at: [8, -1]}", "H: {at: [8, -1], speed: 9}",
			"a.scene.yaml:9:20: H: unknown key \"speed\": want at, on_line or athlete"},
		{"a man without a place", "H: {at: [8, -1]}", "H: {on_line: false}",
			"a.scene.yaml:9:6: H: \"at\" is missing: add it"},
		{"an unknown rulebook", "rules: nfhs", "rules: nba",
			"a.scene.yaml:2:16: rules: \"nba\": want nfhs, ncaa or pro"},
		{"an unknown hash", "hash: middle", "hash: centre",
			"a.scene.yaml:2:38: hash: \"centre\": want left, middle or right"},
		{"a yard beyond the goal", "yard: 42", "yard: 100",
			"a.scene.yaml:2:28: yard (from the offense's own goal line): \"100\": want a whole number, 1 to 99"},
		{"half a yard line", "yard: 42", "yard: 42.5",
			"a.scene.yaml:2:28: yard (from the offense's own goal line): \"42.5\": want a whole number, 1 to 99"},
		{"an unknown side", "side: right", "side: rigth",
			"a.scene.yaml:3:7: side: \"rigth\": want left or right"},
		{"an unknown call", "call: two-read", "call: cover-9",
			"a.scene.yaml:4:7: call: \"cover-9\": want CALLS"},
		{"an unknown play", "play: toss", "play: reverse",
			"a.scene.yaml:5:7: play: \"reverse\": want PLAYS"},
		{"an unknown play in the menu", "menu: [toss, bubble]", "menu: [toss, reverse]",
			"a.scene.yaml:6:14: menu: no play \"reverse\": want PLAYS"},
		{"a play twice in the menu", "menu: [toss, bubble]", "menu: [toss, toss]",
			"a.scene.yaml:6:14: menu: \"toss\" again: each play once"},
		{"a menu that is no list", "menu: [toss, bubble]", "menu: toss",
			"a.scene.yaml:6:7: menu: \"toss\": want a list"},
		{"off the field to the right", "C: {at: [18, 7]}", "C: {at: [27, 7]}",
			"a.scene.yaml:13:11: C: (27, 7) is off the field: x from -26.67 to 26.67, y from -52 to 68 here"},
		{"off the field behind", "B: {at: [1.5, -5]", "B: {at: [1.5, -53]",
			"a.scene.yaml:10:11: B: (1.5, -53) is off the field: x from -26.67 to 26.67, y from -52 to 68 here"},
		{"three numbers for a place", "H: {at: [8, -1]}", "H: {at: [8, -1, 0]}",
			"a.scene.yaml:9:11: H: a list of 3: want 2 numbers"},
		{"a word for a number", "H: {at: [8, -1]}", "H: {at: [eight, -1]}",
			"a.scene.yaml:9:12: H: \"eight\": want a finite number"},
		{"a quoted number", "H: {at: [8, -1]}", "H: {at: [\"8\", -1]}",
			"a.scene.yaml:9:12: H: \"8\": want a finite number"},
		{"not a number", "H: {at: [8, -1]}", "H: {at: [.nan, -1]}",
			"a.scene.yaml:9:12: H: \".nan\": want a finite number"},
		{"infinite", "H: {at: [8, -1]}", "H: {at: [.inf, -1]}",
			"a.scene.yaml:9:12: H: \".inf\": want a finite number"},
		{"NaN", "H: {at: [8, -1]}", "H: {at: [NaN, -1]}",
			"a.scene.yaml:9:12: H: \"NaN\": want a finite number"},
		{"too large to be finite", "H: {at: [8, -1]}", "H: {at: [1e999, -1]}",
			"a.scene.yaml:9:12: H: \"1e999\": want a finite number"},
		{"a place that is no list", "H: {at: [8, -1]}", "H: {at: 8}",
			"a.scene.yaml:9:11: H: \"8\": want a list"},
		{"a man that is no mapping", "H: {at: [8, -1]}", "H: [8, -1]",
			"a.scene.yaml:9:6: H: a list: want a mapping of keys"},
		{"one tag on both sides", "  N: {at: [7, 5]", "  H: {at: [7, 5]",
			"a.scene.yaml:14:3: tag \"H\" on both sides: two men never share a tag\na.scene.yaml:20:24: block: on: \"N\": want C, H or FS"},
		{"one tag twice", "  SN: {at: [0, 0]", "  Z: {at: [0, 0]",
			"a.scene.yaml:11:3: offense: key \"Z\" again: each key once"},
		{"a tag with a blank", "  SN: {at: [0, 0]", "  \"S N\": {at: [0, 0]",
			"a.scene.yaml:11:3: offense: tag \"S N\": 1 to 4 letters or digits"},
		{"a long tag", "  SN: {at: [0, 0]", "  SNAPP: {at: [0, 0]",
			"a.scene.yaml:11:3: offense: tag \"SNAPP\": 1 to 4 letters or digits"},
		{"true for a flag only", "on_line: true}\n  H", "on_line: yes}\n  H",
			"a.scene.yaml:8:32: Z: on_line: \"yes\": want true or false"},
		{"too fast an athlete", "{top: 8.6", "{top: 86",
			"a.scene.yaml:14:34: N: athlete: top: 86: want 2 to 13"},
		{"both top and forty", "{top: 8.6, ", "{top: 8.6, forty: 5, ",
			"a.scene.yaml:14:28: N: athlete: both top and forty: one of them"},
		{"a depth upside down", "depth: [10, 11]", "depth: [11, 10]",
			"a.scene.yaml:15:30: FS: depth 11 to 10: want [least, most]"},
		{"a depth of three", "depth: [10, 11]", "depth: [10, 10, 11]",
			"a.scene.yaml:15:30: FS: depth: a list of 3: want 2 numbers"},
		{"motion of nobody", "{who: B, to", "{who: K, to",
			"a.scene.yaml:16:15: motion: who: \"K\": want Z, H, B or SN"},
		{"motion on the line", "to: [9, -5]", "to: [9, 0]",
			"a.scene.yaml:16:22: motion: B would be on the line at the snap: at least half a yard behind it"},
		{"motion off the field", "to: [9, -5]", "to: [40, -5]",
			"a.scene.yaml:16:22: motion: to: (40, -5) is off the field: x from -26.67 to 26.67, y from -52 to 68 here"},
		{"motion that leaves the field on its way", "{who: B, to", "{who: B, via: [[4, -4], [30, -4]], to",
			"a.scene.yaml:16:33: motion: via: (30, -4) is off the field: x from -26.67 to 26.67, y from -52 to 68 here"},
		{"motion across the line", "{who: B, to", "{who: B, via: [[4, 1]], to",
			"a.scene.yaml:16:24: motion: via: (4, 1) is beyond the line of scrimmage: keep all of his way behind it"},
		{"motion by no places", "{who: B, to", "{who: B, via: [], to",
			"a.scene.yaml:16:23: motion: via: nothing: leave it out, or give places [x, y]"},
		{"motion by a place that is none", "{who: B, to", "{who: B, via: [4, -4], to",
			"a.scene.yaml:16:24: motion: via: \"4\": want a list\na.scene.yaml:16:27: motion: via: \"-4\": want a list"},
		{"motion by too many places", "{who: B, to", "{who: B, via: [[1, -4], [2, -4], [3, -4], [4, -4], [5, -4], [6, -4], [7, -4], [8, -4], [9, -4]], to",
			"a.scene.yaml:16:23: motion: via: 9 places: at most 8"},
		{"an unknown motion", "{who: B, to", "{who: B, kind: zoom, to",
			"a.scene.yaml:16:24: motion: kind: \"zoom\": want straight, push, jet, orbit, return or shift"},
		{"motion too fast", "to: [9, -5]}", "to: [9, -5], speed: 20}",
			"a.scene.yaml:16:38: motion: speed in yd/s: 20: want 1 to 10"},
		{"motion up at the snap", "{who: B, to: [9, -5]", "{who: B, via: [[8, -5]], to: [9, -4]",
			"a.scene.yaml:16:38: motion: B would move towards the line at the snap: let him come up before and end flat or going back, or be set again (a shift)"},
		{"an unknown key of a motion", "{who: B, to", "{who: B, fast: true, to",
			"a.scene.yaml:16:18: motion: unknown key \"fast\": want who, to, kind, via or speed"},
		{"motion of a lineman", "{who: B, to", "{who: SN, to",
			"a.scene.yaml:16:23: motion: SN is a lineman: he may not be in motion"},
		{"a carrier who is not there", "carrier: B", "carrier: K",
			"a.scene.yaml:18:12: moment: carrier: \"K\": want Z, H, B or SN"},
		{"no carrier", "  carrier: B\n", "",
			"a.scene.yaml:18:3: moment: \"carrier\" is missing: add it"},
		{"a velocity of nobody", "FS: [1, -5]}", "K: [1, -5]}",
			"a.scene.yaml:19:27: velocity: no man \"K\": want Z, H, B, SN, C, N or FS"},
		{"too fast a velocity", "FS: [1, -5]}", "FS: [1, -50]}",
			"a.scene.yaml:19:35: velocity of FS: -50: want -13 to 13"},
		{"a block by nobody", "{by: H, on: N}", "{by: K, on: N}",
			"a.scene.yaml:20:17: block: by: \"K\": want Z, H, B or SN"},
		{"a block on nobody", "{by: H, on: N}", "{by: H, on: K}",
			"a.scene.yaml:20:24: block: on: \"K\": want C, N or FS"},
		{"a block by the carrier", "{by: H, on: N}", "{by: B, on: N}",
			"a.scene.yaml:20:17: block: B carries the ball: another man"},
		{"two blocks by one man", "{by: H, on: N}", "{by: Z, on: N}",
			"a.scene.yaml:20:33: block: Z blocks twice: one block a man"},
		{"an unknown hat", "hat: outside", "hat: out",
			"a.scene.yaml:20:48: block: hat: \"out\": want inside, even or outside"},
		{"late, but not there", "late: [FS]", "late: [SS]",
			"a.scene.yaml:21:10: late: no man \"SS\": want C, N or FS"},
		{"a box of nothing", "box: 4", "box: 0",
			"a.scene.yaml:22:6: box: 0: want 0.5 to 20"},
		{"a gain beyond the model", "gain: 4", "gain: 40",
			"a.scene.yaml:23:16: limits: gain: 40: want 0.5 to 15"},
		{"an unknown limit", "gain: 4", "yards: 4",
			"a.scene.yaml:23:10: limits: unknown key \"yards\": want gain"},
		{"a key twice", "side: right", "side: right\nside: left",
			"a.scene.yaml:4:1: scene: key \"side\" again: each key once"},
		{"an alias", "H: {at: [8, -1]}", "H: &h {at: [8, -1]}",
			"a.scene.yaml:9:6: an alias or anchor: write the value out"},
		{"bad YAML", "menu: [toss, bubble]", "menu: [toss, bubble",
			"a.scene.yaml:7:8: did not find expected ',' or ']': YAML 1.2"},
		{"a tab", "side: right", "\tside: right",
			"a.scene.yaml:3:1: found character that cannot start any token: YAML 1.2"},
		{"two documents", "limits: {gain: 4}", "limits: {gain: 4}\n---\nscene: 1",
			"a.scene.yaml:24:1: a second document: one a file"},
		{"an empty menu", "menu: [toss, bubble]", "menu: []",
			"a.scene.yaml:6:7: menu: nothing: leave it out, or name plays"},
		{"nothing for a side", "side: right", "side:",
			"a.scene.yaml:3:6: side: nothing: want left or right"},
		{"a box of nothing", "box: 4", "box:",
			"a.scene.yaml:22:5: box: nothing: want a finite number"},
		{"no limits", "limits: {gain: 4}", "limits:",
			"a.scene.yaml:23:8: limits: nothing: want a mapping of keys"},
		{"a play named for no number", "at: [18, 7]", "at: [true, 7]",
			"a.scene.yaml:13:12: C: \"true\": want a finite number"},
		{"hexadecimal", "at: [18, 7]", "at: [0x12, 7]",
			"a.scene.yaml:13:12: C: \"0x12\": want a finite number"},
		{"two documents, the second broken", "limits: {gain: 4}", "limits: {gain: 4}\n---\n]",
			"a.scene.yaml:25:1: did not find expected node content: YAML 1.2"},
		{"an alias used", "H: {at: [8, -1]}", "H: *h",
			"a.scene.yaml:9:6: unknown anchor 'h' referenced: YAML 1.2"},
		{"a scene that is a list", "scene: 1", "- scene: 1",
			"a.scene.yaml:2:1: did not find expected '-' indicator: YAML 1.2"},
	} {
		t.Run(c.what, func(t *testing.T) {
			require.Contains(t, goodScene, c.old)
			_, err := book.ReadScene("a.scene.yaml", []byte(strings.Replace(goodScene, c.old, c.new, 1)), book.Builtin())
			require.Error(t, err)
			assert.Equal(t, names().Replace(c.want), err.Error())
		})
	}
}

// names puts the ids of the built-in calls and plays, which grow, into a
// message; plays are a book's own besides.
func names(plays ...string) *strings.Replacer {
	b := book.Builtin()
	calls, all := make([]string, len(b.Calls)), make([]string, len(b.Plays))
	for i, c := range b.Calls {
		calls[i] = c.ID
	}
	for i, p := range b.Plays {
		all[i] = p.ID
	}
	list := func(s []string) string { return strings.Join(s[:len(s)-1], ", ") + " or " + s[len(s)-1] }
	sorted := slices.Sorted(slices.Values(calls))
	ours := slices.Sorted(slices.Values(append(slices.Clone(calls), "ours")))
	return strings.NewReplacer("CALLS", list(calls), "PLAYS", list(append(all, plays...)), "SORTED+ours", list(ours), "SORTED", list(sorted))
}
