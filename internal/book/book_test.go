package book_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
)

// goodBook is a whole staff's book that mistakes are put into.
const goodBook = `book: 1
name: A staff
menu: [toss, now]
caution: Walk.
athletes:
  tau: 0.8
  apex: {forty: 5.2, react: 0.4}
model: {gain_limit: 5, set: 0.2}
plays:
  sweep:
    name: Crack toss
    kind: toss
    carrier: back
    blocks: [{by: "#1", on: apex}]
    leaves: 0.7
    caught: {at: 1.1, place: [2.5, 0.9]}
    commits: {at: 1.5, place: [4.2, 1.5], going: [5, 1.8]}
  seam:
    kind: pass
    routes:
      - {by: "#2", release: vertical, reads: 0.4, legs: [[0, 20]], waits: [0.2]}
    throws: [1.7, 2.5]
calls:
  ours:
    name: Ours
    from: quarters
    ways: {N: apex}
    spots:
      LB: {eyes: near guard}
  mine:
    spots:
      C:
        role: corner
        stand: {best: "#1+1", inner: "#1", outer: "#1+1.5", depth: [7, 5, 8], keep: "outside of #1"}
        key: "#1"
        fits:
          toss: {job: force, owns: last, hat: outside, key: 0.3}
        pass: [{if: "#1 vertical", do: his, holds: over}]
      BC: {like: C, half: back}
      E: {front: true}
looks:
  twins:
    name: Twins
    field: {rules: nfhs, yard: 42, hash: middle}
    side: right
    men:
      SN: {at: [0, 0], on_line: true}
      Z: {at: [18, -0.5], on_line: true}
    menu: [toss]
squad:
  - {number: "4", name: Bly, spot: C, athlete: {forty: 5.0}, depth: [7, 6, 8], contact: limited}
  - {number: "5", name: Rui}
`

func TestGoodBook(t *testing.T) {
	b, err := book.Read("dir/mine.book.yaml", []byte(goodBook))
	require.NoError(t, err)
	assert.Equal(t, "mine", b.ID)
	assert.Equal(t, "A staff", b.Name)
	assert.Equal(t, "Walk.", b.Caution)
	assert.Equal(t, []string{"toss", "now"}, b.Menu)
	assert.Equal(t, 5.0, b.Model.Limit)
	assert.Equal(t, 0.2, b.Model.Set)
	assert.Equal(t, book.Builtin().Model.StalkSet, b.Model.StalkSet, "what is left out stays")
	assert.Len(t, b.Plays, len(book.Builtin().Plays)+2)
	assert.Len(t, b.Calls, len(book.Builtin().Calls)+2)
	_, ok := b.Play("toss")
	assert.True(t, ok, "the built-in plays stay")
	p, _ := b.Play("seam")
	assert.Equal(t, "seam", p.Name, "a play without a name is called by its id")
	assert.Equal(t, "limited", b.Squad[0].Contact)
	assert.Equal(t, "full", b.Squad[1].Contact)
	assert.Nil(t, b.Squad[1].Athlete)
	l, ok := b.Look("twins")
	require.True(t, ok)
	assert.Equal(t, []string{"toss"}, l.Menu)
	assert.Len(t, b.MenuPlays(l.Menu), 1)
	assert.Len(t, b.MenuPlays(nil), 2, "without a menu, the book's own")
	for _, ask := range []func(string) bool{
		func(id string) bool { _, ok := b.Call(id); return ok },
		func(id string) bool { _, ok := b.Play(id); return ok },
		func(id string) bool { _, ok := b.Look(id); return ok },
	} {
		assert.False(t, ask("nothing"))
	}
}

// Each row puts one mistake into the good book and names all that is then said.
func TestWrongBooks(t *testing.T) {
	for _, c := range []struct{ what, old, new, want string }{
		{"an unknown key", "caution: Walk.", "warning: Walk.",
			"b.book.yaml:4:1: book: unknown key \"warning\": want book, name, menu, caution, athletes, model, settings, plays, calls, looks or squad"},
		{"another version", "book: 1", "book: 2",
			"b.book.yaml:1:7: book: version \"2\": want 1"},
		{"a missing name", "name: A staff\n", "",
			"b.book.yaml:1:1: book: \"name\" is missing: add it"},
		{"a long name", "name: A staff", "name: xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
			"b.book.yaml:2:7: name: 41 characters: at most 40"},
		{"a hidden direction mark", "name: A staff", "name: \"A\\u202estaff\"",
			"b.book.yaml:2:7: name: a control or direction mark in the text: plain text"},
		{"an unknown play in the menu", "menu: [toss, now]", "menu: [toss, reverse]",
			"b.book.yaml:3:14: menu: no play \"reverse\": want PLAYS"},
		{"an unknown kind of athlete", "  apex: {forty: 5.2", "  rover: {forty: 5.2",
			"b.book.yaml:7:3: athletes: unknown key \"rover\": want tau, game_share, ball_share, wide, slot, end, back, line, passer, corner, apex, safety, hook or front"},
		{"a kind of athlete twice", "  tau: 0.8\n", "  tau: 0.8\n  apex: {forty: 5.1}\n",
			"b.book.yaml:8:3: athletes: key \"apex\" again: each key once"},
		{"an impossible forty", "{forty: 5.2,", "{forty: 3.2,",
			"b.book.yaml:7:17: athlete apex: forty: 3.2: want 4 to 9"},
		{"a forty nobody has run", "  apex: {forty: 5.2, react: 0.4}", "  apex: {forty: 4, tau: 1.5, react: 0.4}",
			"b.book.yaml:7:9: athlete apex: athlete: top speed 14.72 yd/s: want 1 to 13 yd/s"},
		{"a model's word", "gain_limit: 5", "limit: 5",
			"b.book.yaml:8:9: model: unknown key \"limit\": want set, stalk_set, gain_limit, hold, let_go or ball_reaction"},
		{"a negative set", "set: 0.2", "set: -0.2",
			"b.book.yaml:8:29: model: set: -0.2: want 0 to 1"},
		{"an unknown kind of play", "kind: toss", "kind: reverse",
			"b.book.yaml:12:11: play sweep: kind: \"reverse\": want toss, swing, bubble, now or pass"},
		{"an unknown carrier", "carrier: back", "carrier: B",
			"b.book.yaml:13:14: play sweep: carrier: \"B\": want #1, #2, #3, far, back or fullback"},
		{"an unknown target", "on: apex}", "on: nickel}",
			"b.book.yaml:14:29: play sweep: on: \"nickel\": want corner, apex, safety or hook"},
		{"the carrier blocks", "{by: \"#1\", on: apex}", "{by: back, on: apex}",
			"b.book.yaml:14:19: play sweep: back carries the ball and cannot block: another man"},
		{"a play without a catch", "    caught: {at: 1.1, place: [2.5, 0.9]}\n", "",
			"b.book.yaml:11:5: play sweep: \"caught\" is missing: add it"},
		{"a commitment before the catch", "commits: {at: 1.5", "commits: {at: 1.0",
			"b.book.yaml:17:14: play sweep: commits at 1 s, before the catch at 1.1 s: a time not before the catch"},
		{"a carrier too fast", "going: [5, 1.8]", "going: [50, 1.8]",
			"b.book.yaml:17:51: play sweep: commits: going: 50: want -12 to 12"},
		{"a play's bad name", "  sweep:", "  Sweep:",
			"b.book.yaml:10:3: name \"Sweep\": lower-case letters, digits and dashes, at most 40"},
		{"an unknown release", "release: vertical", "release: post",
			"b.book.yaml:21:29: play seam: release: \"post\": want out, vertical, under, wheel, go, switch, block or behind"},
		{"throws upside down", "throws: [1.7, 2.5]", "throws: [2.5, 1.7]",
			"b.book.yaml:22:13: play seam: throws: the last before the first: [first, last] in s after the snap"},
		{"a pass without routes", "    routes:\n      - {by: \"#2\", release: vertical, reads: 0.4, legs: [[0, 20]], waits: [0.2]}\n", "",
			"b.book.yaml:19:5: play seam: \"routes\" is missing: add it"},
		{"a pass with a carrier", "    kind: pass\n", "    kind: pass\n    carrier: back\n",
			"b.book.yaml:20:5: play seam: unknown key \"carrier\": want name, kind, motion, routes, throws or fakes"},
		{"a run with throws", "    kind: toss\n", "    kind: toss\n    throws: []\n",
			"b.book.yaml:13:5: play sweep: unknown key \"throws\": want name, kind, motion, carrier, blocks, leaves, caught, commits or routes"},
		{"a route without legs", "legs: [[0, 20]]", "legs: []",
			"b.book.yaml:21:57: play seam: legs: none: at least one [outward, downfield]"},
		{"a call from nowhere", "from: quarters", "from: cover-9",
			"b.book.yaml:26:11: from \"cover-9\": no such call before this one: want SORTED"},
		{"a call from one after it", "from: quarters", "from: mine",
			"b.book.yaml:26:11: from \"mine\": no such call before this one: want SORTED"},
		{"a call from itself", "from: quarters", "from: ours",
			"b.book.yaml:26:11: from \"ours\": no such call before this one: want SORTED"},
		{"a circle of calls", "  mine:\n    spots:", "  mine:\n    from: theirs\n  theirs:\n    from: mine\n  more:\n    spots:",
			"b.book.yaml:31:11: from \"theirs\": no such call before this one: want SORTED+ours\nb.book.yaml:33:11: from \"mine\": no such call before this one: want SORTED+ours"},
		{"an unknown way", "ways: {N: apex}", "ways: {N: wide}",
			"b.book.yaml:27:15: N: no way \"wide\": want apex, cover-down, cutback or carry"},
		{"a way of a spot without ways", "ways: {N: apex}", "ways: {LB: wide}",
			"b.book.yaml:27:16: LB has no other way to play: leave it out"},
		{"a way of nobody", "ways: {N: apex}", "ways: {K: apex}",
			"b.book.yaml:27:12: ways: no spot \"K\" in call ours: a spot of this call"},
		{"a wrong landmark", "best: \"#1+1\"", "best: \"#4+1\"",
			"b.book.yaml:34:23: landmark \"#4+1\": want #1, #2, #3, apex, end, ball, middle or hash, then yards outward: \"#2-1\", \"#1+1.5\", \"apex\""},
		{"a landmark far out", "outer: \"#1+1.5\"", "outer: \"#1+99\"",
			"b.book.yaml:34:51: landmark \"#1+99\": want #1, #2, #3, apex, end, ball, middle or hash, then yards outward: \"#2-1\", \"#1+1.5\", \"apex\""},
		{"a wrong side to keep", "keep: \"outside of #1\"", "keep: \"left of #1\"",
			"b.book.yaml:34:85: keep: \"left of #1\": want \"inside of #2\", \"outside of #1\" or \"head-up on #2\""},
		{"a depth in a wrong order", "depth: [7, 5, 8]", "depth: [5, 7, 8]",
			"b.book.yaml:34:68: depth of C: 5, 7, 8: want [usual, least, most] with least <= usual <= most\nb.book.yaml:34:68: depth of BC: 5, 7, 8: want [usual, least, most] with least <= usual <= most"},
		{"too deep a depth", "depth: [7, 5, 8]", "depth: [7, 5, 80]",
			"b.book.yaml:34:75: depth of C: 80: want 0 to 30\nb.book.yaml:34:75: depth of BC: 80: want 0 to 30"},
		{"an unknown role", "role: corner", "role: end",
			"b.book.yaml:33:15: role: \"end\": want corner, apex, safety, hook or deep"},
		{"no role", "        role: corner\n", "",
			"b.book.yaml:33:9: spot C: role, stand or fits is missing: add them, or `front: true` for a man on the line\nb.book.yaml:38:11: spot BC: role, stand or fits is missing: add them, or `front: true` for a man on the line"},
		{"an unknown half", "half: back", "half: far",
			"b.book.yaml:39:27: half: \"far\": want this or back"},
		{"like nobody", "like: C,", "like: K,",
			"b.book.yaml:39:18: like \"K\": no such spot in call mine: a spot listed in this call"},
		{"like himself", "{like: C, half", "{like: BC, half",
			"b.book.yaml:39:11: spot BC: role, stand or fits is missing: add them, or `front: true` for a man on the line"},
		{"an unknown job", "job: force", "job: forces",
			"b.book.yaml:37:23: C on toss: job: \"forces\": want force, secondary contain, alley, cutback, inside-out or overlap\nb.book.yaml:37:23: BC on toss: job: \"forces\": want force, secondary contain, alley, cutback, inside-out or overlap"},
		{"a lane nobody has", "owns: last", "owns: 9",
			"b.book.yaml:37:36: C on toss: owns (a lane, \"last\", \"reads\" or \"none\"): \"9\": want a whole number, 0 to 5\nb.book.yaml:37:36: BC on toss: owns (a lane, \"last\", \"reads\" or \"none\"): \"9\": want a whole number, 0 to 5"},
		{"an unknown hat", "hat: outside", "hat: left",
			"b.book.yaml:37:47: C on toss: hat: \"left\": want inside, outside, on-ball, if-open or either\nb.book.yaml:37:47: BC on toss: hat: \"left\": want inside, outside, on-ball, if-open or either"},
		{"a key that is no time", "key: 0.3", "key: snap",
			"b.book.yaml:37:61: C on toss: key (\"throw\" or seconds): \"snap\": want a finite number\nb.book.yaml:37:61: BC on toss: key (\"throw\" or seconds): \"snap\": want a finite number"},
		{"a fit without a hat", "hat: outside, ", "",
			"b.book.yaml:37:17: C on toss: \"hat\" is missing: add it\nb.book.yaml:37:17: BC on toss: \"hat\" is missing: add it"},
		{"an unknown kind of play in the fits", "          toss: {job", "          reverse: {job",
			"b.book.yaml:37:11: fits of C: \"reverse\": want toss, swing, bubble or now\nb.book.yaml:37:11: fits of BC: \"reverse\": want toss, swing, bubble or now"},
		{"a pass rule that is none", "if: \"#1 vertical\"", "if: \"#1 deep\"",
			"b.book.yaml:38:21: if: \"#1 deep\": want \"#1\", \"#2\", \"#3\" or \"back\", then out, vertical, under, wheel, go, switch, block or behind; two of them with \"and\" between"},
		{"a pass rule with one condition twice", "if: \"#1 vertical\"", "if: \"#1 vertical and #1 out\"",
			"b.book.yaml:38:21: if: \"#1 vertical and #1 out\": want \"#1\", \"#2\", \"#3\" or \"back\", then out, vertical, under, wheel, go, switch, block or behind; two of them with \"and\" between"},
		{"a pass rule that takes no receiver", "do: his, holds", "do: his, takes: Z, holds",
			"b.book.yaml:38:52: takes: \"Z\": want #1, #2, #3 or back"},
		{"a pass rule that takes without holding", "do: his, holds: over", "do: his, takes: \"#2\"",
			"b.book.yaml:38:52: takes: \"#2\" without holds: say how he holds him: over, in-phase, under or on-throw"},
		{"a hold that is none", "holds: over", "holds: deep",
			"b.book.yaml:38:52: holds: \"deep\": want over, in-phase, under or on-throw"},
		{"a call without spots", "    spots:\n      C:\n        role", "    checks:\n      C:\n        role",
			"b.book.yaml:30:3: call mine: no spots: list its spots, or start `from:` another call\nb.book.yaml:33:9: check C: a mapping: want text\nb.book.yaml:39:11: check BC: a mapping: want text\nb.book.yaml:40:10: check E: a mapping: want text"},
		{"a spot's long label", "      BC: {like", "      BCDEF: {like",
			"b.book.yaml:39:14: spot \"BCDEF\": 1 to 4 letters or digits"},
		{"a look off the field", "Z: {at: [18,", "Z: {at: [28,",
			"b.book.yaml:48:15: Z: (28, -0.5) is off the field: x from -26.67 to 26.67, y from -52 to 68 here"},
		{"an illegal look", "Z: {at: [18, -0.5]", "Z: {at: [18, 0.5]",
			"b.book.yaml:42:3: look twins is illegal: Z is beyond the line of scrimmage: mend it"},
		{"a look with a spot's tag", "      Z: {at", "      FS: {at",
			"b.book.yaml:48:7: men of twins: tag \"FS\" is a spot of the defense: another tag: two men never share one"},
		{"a look without men", "    men:\n      SN: {at: [0, 0], on_line: true}\n      Z: {at: [18, -0.5], on_line: true}\n", "",
			"b.book.yaml:43:5: look twins: \"men\" is missing: add it"},
		{"a look's unknown play", "    menu: [toss]", "    menu: [reverse]",
			"b.book.yaml:49:12: menu: no play \"reverse\": want PLAYS"},
		{"a menu's parts without the main play", "    menu: [toss]", "    menu: {partner: [now]}",
			"b.book.yaml:49:11: menu: \"main\" is missing: add it"},
		{"a play in two parts of a menu", "    menu: [toss]", "    menu: {main: [toss], honest: [now, toss]}",
			"b.book.yaml:49:34: menu: honest: \"toss\" again: each play in one part"},
		{"a man without a number", "{number: \"5\", name: Rui}", "{name: Rui}",
			"b.book.yaml:52:5: man of the squad: \"number\" is missing: add it"},
		{"a number twice", "{number: \"5\"", "{number: \"4\"",
			"b.book.yaml:52:14: number \"4\" again: each man his own"},
		{"a spot that no call has", "spot: C,", "spot: K,",
			"b.book.yaml:51:36: spot: \"K\": want C, N, FS, LB, BC, BN, SS, BL, E, T or BE"},
		{"an unknown contact level", "contact: limited", "contact: some",
			"b.book.yaml:51:89: contact: \"some\": want full, limited or none"},
		{"an alias", "name: Twins", "name: &t Twins",
			"b.book.yaml:43:11: an alias or anchor: write the value out"},
		{"a key twice", "menu: [toss, now]", "menu: [toss, now]\nname: B staff",
			"b.book.yaml:4:1: book: key \"name\" again: each key once"},
		{"bad YAML", "book: 1", "book: [1",
			"b.book.yaml:2:5: did not find expected ',' or ']': YAML 1.2"},
		{"two documents", "book: 1", "---\nbook: 1\n---\nbook: 1",
			"b.book.yaml:3:1: a second document: one a file"},
	} {
		t.Run(c.what, func(t *testing.T) {
			require.Contains(t, goodBook, c.old)
			_, err := book.Read("b.book.yaml", []byte(strings.Replace(goodBook, c.old, c.new, 1)))
			require.Error(t, err)
			assert.Equal(t, names("sweep", "seam").Replace(c.want), err.Error())
		})
	}
}
