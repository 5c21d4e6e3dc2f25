package hub_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

func TestD1AckComesAfterTheStore(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		release := w.store.hold()
		defer release()
		before, seq := p.twin.State.Clone(), p.twin.Seq
		c.do(put("H", 300, -40))
		p.read()
		assert.Len(t, c.twin.Waiting(), 1, "no ack while the store writes")
		assert.Equal(t, seq, p.twin.Seq, "no fact either")
		same(t, before, *p.twin.State)
		release()
		c.read()
		p.read()
		assert.Empty(t, c.twin.Waiting())
		assert.Equal(t, place(300, -40), p.twin.State.Men["H"].At)
		assert.Equal(t, "place", w.checkLog()[seq].Kind)
	})
}

func TestD2NothingUnstableIsShown(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		settled := *p.twin.State
		release := w.store.hold()
		defer release()
		c.do(put("H", 300, -40))
		p.cut()
		p.connect()
		same(t, settled, *p.twin.State)
		late := w.device(c.pass, false)
		late.connect()
		same(t, settled, *late.twin.State)
		assert.Equal(t, p.twin.Seq, late.twin.Seq)
		assert.NotContains(t, late.all[0].frame, "300,-40")
		release()
		late.read()
		assert.Equal(t, place(300, -40), late.twin.State.Men["H"].At)
	})
}

// What rests on a change that may still be lost is not answered before it: an
// ack for "nothing to change" would be a lie after a crash.
func TestD1AnswersThatRestOnHeadWaitToo(t *testing.T) {
	bubble(t, func(t T, w *world) {
		a, b := w.coach("head"), w.coach("line")
		p, q := w.player("Ty", "21"), w.player("Bo", "7")
		release := w.store.hold()
		defer release()
		a.do(session.Op{Do: "side", Side: "left"})
		b.do(session.Op{Do: "side", Side: "left"})
		p.do(session.Op{Do: "hold", Spot: "FS"})
		q.do(session.Op{Do: "hold", Spot: "FS"})
		assert.Len(t, b.twin.Waiting(), 1, "so already, but only on head")
		assert.Empty(t, q.news.Refused, "held already, but only on head")
		release()
		for _, d := range []*phone{a, b, p, q} {
			assert.Empty(t, d.read().twin.Waiting())
		}
		assert.Equal(t, int64(0), b.twin.Entries()[0].Seq)
		require.Len(t, q.news.Refused, 1)
		assert.Equal(t, session.CodeHeld, q.news.Refused[0].Code)
	})
}

func TestD1LostHeadTakesWhatRestsOnItAlong(t *testing.T) {
	bubble(t, func(t T, w *world) {
		a, b := w.coach("head"), w.coach("line")
		release := w.store.hold()
		a.do(session.Op{Do: "side", Side: "left"})
		b.do(session.Op{Do: "side", Side: "left"})
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		release()
		b.read()
		assert.Len(t, b.twin.Waiting(), 1)
		assert.NotZero(t, b.news.RetryMS, "kept, to be sent again")
		w.store.mend()
		w.pass(reload)
		b.retry()
		assert.Empty(t, b.twin.Waiting())
		assert.Equal(t, "left", w.state().Side)
		assert.Greater(t, b.twin.Entries()[0].Seq, int64(0), "it was his that changed it")
	})
}

func TestD3OneGaplessOrder(t *testing.T) {
	bubble(t, func(t T, w *world) {
		a, b := w.coach("head"), w.coach("line")
		for i := range 30 { // within the burst, so that none is turned away
			a.send(a.twin.Do(put("H", 200+i, -40)))
			b.send(b.twin.Do(put("Z", 500+i, -20)))
		}
		a.read()
		b.read()
		recs := w.checkLog()
		same(t, *a.twin.State, *b.twin.State)
		assert.Equal(t, recs[len(recs)-1].Seq, a.twin.Seq)
		assert.Equal(t, a.twin.Chain, b.twin.Chain)
		assert.Empty(t, a.twin.Waiting())
		assert.Empty(t, b.twin.Waiting())
	})
}

func TestCreateThatTheStoreRefuses(t *testing.T) {
	bubble(t, func(t T, w *world) {
		w.store.set(func() { w.store.refuse = store.ErrReadOnly })
		_, err := w.hub.Create(w.ctx, "Wednesday", "herons")
		require.ErrorIs(t, err, store.ErrReadOnly)
		_, err = w.hub.Create(w.ctx, "Wednesday", "no such book")
		require.Error(t, err)
		w.store.mend()
		w.pass(reload)
		all, err := w.hub.List(w.ctx)
		require.NoError(t, err)
		assert.Equal(t, []wire.SessionOut{{ID: w.id, Title: "Tuesday"}}, all, "what was never begun is not listed")
		ids, err := w.disk.Sessions(w.ctx)
		require.NoError(t, err)
		for _, id := range ids {
			p := w.coachOf(id)
			if id != w.id {
				assert.True(t, errors.Is(p.tryConnect(), store.ErrNotFound), "there is nothing to show")
			}
		}
	})
}
