package twin

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/internal/wire"
)

const (
	own   = "9a41c07e55d2f318"
	chain = "0b7d44e1f29a6c05"
)

func frame(t *testing.T, d wire.Down) []byte {
	b, err := wire.Encode(d)
	require.NoError(t, err)
	return b
}

// take applies a frame that keeps the protocol.
func take(t *testing.T, w *Twin, d wire.Down) News {
	t.Helper()
	n, err := w.Take(frame(t, d))
	require.NoError(t, err)
	return n
}

func welcome(seq, counter uint64, state bool) wire.Down {
	w := wire.Welcome{V: 1, Session: "s", Member: "m", Role: session.Player, Epoch: "e1", Seq: seq, Chain: chain, Counter: counter}
	if state {
		w.State = &session.State{Men: map[string]session.Man{"H": {}}}
	}
	return wire.Down{Welcome: &w}
}

func moved(seq uint64, x int, client string, n uint64) wire.Down {
	return wire.Down{Facts: []wire.Fact{{Seq: seq, Chain: chain, Client: client, N: n, Do: "place",
		Set: session.Change{Men: map[string]*session.Man{"H": {At: session.Place{field.Inches(x), -36}}}}}}}
}

func TestFactsMakeTheState(t *testing.T) {
	w := New(own)
	assert.Nil(t, w.Hello().Resume, "nothing to go on from")
	assert.True(t, take(t, w, welcome(4, 0, true)).Welcomed)
	take(t, w, wire.Down{Drags: []wire.Drag{{Who: "H", At: session.Place{1, -36}, By: "x"}}})
	assert.Len(t, w.Drags, 1)
	take(t, w, moved(5, 7, "", 0))
	assert.Equal(t, session.Place{7, -36}, w.State.Men["H"].At)
	assert.Empty(t, w.Drags, "the fact has overtaken it")
	assert.Equal(t, &wire.Resume{Epoch: "e1", Have: 5, Chain: chain}, w.Hello().Resume)
	take(t, w, welcome(5, 0, false))
	assert.Equal(t, session.Place{7, -36}, w.State.Men["H"].At, "W19: goes on from what it had")
}

func TestHubThatBreaksTheProtocolIsFoundOut(t *testing.T) {
	for name, d := range map[string]wire.Down{
		"a gap":                  moved(6, 1, "", 0),
		"a repeat":               moved(4, 1, "", 0),
		"another device's id":    moved(5, 1, "00000000000000ff", 1),
		"goes on from elsewhere": welcome(3, 0, false),
		"verdicts ahead":         {Verdicts: &wire.Verdicts{On: 5}},
		"ack ahead of its fact":  {Acks: []wire.Ack{{N: 1, Seq: 5, Epoch: "e1"}}},
		"ack of another epoch":   {Acks: []wire.Ack{{N: 1, Seq: 4, Epoch: "e0"}}},
	} {
		t.Run(name, func(t *testing.T) {
			w := New(own)
			take(t, w, welcome(4, 0, true))
			_, err := w.Take(frame(t, d))
			assert.Error(t, err)
		})
	}
	w := New(own)
	take(t, w, welcome(4, 0, false)) // waits to be let in
	_, err := w.Take(frame(t, moved(5, 1, "", 0)))
	assert.Error(t, err, "a fact for one who waits")
	_, err = w.Take(frame(t, wire.Down{Drags: []wire.Drag{{Who: "H"}}}))
	assert.Error(t, err, "a drag for one who waits")
	_, err = w.Take([]byte("{"))
	assert.Error(t, err)
}

func TestOperationsAreKeptUntilAnswered(t *testing.T) {
	w := New(own)
	take(t, w, welcome(4, 0, true))
	for range 3 {
		w.Do(session.Op{Do: "letgo"})
	}
	assert.Equal(t, []uint64{1, 2, 3}, numbers(w.Waiting()))
	take(t, w, moved(5, 1, own, 1)) // the own fact is as good as its ack
	n := take(t, w, wire.Down{Refused: []wire.Refused{{N: 2, Code: session.CodeNoSpot}, {N: 3, Code: wire.CodeStorage, RetryMS: 70}}})
	assert.Len(t, n.Refused, 1)
	assert.Equal(t, 70, n.RetryMS)
	assert.Equal(t, []uint64{3}, numbers(w.Waiting()))
	n = take(t, w, welcome(5, 1, false)) // a hub that has forgotten the refusal
	assert.Equal(t, []uint64{2}, numbers(n.Send), "W10: numbered from the hub's count on")
	take(t, w, wire.Down{Acks: []wire.Ack{{N: 2, Epoch: "e1"}}})
	assert.Empty(t, w.Waiting())
	assert.Equal(t, uint64(3), w.Do(session.Op{Do: "letgo"}).N)
}

func TestAcknowledgedOperationsGoAgainInAnotherEpoch(t *testing.T) {
	w := New(own)
	take(t, w, welcome(4, 0, true))
	w.Do(session.Op{Do: "letgo"})
	w.Do(session.Op{Do: "letgo"})
	take(t, w, moved(5, 1, own, 1))
	take(t, w, moved(6, 1, own, 2))
	lesser := welcome(5, 1, true)
	lesser.Welcome.Epoch = "e2"
	assert.Equal(t, []uint64{2}, numbers(take(t, w, lesser).Send), "W20")
}

func numbers(ups []wire.OpUp) []uint64 {
	var out []uint64
	for _, u := range ups {
		out = append(out, u.N)
	}
	return out
}
