package book_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

func read(t *testing.T, text string) *book.Book {
	t.Helper()
	b, err := book.Read("staff.book.yaml", []byte("book: 1\nname: A staff\n"+text))
	require.NoError(t, err)
	return b
}

func spot(t *testing.T, b *book.Book, id, label string) *call.Spot {
	t.Helper()
	c, ok := b.Call(id)
	require.True(t, ok, id)
	s, ok := c.Spot(label)
	require.True(t, ok, "%s of %s", label, id)
	return s
}

func TestShippedBooksRead(t *testing.T) {
	ids := book.ShippedIDs()
	assert.Equal(t, []string{"builtin", "herons"}, ids)
	cached := book.Cached()
	for _, id := range ids {
		b, err := book.Shipped(id)
		require.NoError(t, err)
		assert.Equal(t, id, b.ID)
		assert.NotEmpty(t, b.Name)
		assert.NotEmpty(t, b.Caution)
		assert.NotEmpty(t, b.MenuPlays(nil))
		for _, l := range b.Looks {
			assert.Empty(t, l.Shown.Violations(), l.ID)
		}
		again, err := cached(id)
		require.NoError(t, err)
		third, err := cached(id)
		require.NoError(t, err)
		assert.Same(t, again, third, "read once")
	}
	_, err := book.Shipped("sparrows")
	assert.EqualError(t, err, `book "sparrows": not shipped: want builtin, herons`)
	_, err = cached("sparrows")
	assert.Error(t, err)
}

// Every spot of a built-in call that stands on the perimeter has what a player
// is told: a place, eyes, a part against every kind of play, and a side to keep.
func TestBuiltinCallsAreWhole(t *testing.T) {
	b := book.Builtin()
	for _, c := range b.Calls {
		assert.NotEmpty(t, c.Checks, c.ID)
		for _, s := range c.Spots {
			if s.Stand == nil {
				assert.Empty(t, s.Fits, "%s %s", c.ID, s.Label)
				continue
			}
			assert.NotEmpty(t, s.Eyes, "%s %s", c.ID, s.Label)
			assert.NotEmpty(t, s.Block, "%s %s", c.ID, s.Label)
			assert.NotEmpty(t, s.Pass, "%s %s", c.ID, s.Label)
			for _, k := range play.Kinds {
				f, ok := s.Fits[k]
				assert.True(t, ok, "%s %s has no part against %s", c.ID, s.Label, k)
				assert.NotEmpty(t, f.Say, "%s %s on %s", c.ID, s.Label, k)
			}
			assert.LessOrEqual(t, s.Stand.Depth.Least, s.Stand.Depth.Best)
			assert.LessOrEqual(t, s.Stand.Depth.Best, s.Stand.Depth.Most)
			assert.Positive(t, b.Defense(&s).Top, "%s %s", c.ID, s.Label)
		}
	}
}

func TestCallFromAnotherWithAWay(t *testing.T) {
	b := read(t, `
calls:
  ours:
    from: quarters
    ways: {N: apex}
    spots:
      LB: {eyes: near guard}
      W: {like: N, half: back, name: Second nickel}
`)
	n, was := spot(t, b, "ours", "N"), spot(t, b, "quarters", "N")
	assert.Equal(t, call.Off("apex"), n.Stand.Inner.Off)
	assert.Equal(t, call.Inside, n.Stand.Keep.Side)
	assert.Equal(t, was.Fits, n.Fits, "what the way leaves out stays")
	assert.Equal(t, call.Outside, was.Stand.Keep.Side, "the built-in call is not changed")
	assert.Equal(t, "near guard", spot(t, b, "ours", "LB").Eyes)
	assert.Equal(t, n.Stand, spot(t, b, "ours", "BN").Stand, "who plays like him plays his way")
	assert.Equal(t, call.Back, spot(t, b, "ours", "BN").Half)
	w := spot(t, b, "ours", "W")
	assert.Equal(t, "Second nickel", w.Name)
	assert.Equal(t, n.Stand, w.Stand, "a spot of the staff's own")
	c, _ := b.Call("ours")
	assert.Equal(t, "ours", c.Name)
	q, _ := b.Call("quarters")
	assert.Equal(t, q.Checks, c.Checks, "checks stay unless others are given")
}

// A call that starts from one that starts from another has the ways and checks
// of both; and a built-in call can be replaced by starting from itself.
func TestCallFromACallWithAWay(t *testing.T) {
	b := read(t, `
calls:
  one:
    from: two-read
    ways: {C: inside}
    checks: {crack: hold}
  two: {from: one, ways: {C: secondary, N: force, FS: inside}}
  quarters: {name: Our quarters, from: quarters, ways: {C: press}}
`)
	assert.Equal(t, call.Inside, spot(t, b, "one", "C").Stand.Keep.Side)
	assert.Equal(t, call.Outside, spot(t, b, "two", "C").Stand.Keep.Side, "its own way in place of the call's between")
	assert.Equal(t, call.Force, spot(t, b, "two", "N").Fits[play.Toss].Job)
	assert.Equal(t, call.InsideOut, spot(t, b, "two", "N").Fits[play.Bubble].Job, "a way changes the fits that it names")
	c, _ := b.Call("two")
	assert.Equal(t, map[string]string{"crack": "hold"}, c.Checks)
	q, _ := b.Call("quarters")
	was, _ := book.Builtin().Call("quarters")
	assert.Equal(t, "Our quarters", q.Name)
	assert.Equal(t, field.Yard, spot(t, b, "quarters", "C").Stand.Depth.Best)
	assert.Equal(t, was.Checks, q.Checks)
	assert.Len(t, b.Calls, len(book.Builtin().Calls)+2, "it takes the built-in one's place")
}

// What a man's athlete leaves out is that of the spot where he usually plays.
func TestSquadAthletes(t *testing.T) {
	b := read(t, `
calls:
  ours: {from: quarters, spots: {W: {like: C}}}
squad:
  - {number: "1", name: A, spot: C, athlete: {react: 0.4}}
  - {number: "2", name: B, spot: BL, athlete: {react: 0.4}}
  - {number: "3", name: D, spot: E, athlete: {react: 0.4}}
  - {number: "4", name: F, spot: W, athlete: {react: 0.4}}
  - {number: "5", name: G, athlete: {react: 0.4}}
  - {number: "6", name: H, spot: N, athlete: {top: 8.6, tau: 1.1, react: 0.35}}
  - {number: "7", name: I, spot: N, athlete: {forty: 5.2}}
`)
	kinds := book.Builtin().Athletes.ByKind
	for i, kind := range []string{"corner", "hook", "front", "corner", "safety"} {
		want := kinds[kind]
		want.React = 0.4
		assert.Equal(t, want, *b.Squad[i].Athlete, b.Squad[i].Name)
	}
	assert.Equal(t, 8.6, b.Squad[5].Athlete.Top)
	assert.Equal(t, 1.1, b.Squad[5].Athlete.Tau)
	i := b.Squad[6].Athlete
	assert.Equal(t, kinds["apex"].React, i.React)
	assert.InDelta(t, 40/(5.2-0.77)*0.92, i.Top, 1e-12, "the 40 is over when the exponential is: t = 40/V + tau; the share of pads and reading")
}

// A staff's own tau or share holds for all kinds it does not name; each keeps
// his 40-yard time.
func TestStaffTauHoldsForEverybody(t *testing.T) {
	b := read(t, "athletes: {tau: 1.0, game_share: 0.9, corner: {forty: 4.9}}\n")
	as := b.Athletes.ByKind
	assert.InDelta(t, 40/(5.09-1.0)*0.9, as["apex"].Top, 1e-9)
	assert.Equal(t, 1.0, as["apex"].Tau)
	assert.InDelta(t, 40/(4.9-1.0)*0.9, as["corner"].Top, 1e-9)
	assert.Equal(t, 0.35, as["corner"].React)
	assert.InDelta(t, 0.86/0.9, b.Athletes.Carry(), 1e-12)
	assert.Equal(t, book.Builtin().Athletes, read(t, "athletes: {tau: 0.77}\n").Athletes, "the same tau changes nothing, to the last bit")
}

func TestDefaultAthletesFollowWhereMenStand(t *testing.T) {
	s, err := book.ReadScene("a", []byte(strings.Replace(goodScene, "  SN:", "  Q: {at: [0, -5]}\n  Y: {at: [4.5, 0], on_line: true}\n  X: {at: [-12, 0], on_line: true}\n  SN:", 1)), book.Builtin())
	require.NoError(t, err)
	l := s.Look()
	kinds := book.Builtin().Athletes.ByKind
	for tag, kind := range map[string]string{"Z": "wide", "H": "slot", "Y": "end", "B": "back", "Q": "passer", "SN": "line", "X": "wide"} {
		m, ok := l.Find(tag)
		require.True(t, ok)
		assert.Equal(t, kinds[kind], book.Builtin().Offense(l, m), tag)
	}
	out := l.With("B", field.At(13, -5))
	m, _ := out.Find("B")
	assert.Equal(t, kinds["back"], book.Builtin().Offense(out, m), "a back who goes out stays a back")
}

// The Herons' wide look teaches the bubble, with the wheel as what punishes a
// greedy corner.
func TestMenuParts(t *testing.T) {
	b, err := book.Shipped("herons")
	require.NoError(t, err)
	l, ok := b.Look("wide-right")
	require.True(t, ok)
	assert.Equal(t, book.MenuParts{Main: []string{"bubble"}, Partner: []string{"wheel", "bubble-and-go"}, Honest: []string{"toss", "now"}}, l.Parts)
	assert.Equal(t, []string{"bubble", "wheel", "bubble-and-go", "toss", "now"}, l.Menu)
	l, _ = b.Look("twins-right")
	assert.Empty(t, l.Parts.Partner)
}
