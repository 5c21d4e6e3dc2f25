package device

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// TestViewCatchesAHubThatBreaksItsWord: a kit that lets these pass would prove
// nothing.
func TestViewCatchesAHubThatBreaksItsWord(t *testing.T) {
	title := func(text string) session.Change { return session.Change{Title: &text} }
	fact := func(seq uint64, text string) wire.Down {
		return wire.Down{Facts: []wire.Fact{{Seq: seq, Chain: "c", Do: "title", Set: title(text)}}}
	}
	welcomed := func() *View {
		v := &View{Acks: map[uint64]wire.Ack{}, Refused: map[uint64]wire.Refused{}}
		require.NoError(t, v.apply(wire.Down{Welcome: &wire.Welcome{Epoch: "e", Seq: 4, Chain: "a", State: &session.State{Title: "old"}}}))
		return v
	}
	v := welcomed()
	require.NoError(t, v.apply(fact(5, "new")))
	assert.Equal(t, "new", v.State.Title)
	require.NoError(t, v.apply(fact(4, "older")), "known already")
	assert.Equal(t, "new", v.State.Title)
	assert.ErrorContains(t, v.apply(fact(7, "newer")), "W3")
	assert.ErrorContains(t, (&View{}).apply(fact(1, "x")), "before there is a state")

	v = welcomed()
	require.NoError(t, v.apply(wire.Down{Welcome: &wire.Welcome{Epoch: "e", Seq: 4, Chain: "a"}}), "goes on")
	assert.ErrorContains(t, v.apply(wire.Down{Welcome: &wire.Welcome{Epoch: "e", Seq: 5, Chain: "a"}}), "W19")
	assert.ErrorContains(t, v.apply(wire.Down{Welcome: &wire.Welcome{Epoch: "e", Seq: 4, Chain: "b"}}), "W19")
}
