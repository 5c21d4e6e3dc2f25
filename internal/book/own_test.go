package book_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/assign"
	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

// stage is the receivers of a half-line at one moment: how Z (#1), H (#2) and the
// back B release, "" before it shows.
type stage struct {
	z, h, b play.Release
	thrown  bool
}

func (s stage) shown() []assign.Shown {
	return []assign.Shown{{Number: 1, Tag: "Z", Release: s.z}, {Number: 2, Tag: "H", Release: s.h}, {Number: 0, Tag: "B", Release: s.b}}
}

// owns gives, by spot of one half of a built-in call, "Z over", or "Z under,
// then H" for who comes off to another on the throw, "" for nobody; and whom
// nobody has.
func owns(t *testing.T, id string, side field.Side, s stage) (map[string]string, []string) {
	t.Helper()
	return ownsOf(t, book.Builtin(), id, side, s)
}

func owned(t *testing.T, b *book.Book, id string, s stage) (map[string]string, []string) {
	t.Helper()
	return ownsOf(t, b, id, field.Right, s)
}

func ownsOf(t *testing.T, b *book.Book, id string, side field.Side, s stage) (map[string]string, []string) {
	t.Helper()
	c, ok := b.Call(id)
	require.True(t, ok)
	var duties []assign.Duty
	for i := range c.Spots {
		d := assign.Duty{Spot: &c.Spots[i], Half: side}
		if c.Spots[i].Half == call.Back {
			d.Half = side.Other()
		}
		duties = append(duties, d)
	}
	own := assign.Owners(nil, duties, side, s.shown(), s.thrown)
	out := map[string]string{}
	for i, o := range own {
		if duties[i].Half != side {
			require.Equal(t, assign.Own{}, o, "a man of the other half")
			continue
		}
		if duties[i].Spot.Stand == nil {
			continue // on the defensive line
		}
		w := o.Tag
		if o.Hold != call.NoHold {
			w += " " + string(o.Hold)
		}
		if o.Then != "" {
			w += ", then " + o.Then
		}
		out[duties[i].Spot.Label] = w
	}
	return out, assign.Unowned(own, s.shown())
}

// Who has whom at each stage of eight worked passes (common practice, no source).
// Everybody is right here; what an error frees is the rep's to tell.
func TestWhoHasWhom(t *testing.T) {
	for _, c := range []struct {
		what, call string
		s          stage
		want       map[string]string
	}{
		{"P1 before anybody shows", "two-read", stage{}, map[string]string{"C": "Z under", "N": "H under", "FS": "H over", "LB": "B under"}},
		{"P1 H out, Z vertical, no throw: C squeezes Z and has H, FS has Z", "two-read", stage{z: "vertical", h: "out"},
			map[string]string{"C": "Z in-phase, then H", "N": "H under", "FS": "Z over", "LB": "B under"}},
		{"P1 and B out: N has B", "two-read", stage{z: "vertical", h: "out", b: "out"},
			map[string]string{"C": "Z in-phase, then H", "N": "B under", "FS": "Z over", "LB": "B under"}},
		{"P1 thrown: C has H", "two-read", stage{z: "vertical", h: "out", b: "out", thrown: true},
			map[string]string{"C": "H on-throw", "N": "B under", "FS": "Z over", "LB": "B under"}},
		{"P2 H bubbles, Z shows a block: neither C nor FS is H's before the throw", "two-read", stage{z: "block", h: "behind"},
			map[string]string{"C": "Z under, then H", "N": "H under", "FS": "Z over", "LB": "B under"}},
		{"P2 H turns up, Z goes: the wheel is C's, FS never left Z", "two-read", stage{z: "go", h: "wheel"},
			map[string]string{"C": "H over", "N": "H under", "FS": "Z over", "LB": "B under"}},
		{"P3 Z fakes and goes, H bubbles, the ball is out: C has H, FS has Z", "two-read", stage{z: "go", h: "behind", thrown: true},
			map[string]string{"C": "H on-throw", "N": "H under", "FS": "Z over", "LB": "B under"}},
		{"P4 H out at 4, Z vertical: N has H, C has Z, FS robs Z", "quarters", stage{z: "vertical", h: "out"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "Z under", "LB": "B under"}},
		{"P5 H vertical past the match line: FS has him, N is under, C stays on Z", "quarters", stage{z: "vertical", h: "vertical"},
			map[string]string{"C": "Z in-phase", "N": "H under", "FS": "H over", "LB": "B under"}},
		{"P6 the bubble look: H is N's, FS is over him, not at the ball", "quarters", stage{z: "block", h: "behind"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "H over", "LB": "B under"}},
		{"P6 H wheels: he is N's", "quarters", stage{z: "go", h: "wheel"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "Z under", "LB": "B under"}},
		{"P7 flood: C has Z, SS has H, LB comes off to B when he is thrown", "3-sky", stage{z: "vertical", h: "out", b: "out"},
			map[string]string{"C": "Z over", "SS": "H under", "LB": "B under, then B", "FS": ""}},
		{"P7 thrown: H is SS's still, B is LB's, late", "3-sky", stage{z: "vertical", h: "out", b: "out", thrown: true},
			map[string]string{"C": "Z over", "SS": "H under", "LB": "B on-throw", "FS": ""}},
		{"P8 bubble-and-go: each his own, the middle safety has nobody", "man-free", stage{z: "go", h: "behind"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "", "LB": "B in-phase"}},
		{"P8 H goes: N, who must still be at his hip", "man-free", stage{z: "go", h: "wheel"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "", "LB": "B in-phase"}},
		{"cloud, flood: C is on H until the back is thrown", "3-cloud", stage{z: "vertical", h: "out", b: "out"},
			map[string]string{"C": "H under, then B", "N": "H under", "SS": "Z over", "LB": "B under"}},
		{"cloud, flood, the back is thrown", "3-cloud", stage{z: "vertical", h: "out", b: "out", thrown: true},
			map[string]string{"C": "B on-throw", "N": "H under", "SS": "Z over", "LB": "B under"}},
		{"cloud, wheel: C sinks with it", "3-cloud", stage{z: "go", h: "wheel"},
			map[string]string{"C": "H in-phase", "N": "H under", "SS": "Z over", "LB": "B under"}},
		{"2, two verticals: the half safety cheats to #1, N walls #2", "2", stage{z: "vertical", h: "vertical"},
			map[string]string{"C": "Z under", "N": "H under", "FS": "Z over", "LB": "B under"}},
		{"3-sky, #1 under: C has the deepest", "3-sky", stage{z: "under", h: "vertical"},
			map[string]string{"C": "H over", "SS": "Z under", "LB": "H under", "FS": "H over"}},
		{"two-man, two verticals: men under, the safety over", "two-man", stage{z: "vertical", h: "vertical"},
			map[string]string{"C": "Z in-phase", "N": "H in-phase", "FS": "Z over"}},
	} {
		for _, side := range []field.Side{field.Left, field.Right} {
			got, nobody := owns(t, c.call, side, c.s)
			assert.Equal(t, c.want, got, c.what)
			assert.Empty(t, nobody, c.what)
		}
	}
}

// At no moment does a receiver of a built-in call have nobody: every pair of
// releases of #1 and #2, every way of the back, before and after the throw.
func TestEverybodyIsOwnedAtEveryMoment(t *testing.T) {
	all := append([]play.Release{""}, play.Releases...)
	for _, c := range book.Builtin().Calls {
		for _, z := range all {
			for _, h := range all {
				for _, b := range []play.Release{"", "block", "out", "vertical", "under", "behind"} {
					for _, thrown := range []bool{false, true} {
						s := stage{z, h, b, thrown}
						_, nobody := owns(t, c.ID, field.Right, s)
						if c.ID == "two-man" && len(nobody) == 1 && nobody[0] == "B" {
							continue // a half-line without a linebacker
						}
						require.Empty(t, nobody, "%s: %+v", c.ID, s)
					}
				}
			}
		}
	}
}
