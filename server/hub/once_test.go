package hub_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// answers reads a device's frames without its twin, for operations that a good
// client would not send, and gives the acks and refusals in them.
func (p *phone) answers(ups ...wire.OpUp) (acks []wire.Ack, refused []wire.Refused) {
	p.w.t.Helper()
	p.read()
	for _, up := range ups {
		p.link.Op(up)
	}
	p.w.pass(0)
	for _, s := range p.take() {
		d, err := wire.DecodeDown([]byte(s.frame))
		require.NoError(p.w.t, err)
		acks, refused = append(acks, d.Acks...), append(refused, d.Refused...)
		_, err = p.twin.Take([]byte(s.frame))
		require.NoError(p.w.t, err)
	}
	return acks, refused
}

func TestD4RepeatGetsItsFirstAnswer(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		first := wire.OpUp{N: 1, Op: put("H", 300, -40)}
		nothing := wire.OpUp{N: 2, Op: session.Op{Do: "thaw"}}
		wrong := wire.OpUp{N: 3, Op: put("nobody", 1, 1)}
		last := wire.OpUp{N: 4, Op: put("H", 310, -40)}
		acks, refused := c.answers(first, nothing, wrong, last)
		require.Len(t, acks, 3)
		require.Len(t, refused, 1)
		assert.Equal(t, wire.Refused{N: 3, Code: session.CodeUnknown, Detail: "nobody"}, refused[0])
		n := len(w.checkLog())

		again, refusedAgain := c.answers(first, nothing, wrong, last)
		assert.Equal(t, acks, again)
		assert.Equal(t, refused, refusedAgain)
		again, _ = c.answers(last, last, wire.OpUp{N: 1, Op: put("Z", 0, -90)}) // another content under a used number
		assert.Equal(t, []wire.Ack{acks[2], acks[2], acks[0]}, again)
		assert.Len(t, w.checkLog(), n, "nothing was done twice")
	})
}

func TestD4RepeatAfterARestart(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		ups := []wire.OpUp{{N: 1, Op: put("H", 300, -40)}, {N: 2, Op: put("H", 310, -40)}}
		acks, _ := c.answers(ups...)
		w.restart()
		c.connect()
		again, _ := c.answers(ups...)
		assert.Equal(t, acks, again)
		assert.Equal(t, place(310, -40), w.state().Men["H"].At)
		w.checkLog()
	})
}

func TestD4JumpAheadIsAGap(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		acks, refused := c.answers(wire.OpUp{N: 2, Op: put("H", 300, -40)})
		assert.Empty(t, acks)
		assert.Equal(t, []wire.Refused{{N: 2, Code: wire.CodeGap}}, refused)
		acks, _ = c.answers(wire.OpUp{N: 1, Op: put("H", 300, -40)}, wire.OpUp{N: 2, Op: put("H", 301, -40)})
		assert.Len(t, acks, 2, "the number was not used up")
		_, refused = c.answers(wire.OpUp{N: 0, Op: put("H", 300, -40)})
		assert.Equal(t, wire.CodeBadFrame, refused[0].Code)
		assert.Zero(t, refused[0].N)
	})
}

func TestD4RefusalUsesTheNumberUp(t *testing.T) {
	bubble(t, func(t T, w *world) {
		p := w.player("Ty", "21")
		assert.Equal(t, session.CodeNoSpot, p.refused(session.Op{Do: "letgo"}))
		p.must(session.Op{Do: "hold", Spot: "FS"})
		assert.Equal(t, session.CodeNotAllowed, p.refused(session.Op{Do: "look", Look: "twins-right"}))
		p.cut()
		p.connect()
		p.must(session.Op{Do: "letgo"})
		// A hub that starts again has forgotten the refusals after the last fact.
		assert.Equal(t, session.CodeNoSpot, p.refused(session.Op{Do: "letgo"}))
		w.restart()
		p.connect()
		p.must(session.Op{Do: "hold", Spot: "FS"})
		w.checkLog()
	})
}

// Operations behind one that the store did not take are not refused for ever as
// a gap, although one between them was answered.
func TestD4StoreTroubleLeavesNumbersUnused(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(put("H", 300, -40))
		c.refused(put("nobody", 0, 0))
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		c.send(c.twin.Do(put("H", 310, -40)))
		c.send(c.twin.Do(put("nobody", 0, 0))) // decided on a head that will be lost
		c.send(c.twin.Do(put("H", 320, -40)))
		c.read()
		assert.Len(t, c.twin.Waiting(), 3)
		assert.Equal(t, 1000, c.news.RetryMS)
		w.store.mend()
		w.pass(reload)
		c.retry()
		assert.Empty(t, c.twin.Waiting())
		assert.False(t, c.news.Gap)
		assert.Len(t, c.news.Refused, 2)
		assert.Equal(t, place(320, -40), c.twin.State.Men["H"].At)
		w.checkLog()
	})
}

// W10: what is still on its way to the store does not count as done, or a device
// would let go of it too early.
func TestD4WelcomeCountsOnlyWhatIsSettled(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(put("H", 300, -40))
		release := w.store.hold()
		c.do(put("H", 310, -40))
		c.cut()
		c.connect() // sends it again
		assert.Len(t, c.twin.Waiting(), 1)
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		release()
		c.read()
		assert.Len(t, c.twin.Waiting(), 1, "kept, for the store did not take it")
		w.store.mend()
		w.pass(reload)
		c.retry()
		assert.Empty(t, c.twin.Waiting())
		assert.Equal(t, place(310, -40), c.twin.State.Men["H"].At)
		w.checkLog()
	})
}

func TestD4AnswerFindsTheDeviceOnItsNextConnection(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		release := w.store.hold()
		defer release()
		c.do(put("H", 310, -40))
		require.NoError(t, c.tryConnect()) // the old connection is not gone yet
		release()
		c.read()
		assert.Empty(t, c.twin.Waiting())
		assert.Equal(t, int64(c.twin.Seq), c.twin.Entries()[0].Seq)
	})
}

// Whose operation made a fact is told to that device alone: the id is what keeps
// others from counting operations in its name.
func TestI11ADevicesIdIsItsOwn(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		c.must(put("H", 310, -40))
		p.cut()
		c.must(put("H", 320, -40))
		p.connect()
		id := c.twin.Hello().Client
		for _, s := range p.all {
			assert.NotContains(t, s.frame, id)
		}
		own := 0
		for _, s := range c.all {
			d, err := wire.DecodeDown([]byte(s.frame))
			require.NoError(t, err)
			for _, f := range d.Facts {
				if f.Client == id {
					own++
				}
			}
		}
		assert.Equal(t, 2, own)
	})
}

func TestD4ManyIdsThatChangeNothingAreForgotten(t *testing.T) {
	bubble(t, func(t T, w *world) {
		p := w.player("Ty", "21")
		refused := p.refused(session.Op{Do: "letgo"})
		assert.Equal(t, session.CodeNoSpot, refused)
		p.cut()
		p.connect()
		assert.Zero(t, p.first().Welcome.Counter, "it begins anew")
		p.must(session.Op{Do: "hold", Spot: "FS"})
		p.cut()
		p.connect()
		assert.Equal(t, uint64(1), p.first().Welcome.Counter)
	})
}
