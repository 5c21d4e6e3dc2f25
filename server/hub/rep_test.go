package hub_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
)

var snap = session.Op{Do: "snap", Play: "toss"}

// reels are the frames with a track that a device has been sent since it last
// asked.
func (p *phone) reels() []string {
	p.read()
	var out []string
	for _, s := range p.all {
		if strings.HasPrefix(s.frame, `{"rep":`) {
			out = append(out, s.frame)
		}
	}
	p.all = nil
	return out
}

// One message for all, the same bytes for all players, once; nothing more while
// the coach plays with it.
func TestRepIsOneMessage(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		wall := w.device(c.pass, true).connect()
		p, q := w.player("Ty", "30").at("FS"), w.player("Bo", "7").at("N")
		began := w.now()
		c.must(snap)
		first := p.reels()
		require.Len(t, first, 1)
		assert.LessOrEqual(t, len(first[0]), wire.MaxDown)
		assert.Equal(t, first, q.reels())
		assert.Len(t, c.reels(), 1)
		assert.Len(t, wall.reels(), 1)
		assert.Equal(t, c.twin.Track.Keys, p.twin.Track.Keys)
		assert.NotEmpty(t, c.twin.Track.Breaks["FS"])
		assert.Empty(t, p.twin.Track.Breaks, "what may be broken on purpose is for the coach")
		assert.Equal(t, began+250, p.twin.State.Rep.Since)

		for _, op := range []session.Op{{Do: "roll", Mode: "walk"}, {Do: "stop", Ms: ptr(700)}, {Do: "roll", Ms: ptr(0)}, snap, {Do: "floor", Mode: "all"}} {
			c.must(op)
		}
		assert.Empty(t, append(p.reels(), append(wall.reels(), c.reels()...)...), "the track stays the same")
		same(t, *c.twin.State, *p.twin.State)

		c.must(session.Op{Do: "snap", Play: "toss", Errors: []session.Broken{{Spot: "FS", Rule: "late"}}})
		again := p.reels()
		require.Len(t, again, 1, "another rep")
		assert.NotEqual(t, first, again)
	})
}

func TestRepEndsByAMove(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "30").at("FS")
		c.must(snap)
		require.Len(t, p.reels(), 1)
		assert.Equal(t, session.CodeFloor, p.refused(put("FS", 250, 300)), "players watch")
		p.drag("FS", 250, 300)
		c.must(put("H", 310, -40))
		p.read()
		assert.Empty(t, p.twin.State.Rep.Play)
		assert.Nil(t, p.twin.Track)
		c.must(put("H", 288, -36))
		assert.Empty(t, p.reels())
		c.must(snap)
		assert.Len(t, p.reels(), 1, "it was thrown away, so it comes again")
	})
}

// A finger that was on a man at the snap neither ends the rep nor moves him.
func TestSnapTakesMenOutOfHands(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "30").at("FS")
		at := w.state().Spots["FS"].At
		p.drag("FS", 250, 300)
		c.must(snap)
		w.pass(2 * second)
		p.read()
		assert.Equal(t, "toss", p.twin.State.Rep.Play)
		assert.Equal(t, at, p.twin.State.Spots["FS"].At)
	})
}

func TestRepReachesWhoComesLater(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "30").at("FS")
		c.must(snap)
		want := p.reels()
		late := w.player("Bo", "7")
		assert.Equal(t, want, late.reels(), "who joins gets it behind the state")
		p.cut()
		c.must(session.Op{Do: "stop", Ms: ptr(900)})
		p.connect()
		assert.Equal(t, want, p.reels(), "and who comes back, behind the facts he missed")
		assert.Equal(t, 900, p.twin.State.Rep.At)
		p.cut()
		p.spoil = func(r *wire.Resume) { r.Epoch = "another" }
		p.connect()
		assert.Equal(t, want, p.reels(), "also with a whole state")
		p.spoil = nil

		c.must(session.Op{Do: "door", Mode: session.DoorKnock})
		knocks := w.player("Al", "8")
		assert.Empty(t, knocks.reels(), "not who waits at the door")
		c.must(session.Op{Do: "admit", Member: knocks.pass.Member})
		assert.Equal(t, want, knocks.reels())

		p.cut()
		c.must(session.Op{Do: "set"})
		p.connect()
		assert.Empty(t, p.reels())
	})
}

// W38.
func TestHiddenRepTellsNobodysJob(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		wall := w.device(c.pass, true).connect()
		p, q := w.player("Ty", "30").at("FS"), w.player("Bo", "7").at("N")
		c.must(session.Op{Do: "hide", On: true})
		q.must(session.Op{Do: "commit"})
		c.must(session.Op{Do: "snap", Play: "toss", Errors: []session.Broken{{Spot: "N", Rule: "over-the-top"}}})
		for _, d := range []*phone{p, wall} {
			require.Len(t, d.reels(), 1)
			tr := d.twin.Track
			assert.Equal(t, c.read().twin.Track.Keys, tr.Keys, "what is seen is seen")
			assert.Empty(t, tr.Faults)
			assert.Empty(t, tr.Lanes)
			assert.Empty(t, tr.Owners)
			assert.Empty(t, tr.Free)
			assert.Empty(t, tr.Breaks)
			assert.Equal(t, -1, tr.End.Lane)
			for _, e := range tr.Events {
				assert.Empty(t, e.Say)
				assert.NotContains(t, []string{"key", "match", "shed", "block", "replace"}, e.What)
			}
		}
		for _, f := range q.read().twin.Track.Faults {
			assert.Equal(t, "N", f.Who, "his own, after he has committed")
		}
		c.must(session.Op{Do: "hide"})
		require.Len(t, p.reels(), 1, "shown again: now he gets the whole")
		assert.Equal(t, c.twin.Track.Events, p.twin.Track.Events)
		assert.Equal(t, c.twin.Track.Faults, p.twin.Track.Faults)
	})
}

// The power goes: the same rep, where it was.
func TestRepComesBackAfterARestart(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "30").at("FS")
		c.must(session.Op{Do: "snap", Play: "toss", Seed: 5})
		want, rep := p.reels(), p.twin.State.Rep
		w.restart()
		p.connect()
		assert.Equal(t, want, p.reels())
		assert.Equal(t, rep, p.twin.State.Rep, "it rolls on as if nothing had been")
	})
}

// A clock that was set back while the server was away must not let a rep stand
// for an hour.
func TestRepOfTheFutureIsStopped(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(snap)
		w.hub.Close()
		w.skew.Store(-time.Hour.Milliseconds())
		w.start()
		c.connect()
		assert.Zero(t, c.twin.State.Rep.Since)
		assert.Equal(t, "toss", c.twin.State.Rep.Play)
		c.must(session.Op{Do: "roll"})
		assert.Equal(t, w.now()+250, c.twin.State.Rep.Since)
	})
}

// The welcome tells the hub's time, so that a device knows at once where a rep
// is.
func TestWelcomeTellsTheTime(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		var got wire.Down
		for _, s := range c.all {
			if d, err := wire.DecodeDown([]byte(s.frame)); err == nil && d.Welcome != nil {
				got = d
			}
		}
		require.NotNil(t, got.Welcome)
		assert.Equal(t, w.now(), got.Welcome.T)
	})
}
