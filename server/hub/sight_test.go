package hub_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/hub"
)

// answerWords are all texts of a coach's full answers, which nobody may have
// read who must answer himself: any of them gives an answer away.
func answerWords(t T, v *wire.Verdicts) []string {
	var out []string
	var walk func(any)
	walk = func(x any) {
		switch x := x.(type) {
		case string:
			if strings.Contains(x, " ") { // a sentence; labels and tags stand in the state as well
				out = append(out, x)
			}
		case []any:
			for _, e := range x {
				walk(e)
			}
		case map[string]any:
			for _, e := range x {
				walk(e)
			}
		}
	}
	for _, part := range []any{v.Spots, v.Lanes, v.Faults} {
		b, err := json.Marshal(part)
		require.NoError(t, err)
		var x any
		require.NoError(t, json.Unmarshal(b, &x))
		walk(x)
	}
	return out
}

// answerKeys stand in frames with answers only.
var answerKeys = []string{`"leverage"`, `"assignment"`, `"keeps"`, `"margin_s"`, `"fix"`, `"rule"`, `"verdict"`, `"because"`, `"yes"`, `"contested"`, `"no"`, `"gain_yd"`}

func TestHiddenAnswersLeaveNoByteBehind(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(session.Op{Do: "hide", On: true})
		wall := w.device(c.pass, true).connect()
		p, q := w.player("Ty", "21").at("FS"), w.player("Bo", "7")
		q.at("N")
		c.must(put("H", 310, -40))
		c.must(session.Op{Do: "motion", Who: "H", At: ptr(place(200, -60))})
		c.must(session.Op{Do: "motion"})
		p.drag("FS", 250, 300)
		p.must(put("FS", 250, 320))
		c.drag("Z", 600, -40)
		q.must(session.Op{Do: "commit"})
		c.must(session.Op{Do: "lineup", Who: "C"})
		p.cut()
		p.connect()
		c.must(session.Op{Do: "freeze", Play: "toss"})
		c.must(session.Op{Do: "thaw"})
		q.do(session.Op{Do: "commit"})
		p.read()
		wall.read()
		words := answerWords(t, c.read().twin.Verdicts)
		require.Greater(t, len(words), 20)
		for _, d := range []*phone{p, wall} {
			require.NotEmpty(t, d.all)
			for _, s := range d.all {
				for _, word := range append(words, answerKeys...) {
					require.NotContains(t, s.frame, word)
				}
			}
			assert.Empty(t, d.twin.Verdicts.Spots)
			assert.Empty(t, d.twin.Verdicts.Signs)
			assert.Empty(t, d.twin.Verdicts.Lanes)
			assert.Empty(t, d.twin.Verdicts.Faults)
			assert.NotNil(t, d.twin.Verdicts.Look.Numbers)
		}

		p.must(session.Op{Do: "commit"})
		assert.Equal(t, []string{"FS"}, keys(p.twin.Verdicts.Spots), "his own, after he has committed")
		assert.Empty(t, p.twin.Verdicts.Signs)
		assert.Equal(t, session.CodeCommitted, p.refused(put("FS", 0, 300)))
		c.must(session.Op{Do: "look", Look: "twins-left"})
		p.read()
		assert.Empty(t, p.twin.Verdicts.Spots, "a new look, a new question")
		c.must(session.Op{Do: "hide"})
		p.read()
		assert.Equal(t, []string{"FS"}, keys(p.twin.Verdicts.Spots))
		assert.Len(t, p.twin.Verdicts.Signs, len(p.twin.State.Spots))
		wall.read()
		assert.Equal(t, keys(c.twin.Verdicts.Spots), keys(wall.twin.Verdicts.Spots))
	})
}

func ptr[T any](v T) *T { return &v }

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func TestEachSeesWhatIsHis(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		p, free := w.player("Ty", "21").at("FS"), w.player("Bo", "7")
		c.read()
		assert.Len(t, c.twin.Verdicts.Spots, len(c.twin.State.Spots))
		assert.Equal(t, []string{"FS"}, keys(p.twin.Verdicts.Spots))
		own := p.twin.Verdicts.Spots["FS"]
		assert.Equal(t, c.twin.Verdicts.Spots["FS"], own)
		assert.Equal(t, c.twin.Verdicts.Lanes, p.twin.Verdicts.Lanes)
		assert.Empty(t, free.twin.Verdicts.Spots)
		assert.Len(t, free.twin.Verdicts.Signs, len(c.twin.State.Spots))
	})
}

// Where he may stand is for the man himself, and waits until the board is at
// rest: it takes too long to come with every move.
func TestPocketComesWhenTheBoardRests(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p, free := w.coach("head"), w.player("Ty", "21").at("FS"), w.player("Bo", "7")
		pocket := func() *wire.PocketAnswer { return p.read().twin.Verdicts.Spots["FS"].Pocket }
		w.pass(second)
		first := pocket()
		require.NotNil(t, first)
		p.cut()
		p.connect()
		assert.Equal(t, first, pocket(), "who comes back gets it at once")
		for range 5 {
			w.pass(100 * time.Millisecond)
			c.drag("H", 200, -40)
			assert.Nil(t, pocket())
		}
		c.must(put("H", 210, -40))
		assert.Nil(t, pocket())
		assert.False(t, p.twin.Verdicts.Live)
		frames := len(free.read().all) + len(c.read().all)
		w.pass(200 * time.Millisecond)
		require.NotNil(t, pocket())
		assert.NotEqual(t, first, pocket())
		assert.Equal(t, frames, len(free.read().all)+len(c.read().all), "nobody else is sent anything")
		for _, d := range []*phone{c, free} {
			for _, s := range d.all {
				assert.NotContains(t, s.frame, `"maybe"`)
			}
		}
	})
}

func TestWaitingMemberLearnsOfHimselfOnly(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		w.player("Ossie", "3")
		require.NoError(t, w.hub.ShowCode(w.ctx, w.id, "7K2M4P", "http://x/#join=7K2M4P"))
		c.must(session.Op{Do: "door", Mode: session.DoorKnock})
		p := w.player("Ty", "21")
		c.must(put("H", 310, -40))
		c.drag("Z", 600, -40)
		c.link.Point(wire.Point{Who: "Z"})
		p.read()
		assert.Nil(t, p.twin.State)
		assert.Nil(t, p.twin.Verdicts)
		for _, s := range p.all {
			for _, word := range []string{"Ossie", "7K2M4P", `"H"`, `"facts"`, `"drags"`, `"verdicts"`, `"state"`, `"points"`} {
				assert.NotContains(t, s.frame, word)
			}
		}
		require.Len(t, p.twin.Roster.People, 1)
		assert.Equal(t, "Ty", p.twin.Roster.People[0].Name)
		assert.Equal(t, session.CodeWaiting, p.refused(session.Op{Do: "hold", Spot: "FS"}))
		_, in, err := w.hub.Book(w.ctx, w.id, p.pass.Member)
		require.NoError(t, err)
		assert.False(t, in)

		c.must(session.Op{Do: "admit", Member: p.pass.Member})
		p.read()
		require.NotNil(t, p.twin.State, "a second welcome, with the state")
		same(t, *c.twin.State, *p.twin.State)
		assert.NotNil(t, p.twin.Verdicts)
		assert.Equal(t, place(600, -40), p.twin.Drags["Z"].At)
		assert.Greater(t, len(p.twin.Roster.People), 1)
		p.must(session.Op{Do: "hold", Spot: "FS"})
		b, in, err := w.hub.Book(w.ctx, w.id, p.pass.Member)
		require.NoError(t, err)
		assert.True(t, in)
		assert.Equal(t, "herons", b.ID)
	})
}

func TestRemovedMemberIsClosedAndForgotten(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		two := w.device(p.pass, false).connect() // his tablet
		p.drag("FS", 250, 333)
		c.must(session.Op{Do: "remove", Member: p.pass.Member})
		assert.Equal(t, wire.CloseRemoved, p.closed())
		assert.Equal(t, wire.CloseRemoved, two.closed())
		assert.ErrorIs(t, p.tryConnect(), hub.ErrRemoved)
		items, err := w.disk.Items(w.ctx, w.id)
		require.NoError(t, err)
		assert.Empty(t, items, "his name is nowhere")
		c.read()
		assert.Len(t, c.twin.Roster.People, 1)
		assert.Equal(t, place(250, 333), c.twin.State.Spots["FS"].At, "his man stays where he left him")
		assert.Empty(t, c.twin.State.Spots["FS"].By)
		assert.False(t, c.twin.Verdicts.Live)
	})
}

func TestNameThatCouldNotBeDeletedGoesWithTheNextLoad(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		w.player("Bo", "7")
		w.store.set(func() { w.store.keep = true })
		c.must(session.Op{Do: "remove", Member: p.pass.Member})
		items, err := w.disk.Items(w.ctx, w.id)
		require.NoError(t, err)
		assert.Len(t, items, 2)
		w.store.set(func() { w.store.keep = false })
		w.restart()
		c.connect()
		items, err = w.disk.Items(w.ctx, w.id)
		require.NoError(t, err)
		assert.Len(t, items, 1)
		assert.Contains(t, names(c.twin.Roster), "Bo", "who is still in keeps his")
	})
}

func names(r wire.Roster) []string {
	var out []string
	for _, p := range r.People {
		out = append(out, p.Name)
	}
	return out
}

func TestRosterTellsEachWhatHeMayKnow(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		wall := w.device(c.pass, true).connect()
		p := w.player("Ty", "21").at("FS")
		require.NoError(t, w.hub.ShowCode(w.ctx, w.id, "7K2M4P", "http://x/#join=7K2M4P"))
		code, link, err := w.hub.Code(w.ctx, w.id)
		require.NoError(t, err)
		assert.Equal(t, []string{"7K2M4P", "http://x/#join=7K2M4P"}, []string{code, link})
		c.must(session.Op{Do: "door", Mode: session.DoorKnock})
		q := w.player("Bo", "7")
		for _, d := range []*phone{c, wall, p, q} {
			d.read()
		}
		for _, d := range []*phone{c, wall} {
			assert.Equal(t, "7K2M4P", d.twin.Roster.Code)
			assert.Equal(t, "http://x/#join=7K2M4P", d.twin.Roster.Link)
			assert.ElementsMatch(t, []string{"", "", "Ty", "Bo"}, names(d.twin.Roster))
		}
		assert.Empty(t, p.twin.Roster.Code)
		assert.ElementsMatch(t, []string{"", "", "Ty"}, names(p.twin.Roster), "who waits is for staff to know")
		assert.Equal(t, []string{"Bo"}, names(q.twin.Roster))
		for _, d := range []*phone{p, q} {
			for _, s := range d.all {
				assert.NotContains(t, s.frame, "7K2M4P")
			}
		}
		own := func(d *phone) wire.Person {
			for _, x := range c.read().twin.Roster.People {
				if x.Member == d.pass.Member {
					return x
				}
			}
			return wire.Person{}
		}
		assert.Equal(t, wire.Person{Member: p.pass.Member, Name: "Ty", Number: "21", Role: session.Player, In: true, Here: true, Spot: "FS"}, own(p))
		p.cut()
		assert.False(t, own(p).Here)
		c.must(session.Op{Do: "door", Mode: session.DoorClosed})
		assert.Empty(t, c.twin.Roster.Code, "a closed door shows no code")
	})
}

// A place given to a man is no news about people: rosters are for those.
func TestRosterIsSentOnlyWhenItChanges(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		p.read()
		before := len(p.all)
		c.must(put("FS", 250, 300))
		c.must(session.Op{Do: "look", Look: "twins-left"})
		p.read()
		for _, s := range p.all[before:] {
			assert.NotContains(t, s.frame, `"roster"`)
		}
		c.must(session.Op{Do: "give", Spot: "FS"})
		p.read()
		assert.Contains(t, p.all[len(p.all)-1].frame, `"roster"`)
	})
}
