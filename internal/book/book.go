package book

import (
	"slices"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/leverage"
	"halfline/internal/look"
	"halfline/internal/play"
)

// Book is everything a staff keeps, read and checked. It is not changed after
// reading.
type Book struct {
	ID, Name string
	Calls    []*call.Call
	Plays    []*play.Play
	Looks    []Look
	Squad    []Player
	Menu     []string // play ids that leverage is judged against by default
	Athletes Athletes
	Model    leverage.Model
	KickOuts KickOut
	Caution  string
}

// Look is a look of the book with its name and menu.
type Look struct {
	ID, Name string
	Side     field.Side // the side under study
	Shown    look.Look
	Menu     []string // all plays of the parts
	Parts    MenuParts
}

// MenuParts says what the plays of a look's menu are for: the play that is taught,
// its partner that punishes who cheats against it, and what keeps him honest.
type MenuParts struct{ Main, Partner, Honest []string }

// Player is one man of the squad.
type Player struct {
	Number, Name string
	Spot         string // where he usually plays
	Athlete      *athlete.Athlete
	Depth        *call.Depth // his own depth in place of the call's
	Contact      string      // full, limited or none
}

// Athletes says how men move who have no numbers of their own.
type Athletes struct {
	Tau float64 // s, for everybody
	// Game is the share of a man's 40-yard speed that he keeps in pads while
	// reading, Ball the share with the ball in his hands.
	Game, Ball float64
	// ByKind holds a man by what he is: wide, slot, end, back, line, passer;
	// corner, apex, safety, hook, front.
	ByKind map[string]athlete.Athlete
}

// Call gives the call with an id.
func (b *Book) Call(id string) (*call.Call, bool) {
	for _, c := range b.Calls {
		if c.ID == id {
			return c, true
		}
	}
	return nil, false
}

// Play gives the play with an id.
func (b *Book) Play(id string) (*play.Play, bool) {
	for _, p := range b.Plays {
		if p.ID == id {
			return p, true
		}
	}
	return nil, false
}

// Look gives the look with an id.
func (b *Book) Look(id string) (*Look, bool) {
	for i := range b.Looks {
		if b.Looks[i].ID == id {
			return &b.Looks[i], true
		}
	}
	return nil, false
}

// MenuPlays gives the plays of a menu; an empty menu is the book's own.
func (b *Book) MenuPlays(ids []string) []*play.Play {
	if len(ids) == 0 {
		ids = b.Menu
	}
	var out []*play.Play
	for _, id := range ids {
		if p, ok := b.Play(id); ok {
			out = append(out, p)
		}
	}
	return out
}

// Carry is the share of his speed in the game that a man keeps with the ball.
func (a Athletes) Carry() float64 { return a.Ball / a.Game }

// Offense gives the default athlete for a man of a look: by where he stands,
// not by his tag.
func (b *Book) Offense(l look.Look, m look.Man) athlete.Athlete {
	kind := "back"
	switch {
	case m.Tag == look.Passer:
		kind = "passer"
	case l.Interior(m):
		kind = "line"
	default:
		for _, s := range []field.Side{field.Left, field.Right} {
			for i, n := range l.Numbers(s) {
				if n.Tag != m.Tag {
					continue
				}
				switch {
				case m.At.Y <= -3*field.Yard:
					kind = "back"
				case m.Line && l.Attached(s, m):
					kind = "end"
				case i == 0:
					kind = "wide"
				default:
					kind = "slot"
				}
			}
		}
	}
	return b.Athletes.ByKind[kind]
}

// Defense gives the default athlete for a spot.
func (b *Book) Defense(s *call.Spot) athlete.Athlete {
	kind := string(s.Role)
	switch s.Role {
	case "":
		kind = "front"
	case play.Deep:
		kind = "safety"
	}
	return b.Athletes.ByKind[kind]
}

// firstSpot gives a spot as the first call that has it knows it.
func (b *Book) firstSpot(label string) (*call.Spot, bool) {
	for _, c := range b.Calls {
		if s, ok := c.Spot(label); ok {
			return s, true
		}
	}
	return nil, false
}

// spotLabels lists the spots of all calls, each once.
func (b *Book) spotLabels() []string {
	var out []string
	for _, c := range b.Calls {
		for _, s := range c.Spots {
			if !slices.Contains(out, s.Label) {
				out = append(out, s.Label)
			}
		}
	}
	return out
}

func (b *Book) callIDs() []string {
	out := make([]string, len(b.Calls))
	for i, c := range b.Calls {
		out[i] = c.ID
	}
	return out
}

func (b *Book) playIDs() []string {
	out := make([]string, len(b.Plays))
	for i, p := range b.Plays {
		out[i] = p.ID
	}
	return out
}
