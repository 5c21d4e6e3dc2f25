package book_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/play"
)

func chosen(t *testing.T, b *book.Book, id string) map[string]string {
	t.Helper()
	c, ok := b.Call(id)
	require.True(t, ok, id)
	out := map[string]string{}
	for _, s := range c.Settings {
		assert.Contains(t, s.Choices, s.Chosen)
		out[s.Name] = s.Chosen
	}
	return out
}

// What staffs disagree on is a setting, and what most do is what holds when
// nobody says otherwise (common practice, no source).
func TestUsualSettings(t *testing.T) {
	b := book.Builtin()
	for id, want := range map[string]map[string]string{
		"two-read": {"corner": "outside", "apex": "spill", "wheel": "corner"},
		"quarters": {"width": "outside", "force": "apex", "corner": "inside", "wheel": "apex"},
		"man-free": {"corner": "by-split"},
		"two-man":  {},
		"3-sky":    {"wheel": "flat"},
		"3-buzz":   {"wheel": "flat"},
		"3-cloud":  {},
		"2":        {},
	} {
		assert.Equal(t, want, chosen(t, b, id), id)
	}
	assert.Equal(t, 8.0, b.Model.Match)
	assert.Equal(t, book.Box, b.KickOuts)
}

// Any mixture of settings is a call that does not contradict itself.
func TestEveryMixtureOfSettingsIsSound(t *testing.T) {
	for _, c := range book.Builtin().Calls {
		mixtures := []string{""}
		for _, s := range c.Settings {
			var more []string
			for _, m := range mixtures {
				for _, x := range s.Choices {
					more = append(more, m+s.Name+": "+x+", ")
				}
			}
			mixtures = more
		}
		for _, m := range mixtures {
			if m == "" {
				continue
			}
			b, err := book.Read("b.yaml", []byte(fmt.Sprintf("book: 1\nname: A\nsettings:\n  %q: {%s}\n  kick-outs: spill\n", c.ID, m)))
			require.NoError(t, err, "%s: %s", c.ID, m)
			assert.Len(t, b.Calls, len(book.Builtin().Calls))
		}
	}
}

func TestSettingsChangeTheCall(t *testing.T) {
	b := read(t, `
settings:
  two-read: {corner: inside, apex: force, wheel: safety}
  quarters: {force: safety, wheel: safety}
  man-free: {corner: outside}
  match-line: 10
  kick-outs: spill
calls:
  ours: {from: two-read}
  theirs: {from: quarters, ways: {C: press}}
`)
	assert.Equal(t, 10.0, b.Model.Match)
	for _, id := range []string{"two-read", "ours"} {
		c := spot(t, b, id, "C")
		assert.Equal(t, call.Inside, c.Stand.Keep.Side)
		assert.Contains(t, c.Block, "recreate")
		assert.Equal(t, call.Secondary, c.Fits[play.Toss].Job, "lanes flip: the apex forces")
		assert.Equal(t, call.Force, c.Fits[play.Bubble].Job, "the screens are the corner's still")
		n, fs := spot(t, b, id, "N"), spot(t, b, id, "FS")
		assert.Equal(t, call.Force, n.Fits[play.Toss].Job)
		assert.Equal(t, call.HatOutside, n.Fits[play.Toss].Hat)
		assert.Equal(t, call.HatInside, n.Fits[play.Toss].Kick, "the corner is outside of him")
		assert.Equal(t, call.HatOutside, c.Fits[play.Bubble].Kick, "nobody is outside of him")
		assert.Zero(t, fs.Fits[play.Toss].Owns, "FS fits inside of the apex")
		assert.Empty(t, fs.Fits[play.Toss].Kick, "he does not force")
		assert.Equal(t, n.Fits, spot(t, b, id, "BN").Fits, "who plays like him plays his way")
		own, _ := owned(t, b, id, stage{z: "go", h: "wheel"})
		assert.Equal(t, "H over", own["FS"])
		assert.Equal(t, "Z in-phase", own["C"])
	}
	fs, n := spot(t, b, "quarters", "FS"), spot(t, b, "quarters", "N")
	assert.Equal(t, call.Force, fs.Fits[play.Toss].Job)
	assert.Equal(t, 7.0, fs.Stand.Depth.Least.Yards())
	assert.Equal(t, 9.0, fs.Stand.Depth.Most.Yards())
	assert.Equal(t, call.Cutback, n.Fits[play.Toss].Job)
	assert.Equal(t, call.HatInside, n.Fits[play.Toss].Hat)
	assert.Equal(t, 1.0, spot(t, b, "theirs", "C").Stand.Depth.Best.Yards(), "a call's own way comes last")
	assert.Equal(t, call.Force, spot(t, b, "theirs", "FS").Fits[play.Toss].Job)
	own, _ := owned(t, b, "quarters", stage{z: "go", h: "wheel"})
	assert.Equal(t, map[string]string{"C": "Z in-phase", "N": "H under", "FS": "H over", "LB": "B under"}, own)
	assert.Equal(t, call.Outside, spot(t, b, "man-free", "C").Wide.Keep.Side, "at the numbers too")

	q := spot(t, book.Builtin(), "quarters", "N")
	assert.Equal(t, call.HatOutside, q.Fits[play.Toss].Kick, "the built-in book boxes, and nothing of it is changed")
	assert.Equal(t, call.Force, q.Fits[play.Toss].Job)
}

// Width and divider: the two choices of where the apex stands in quarters, and a
// corner whose shade the numbers decide.
func TestSettingsOfAlignment(t *testing.T) {
	b := read(t, "settings:\n  quarters: {width: cover-down}\n  two-read: {corner: divider}\n  3-sky: {wheel: safety}\n")
	n := spot(t, b, "quarters", "N")
	assert.Equal(t, call.Inside, n.Stand.Keep.Side)
	assert.Equal(t, call.Force, n.Fits[play.Toss].Job)
	c := spot(t, b, "two-read", "C")
	assert.Equal(t, call.Outside, c.Stand.Keep.Side)
	assert.Equal(t, call.Inside, c.Wide.Keep.Side)
	own, _ := owned(t, b, "3-sky", stage{z: "go", h: "wheel"})
	assert.Equal(t, map[string]string{"C": "Z over", "SS": "H under", "FS": "H over", "LB": "B under"}, own)
	b = read(t, "settings:\n  quarters: {width: box}\n")
	assert.Equal(t, call.OffApex, spot(t, b, "quarters", "N").Stand.Best.Off)
}

// A call of a staff's own can declare settings too, and takes over those of the
// call it starts from.
func TestSettingsOfAStaffsOwnCall(t *testing.T) {
	b := read(t, `
settings:
  ours: {apex: force, hook: near}
  3-sky: {wheel: safety}
calls:
  ours:
    from: two-read
    settings:
      hook: {usual: {}, near: {LB: near}}
    spots:
      LB: {ways: {near: {eyes: near guard}}}
  3-sky: {from: 3-sky, name: Sky}
`)
	assert.Equal(t, "force", chosen(t, b, "ours")["apex"])
	assert.Equal(t, "spill", chosen(t, b, "two-read")["apex"])
	assert.Equal(t, "near guard", spot(t, b, "ours", "LB").Eyes)
	sky, _ := b.Call("3-sky")
	assert.Equal(t, "Sky", sky.Name)
	assert.Equal(t, "safety", chosen(t, b, "3-sky")["wheel"])
	assert.Len(t, b.Calls, len(book.Builtin().Calls)+1)
}

func TestWrongSettings(t *testing.T) {
	for _, c := range []struct{ what, text, want string }{
		{"an unknown call", "settings:\n  cover-9: {corner: inside}\n", `b.yaml:4:3: settings: no call "cover-9": want match-line, kick-outs, 2, 3-buzz, 3-cloud, 3-sky, man-free, quarters, two-man or two-read`},
		{"an unknown setting", "settings:\n  two-read: {safety: deep}\n", `b.yaml:4:14: settings of two-read: no setting "safety": want corner, apex or wheel`},
		{"an unknown choice", "settings:\n  two-read: {corner: wide}\n", `b.yaml:4:22: two-read: corner: "wide": want outside, inside, divider or press`},
		{"a call without settings", "settings:\n  two-man: {corner: wide}\n", `b.yaml:4:13: settings of two-man: it has none: leave it out`},
		{"a match line too far", "settings:\n  match-line: 20\n", `b.yaml:4:15: match-line (yards beyond the line): 20: want 5 to 12`},
		{"kick-outs", "settings:\n  kick-outs: bounce\n", `b.yaml:4:14: kick-outs: "bounce": want box or spill`},
		{"no mapping", "settings:\n  two-read: inside\n", `b.yaml:4:13: settings of two-read: "inside": want a mapping of keys`},
		{"a setting with one choice", "calls:\n  ours: {from: quarters, settings: {hook: {usual: {}}}}\n", `b.yaml:4:37: setting hook of ours: 1 choices: at least two, the usual one first`},
		{"a choice of an unknown spot", "calls:\n  ours: {from: quarters, settings: {hook: {usual: {}, near: {K: near}}}}\n", `b.yaml:4:62: choice near: no spot "K" in call ours: a spot of this call`},
		{"a choice of an unknown way", "calls:\n  ours: {from: quarters, settings: {hook: {usual: {}, near: {N: near}}}}\n", `b.yaml:4:65: N: no way "near": want apex, cover-down, cutback or carry`},
		{"a setting's bad name", "calls:\n  ours: {from: quarters, settings: {Hook: {usual: {}, near: {N: apex}}}}\n", `b.yaml:4:37: name "Hook": lower-case letters, digits and dashes, at most 40`},
	} {
		_, err := book.Read("b.yaml", []byte("book: 1\nname: A staff\n"+c.text))
		assert.EqualError(t, err, c.want, c.what)
	}
}

// The book that the README shows is read as it stands there.
func TestReadmeBook(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, text, ok := strings.Cut(string(readme), "```yaml\nbook: 1\n")
	require.True(t, ok)
	text, _, _ = strings.Cut(text, "```")
	b, err := book.Read("b.yaml", []byte("book: 1\n"+text))
	require.NoError(t, err)
	assert.Equal(t, "safety", chosen(t, b, "quarters-in")["force"])
	assert.Equal(t, call.OnThrow, spot(t, b, "quarters-in", "LB").Pass[0].Holds)
}
