package hub_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/hub"
)

// move makes n facts as fast as the rates allow.
func (p *phone) move(n int) {
	p.w.t.Helper()
	for i := range n {
		if i%wire.CoachOps == 0 {
			p.w.pass(second)
		}
		p.send(p.twin.Do(put("H", 200+i%100, -40)))
		if i%50 == 0 {
			p.read()
		}
	}
	p.read()
	require.Empty(p.w.t, p.twin.Waiting())
}

// first is the first frame of the present connection.
func (p *phone) first() wire.Down {
	p.w.t.Helper()
	for i := len(p.all) - 1; i >= 0; i-- {
		d, err := wire.DecodeDown([]byte(p.all[i].frame))
		require.NoError(p.w.t, err)
		if d.Welcome != nil {
			return d
		}
	}
	p.w.t.Fatal("never welcomed")
	return wire.Down{}
}

func TestD5ResumeByTail(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		p.cut()
		c.move(7)
		have := p.twin.Seq
		p.connect()
		assert.Nil(t, p.first().Welcome.State)
		assert.Equal(t, have, p.first().Welcome.Seq)
		assert.Equal(t, c.twin.Seq, p.twin.Seq)
		same(t, *c.twin.State, *p.twin.State)
		p.cut()
		p.connect() // nothing missed at all
		assert.Nil(t, p.first().Welcome.State)
		same(t, *c.twin.State, *p.twin.State)
		assert.NotNil(t, p.twin.Verdicts, "W21")
		assert.NotEmpty(t, p.twin.Roster.People, "W21")
	})
}

func TestD5ResumeThatCannotGoOnGetsTheState(t *testing.T) {
	for name, spoil := range map[string]func(*wire.Resume){
		"wrong chain":     func(r *wire.Resume) { r.Chain = "00000000000000aa" },
		"wrong epoch":     func(r *wire.Resume) { r.Epoch = "another" },
		"ahead of us":     func(r *wire.Resume) { r.Have += 100 },
		"an older record": func(r *wire.Resume) { r.Have-- },
		"from nothing":    func(r *wire.Resume) { r.Have, r.Chain = 0, "0000000000000000" },
	} {
		for _, missed := range []int{0, 3} {
			t.Run(fmt.Sprint(name, " with ", missed, " missed"), func(t *testing.T) {
				bubble(t, func(t T, w *world) {
					c, p := w.coach("head"), w.player("Ty", "21")
					p.cut()
					c.move(missed)
					p.spoil = spoil
					p.connect()
					assert.NotNil(t, p.first().Welcome.State)
					assert.Equal(t, c.twin.Seq, p.first().Welcome.Seq)
				})
			})
		}
	}
}

func TestD5FarBehindGetsTheState(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, near, far := w.coach("head"), w.player("Ty", "21"), w.player("Bo", "7")
		far.cut()
		c.move(8)
		near.read().cut()
		c.move(505)
		near.connect()
		assert.Nil(t, near.first().Welcome.State, "505 missed")
		far.connect()
		assert.NotNil(t, far.first().Welcome.State, "513 missed")
		same(t, *c.twin.State, *near.twin.State)
		same(t, *c.twin.State, *far.twin.State)
	})
}

// Big facts: a tail must never be more than an outbox takes, or a device would
// be cut off each time it comes back.
func TestD5BigTailGetsTheState(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		sizes := func(from int) (n int) {
			for _, s := range p.all[from:] {
				n += len(s.frame)
			}
			return n
		}
		looks := []string{"twins-right", "twins-left"}
		for _, missed := range []int{20, 300} {
			p.cut()
			for i := range missed {
				if i%wire.CoachOps == 0 {
					w.pass(second)
				}
				c.do(session.Op{Do: "look", Look: looks[i%2]})
			}
			from := len(p.all)
			p.connect()
			assert.Equal(t, missed > 100, p.first().Welcome.State != nil)
			assert.Less(t, sizes(from), 160<<10)
			same(t, *c.twin.State, *p.twin.State)
		}
	})
}

func TestD5SnapshotAndTailMakeTheSameSession(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		c.move(300)
		assert.Equal(t, 1, w.store.snapshots())
		c.move(230)
		assert.Equal(t, 2, w.store.snapshots())
		want, seq, chain := c.twin.State.Clone(), c.twin.Seq, c.twin.Chain
		same(t, want, w.replay())

		w.restart()
		p.twin.State = nil // a page that was loaded anew
		p.connect()
		same(t, want, *p.twin.State)
		assert.Equal(t, seq, p.twin.Seq)
		assert.Equal(t, chain, p.twin.Chain)
		c.connect()
		assert.Nil(t, c.first().Welcome.State, "the hub's tail reaches to where he was")
		acks, _ := c.answers(c.last())
		assert.Equal(t, []wire.Ack{{N: c.last().N, Seq: seq, Epoch: c.twin.Epoch}}, acks, "counters come with the log")
		assert.Equal(t, uint64(1), p.first().Welcome.Counter, "and with the snapshot")
		acks, _ = p.answers(p.last())
		assert.Equal(t, []wire.Ack{{N: 1, Seq: uint64(p.twin.Entries()[0].Seq), Epoch: c.twin.Epoch}}, acks)
		c.must(put("H", 0, -100))
		w.checkLog()
	})
}

// last is the last operation of a device, as it was sent.
func (p *phone) last() wire.OpUp {
	e := p.twin.Entries()
	up := e[len(e)-1]
	return wire.OpUp{N: up.N, Base: up.Base, Op: up.Op}
}

// replay is the state as the log alone tells it.
func (w *world) replay() session.State {
	var st session.State
	for _, r := range w.log() {
		var c session.Change
		require.NoError(w.t, json.Unmarshal(r.Data, &c))
		st.Apply(c)
	}
	return st
}

func TestSnapshotThatIsNotKeptDoesNoHarm(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		w.store.set(func() { w.store.noSnap = true })
		c.move(300)
		assert.Zero(t, w.store.snapshots())
		w.restart()
		c.connect()
		c.must(put("H", 0, -100))
		same(t, w.replay(), *c.twin.State)
	})
}

// I7: whatever way a device comes back, it has what a full replay gives.
func TestI7AnyResumeIsAFullReplay(t *testing.T) {
	bubbles(t, func(rt *rapid.T, w *world) {
		c := w.coach("head")
		devices := []*phone{c, w.player("Ty", "21"), w.player("Bo", "7"), w.device(hub.Pass{Session: w.id, Member: "head", Role: session.Coach}, true).connect()}
		for range rapid.IntRange(1, 8).Draw(rt, "steps") {
			d := devices[rapid.IntRange(1, len(devices)-1).Draw(rt, "device")]
			switch rapid.SampledFrom([]string{"move", "move", "hold", "cut", "back", "restart", "new page", "drag", "behind"}).Draw(rt, "what") {
			case "move":
				w.pass(second)
				for i := range rapid.IntRange(1, 5).Draw(rt, "times") {
					c.send(c.twin.Do(put("H", 200+i, -40)))
				}
				c.read()
			case "hold":
				if d.closed() == 0 {
					d.do(session.Op{Do: "hold", Spot: rapid.SampledFrom([]string{"FS", "C", "N"}).Draw(rt, "spot")})
				}
			case "cut":
				if d.closed() == 0 {
					d.cut()
				}
			case "back":
				d.connect()
			case "new page":
				d.twin.State = nil
				d.connect()
			case "drag":
				c.drag("Z", rapid.IntRange(400, 600).Draw(rt, "x"), -30)
			case "behind":
				d.fallBehind()
				c.do(put("H", 250, -40))
				d.line.Close(wire.CloseSlow)
			case "restart":
				w.restart()
				c.connect()
			}
		}
		w.pass(second) // what is dragged is let go
		want := w.replay()
		for _, d := range devices {
			if d.closed() != 0 {
				d.connect()
			}
			d.read()
			same(rt, want, *d.twin.State)
			require.Equal(rt, c.twin.Chain, d.twin.Chain)
		}
		w.checkLog()
	})
}

func TestFramesOfManyBigFactsKeepTheLimit(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		release := w.store.hold()
		for i := range 40 { // all of them in one batch, over 32 KiB together
			c.send(c.twin.Do(session.Op{Do: "look", Look: []string{"twins-right", "twins-left"}[i%2]}))
		}
		c.read()
		from := len(p.all)
		release()
		p.read()
		c.read()
		assert.Greater(t, len(p.all)-from, 1, "more than one frame")
		sum := 0
		for _, s := range p.all[from:] { // each was held to the limit when it was sent
			sum += strings.Count(s.frame, `"do":"look"`)
		}
		assert.Equal(t, 40, sum)
		assert.Empty(t, c.twin.Waiting())
		same(t, *c.twin.State, *p.twin.State)
	})
}
