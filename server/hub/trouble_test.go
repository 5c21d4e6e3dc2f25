package hub_test

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/hub"
	"halfline/server/store"
)

func TestD13StoreThatTakesNothingMakesTheSessionReadOnly(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		seq := p.twin.Seq
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		c.do(put("H", 310, -40))
		assert.Equal(t, 1000, c.news.RetryMS)
		c.do(put("H", 320, -40)) // known to be in trouble now: told at once
		assert.Len(t, c.twin.Waiting(), 2)

		c.drag("H", 330, -40) // passing messages flow
		p.read()
		assert.Equal(t, place(330, -40), p.twin.Drags["H"].At)
		assert.Equal(t, seq, p.twin.Seq, "what is shown stays shown")
		p.cut()
		p.connect()
		assert.Equal(t, place(330, -40), p.twin.Drags["H"].At)
		_, _, err := w.hub.Join(w.ctx, w.id, "Bo", "7")
		assert.ErrorIs(t, err, store.ErrReadOnly)

		w.pass(3 * time.Second)
		assert.Empty(t, c.news.Refused, "nothing is final")
		w.store.mend()
		w.pass(reload)
		c.retry()
		p.read()
		assert.Empty(t, c.twin.Waiting())
		same(t, w.replay(), *p.twin.State)
		w.checkLog()
	})
}

// A drag that ends while the store is in trouble is not lost: the man stays
// where all see him, and is placed when the store is back.
func TestD13DragThatEndsInTroubleIsPlacedAfter(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		c.do(put("Z", 500, -30))
		c.drag("H", 330, -40)
		c.cut()
		w.pass(5 * time.Second)
		p.read()
		assert.Equal(t, place(330, -40), p.twin.Drags["H"].At)
		w.store.mend()
		w.pass(reload + wire.DragQuiet)
		p.read()
		assert.Equal(t, place(330, -40), p.twin.State.Men["H"].At)
		assert.False(t, p.twin.Verdicts.Live)
		c.connect()
		c.read()
		assert.Equal(t, place(500, -30), c.twin.State.Men["Z"].At, "kept by its device, sent again")
	})
}

func TestD13DragWhosePlaceIsRefusedComesBack(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		c.drag("H", 330, -40)
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		c.do(put("H", 333, -40)) // the finger is up, the store does not take it
		w.pass(3 * time.Second)
		w.store.mend()
		w.pass(reload + wire.DragQuiet)
		p.read()
		assert.Equal(t, place(333, -40), p.twin.State.Men["H"].At, "placed by the hub")
		c.retry()
		p.read()
		assert.Empty(t, c.twin.Waiting())
		assert.Equal(t, place(333, -40), p.twin.State.Men["H"].At)
		w.checkLog()
	})
}

func TestD13LostAnswerIsFoundOutAndShownOnce(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		w.store.set(func() { w.store.lose = true })
		c.do(put("H", 310, -40))
		require.Len(t, c.twin.Waiting(), 0, "the fact itself is the answer, once it is found in the store")
		w.store.mend()
		w.pass(reload)
		c.retry()
		p.read()
		n := 0
		for _, r := range w.checkLog() {
			if r.Kind == "place" {
				n++
			}
		}
		assert.Equal(t, 1, n)
		assert.Equal(t, place(310, -40), p.twin.State.Men["H"].At)
		acks, _ := c.answers(c.last())
		assert.Equal(t, []wire.Ack{{N: 1, Seq: p.twin.Seq, Epoch: p.twin.Epoch}}, acks)
	})
}

func TestD13StoreThatCannotEvenBeReadIsAskedAgain(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		w.store.set(func() { w.store.refuse, w.store.unread = errLost, errors.New("down") })
		c.do(put("H", 310, -40))
		w.pass(time.Minute)
		w.store.set(func() { w.store.unread = nil })
		w.pass(reload) // readable, but takes no writes
		c.retry()
		assert.Len(t, c.twin.Waiting(), 1)
		w.store.mend()
		w.pass(reload)
		c.retry()
		assert.Empty(t, c.twin.Waiting())
		w.checkLog()
	})
}

// A store that hangs: the outcome is unknown after a while, passing messages
// flow all the time, nothing is lost or done twice.
func TestD13StoreThatHangs(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		release := w.store.hold()
		c.do(put("H", 310, -40))
		c.drag("Z", 600, -40)
		assert.Equal(t, place(600, -40), p.read().twin.Drags["Z"].At)
		w.pass(6 * time.Second)
		c.read()
		assert.Equal(t, 1000, c.news.RetryMS)
		release()
		w.pass(reload + wire.DragQuiet)
		c.retry()
		p.read()
		assert.Empty(t, c.twin.Waiting())
		assert.Equal(t, place(310, -40), p.twin.State.Men["H"].At)
		assert.Equal(t, place(600, -40), p.twin.State.Men["Z"].At)
		w.checkLog()
	})
}

// D8: whoever has lost the session to another lets go of it wholly, so that a
// device that comes back here takes it over again.
func TestD8StaleOwnerEndsAndTheSessionIsTakenAnew(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		other := hub.New(hub.Options{Store: w.store, Books: books, Now: w.now})
		defer other.Close()
		there := *w
		there.hub = other
		q := (&there).coach("line")
		q.must(put("Z", 600, -40))

		c.do(put("H", 310, -40))
		assert.Equal(t, wire.CloseStale, c.closed())
		assert.Equal(t, wire.CloseStale, p.closed())
		assert.Len(t, c.twin.Waiting(), 1)
		c.connect()
		assert.Nil(t, c.first().Welcome.State, "the histories go on from one another")
		assert.Empty(t, c.read().twin.Waiting())
		assert.Equal(t, place(600, -40), c.twin.State.Men["Z"].At)
		assert.Equal(t, place(310, -40), c.twin.State.Men["H"].At)
		q.do(put("Z", 610, -40))
		assert.Equal(t, wire.CloseStale, q.closed(), "now the other one has lost it")
		w.checkLog()
	})
}

func TestSessionThatIsDeletedEnds(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		require.NoError(t, w.disk.Delete(w.ctx, w.id))
		c.do(put("H", 310, -40))
		assert.Equal(t, wire.CloseNoSession, c.closed())
		assert.ErrorIs(t, c.tryConnect(), store.ErrNotFound)
	})
}

// A record that does not go on from what is shown is somebody else's history,
// never shown as ours.
func TestHistoryThatDoesNotFitIsNotTaken(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		seq := c.twin.Seq
		w.store.set(func() { w.store.lose, w.store.chain = true, 7 })
		c.do(put("H", 310, -40))
		assert.Equal(t, wire.CloseStale, c.closed())
		assert.Equal(t, seq, c.twin.Seq)
	})
}

// A store that came back with less than it had acknowledged: the devices come
// back and take what is there.
func TestStoreThatWentBackIsNotGoneOnFrom(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(put("H", 310, -40))
		w.store.set(func() { w.store.refuse, w.store.cut = errLost, 1 })
		c.do(put("H", 320, -40))
		w.store.set(func() { w.store.refuse = nil })
		w.pass(2 * reload)
		assert.Equal(t, wire.CloseStale, c.closed())
	})
}

// One session that cannot be loaded, or whose store hangs, holds up no other.
func TestHungLoadHoldsUpNobodyElse(t *testing.T) {
	bubble(t, func(t T, w *world) {
		id, err := w.hub.Create(w.ctx, "Wednesday", "herons")
		require.NoError(t, err)
		w.restart()
		w.store.set(func() { w.store.hang = id })
		stuck := make(chan error)
		go func() { // ends with the load
			stuck <- w.coachOf(id).tryConnect()
		}()
		synctest.Wait()
		w.coach("head").must(put("H", 310, -40))

		ctx, cancel := context.WithTimeout(w.ctx, time.Second)
		defer cancel()
		_, err = w.hub.List(ctx)
		assert.ErrorIs(t, err, context.DeadlineExceeded)
		assert.Error(t, <-stuck, "given up after a while")
		all, err := w.hub.List(w.ctx)
		require.NoError(t, err)
		assert.Len(t, all, 1, "what cannot be read hides nothing else")
		w.store.set(func() { w.store.hang = "" })
		require.NoError(t, w.coachOf(id).tryConnect())
	})
}

func TestCloseWritesWhatWasAskedAndTellsEverybody(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		release := w.store.hold()
		c.do(put("Z", 600, -40))
		c.drag("H", 330, -40)
		closed := make(chan struct{})
		go func() { // ends with the hub
			w.hub.Close()
			close(closed)
		}()
		synctest.Wait()
		release()
		<-closed
		c.read()
		assert.Empty(t, c.twin.Waiting(), "answered before the end")
		assert.Equal(t, wire.CloseRestart, c.closed())
		assert.Equal(t, wire.CloseRestart, p.closed())
		_, _, err := w.hub.Join(w.ctx, w.id, "Bo", "7")
		assert.ErrorIs(t, err, hub.ErrClosed)
		w.start()
		st := w.state()
		assert.Equal(t, place(600, -40), st.Men["Z"].At)
		assert.Equal(t, place(330, -40), st.Men["H"].At, "the man under the finger was let go")
	})
}

func TestCloseDoesNotWaitForeverForTheStore(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		release := w.store.hold()
		defer release()
		c.do(put("Z", 600, -40))
		began := time.Now()
		w.hub.Close()
		assert.LessOrEqual(t, time.Since(began), 6*time.Second)
		assert.Equal(t, wire.CloseRestart, c.closed())
		assert.Len(t, c.read().twin.Waiting(), 1)
		w.start()
	})
}

func TestJoinThatFailsLeavesNoName(t *testing.T) {
	bubble(t, func(t T, w *world) {
		w.coach("head").must(session.Op{Do: "door", Mode: session.DoorClosed})
		_, _, err := w.hub.Join(w.ctx, w.id, "Ty", "21")
		assert.ErrorIs(t, err, hub.ErrDoorClosed)
		items, err := w.disk.Items(w.ctx, w.id)
		require.NoError(t, err)
		assert.Empty(t, items)
		_, _, err = w.hub.Join(w.ctx, "nowhere", "Ty", "21")
		assert.ErrorIs(t, err, store.ErrNotFound)
	})
}
