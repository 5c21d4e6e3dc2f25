package hub

import (
	"context"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store/storetest"
)

// A drag is told to be quiet while news of it waits in the inbox before that: it
// goes on.
func TestNewsThatCameFirstKeepsADragAlive(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := New(Options{Store: storetest.NewMemory(), Books: book.Shipped})
		defer h.Close()
		ctx := context.Background()
		id, err := h.Create(ctx, "Tuesday", "herons")
		require.NoError(t, err)
		l, err := h.Attach(ctx, Pass{Session: id, Member: "head", Role: session.Coach}, wire.Hello{V: wire.Version, Client: "00000000000000aa"}, &counter{})
		require.NoError(t, err)
		_, err = l.o.ask(ctx, func(reply func(uint64, error)) {
			l.o.drag(l, wire.Drag{Who: "H", At: session.Place{300, -40}})
			<-time.After(wire.DragQuiet) // a busy owner: the timer tells, and its word waits
			synctest.Wait()
			l.o.drag(l, wire.Drag{Who: "H", At: session.Place{310, -40}})
			reply(0, nil)
		})
		require.NoError(t, err)
		synctest.Wait()
		look := func() (dragged bool, at session.Place) {
			_, err := l.o.ask(ctx, func(reply func(uint64, error)) {
				dragged, at = l.o.drags["H"] != nil, l.o.shown.Men["H"].At
				reply(0, nil)
			})
			require.NoError(t, err)
			return dragged, at
		}
		dragged, at := look()
		assert.True(t, dragged)
		assert.NotEqual(t, session.Place{310, -40}, at)
		<-time.After(wire.DragQuiet)
		synctest.Wait()
		dragged, at = look()
		assert.False(t, dragged)
		assert.Equal(t, session.Place{310, -40}, at)
	})
}
