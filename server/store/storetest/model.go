package storetest

import (
	"errors"
	"fmt"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/server/store"
)

// asModel draws operations, right and wrong ones, and wants the same answers
// from the store as from Memory. All runs share one store, each with session
// ids of its own.
func asModel(b *bench) {
	round := 0
	rapid.Check(b.T, func(t *rapid.T) {
		round++
		left, err := b.Store.Sessions(b.ctx)
		require.NoError(t, err)
		for _, id := range left { // of the run before, which may have failed
			require.NoError(t, b.Store.Delete(b.ctx, id))
		}
		w := &world{bench: b, t: t, model: NewMemory(), fences: map[string][]fencePair{}}
		for i := range 3 {
			w.ids = append(w.ids, fmt.Sprintf("r%d-%d", round, i))
		}
		t.Repeat(map[string]func(*rapid.T){
			"":         w.same,
			"create":   w.create,
			"acquire":  w.acquire,
			"append":   w.append,
			"snapshot": w.snapshot,
			"item":     w.item,
			"delete":   w.delete,
			"reopen":   func(*rapid.T) { b.reopen() },
		})
	})
}

// world is one run: the store, the model, and which fence of the one answers to
// which of the other.
type world struct {
	*bench
	t      *rapid.T
	model  *Memory
	ids    []string
	fences map[string][]fencePair
}

type fencePair struct{ real, model uint64 }

func (w *world) id(t *rapid.T) string { return rapid.SampledFrom(w.ids).Draw(t, "id") }

// agree wants the same refusal from both.
func (w *world) agree(t *rapid.T, got, want error) {
	for _, refusal := range []error{store.ErrNotFound, store.ErrExists, store.ErrStale, store.ErrInvalid} {
		require.Equal(t, errors.Is(want, refusal), errors.Is(got, refusal), "want %v, got %v", want, got)
	}
	require.Equal(t, want == nil, got == nil, "want %v, got %v", want, got)
}

func (w *world) create(t *rapid.T) {
	id := w.id(t)
	epoch := rapid.StringN(0, 5, -1).Draw(t, "epoch")
	w.agree(t, w.Store.Create(w.ctx, id, epoch), w.model.Create(w.ctx, id, epoch))
}

func (w *world) delete(t *rapid.T) {
	id := w.id(t)
	w.agree(t, w.Store.Delete(w.ctx, id), w.model.Delete(w.ctx, id))
}

func (w *world) acquire(t *rapid.T) {
	id := w.id(t)
	got, err := w.Store.Acquire(w.ctx, id)
	want, wantErr := w.model.Acquire(w.ctx, id)
	w.agree(t, err, wantErr)
	if err == nil {
		w.fences[id] = append(w.fences[id], fencePair{got, want})
	}
}

// fence draws one that a writer of the session might hold, mostly the newest.
func (w *world) fence(t *rapid.T, id string) fencePair {
	all := w.fences[id]
	if len(all) == 0 {
		return fencePair{1 << 62, 1 << 62}
	}
	return all[len(all)-1-min(len(all)-1, rapid.SampledFrom([]int{0, 0, 0, 0, 1, 2}).Draw(t, "older"))]
}

// history is the session's records as the model holds them, with its fences.
func (w *world) history(id string) []store.Record {
	if s := w.model.sessions[id]; s != nil {
		return s.log
	}
	return nil
}

func (w *world) append(t *rapid.T) {
	id := w.id(t)
	f, log := w.fence(t, id), w.history(id)
	// Where the writer believes the log to end: mostly right.
	end := len(log) - min(len(log), rapid.SampledFrom([]int{0, 0, 0, 0, 0, 1, 3}).Draw(t, "behind"))
	var recs []store.Record
	if end < len(log) && rapid.Bool().Draw(t, "repeat") {
		recs = copied(log[end:])
	} else {
		var chain uint64
		if end > 0 {
			chain = log[end-1].Chain
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "n") {
			r := store.Record{Seq: uint64(end + i + 1), Fence: f.model, Client: uint64(i), Counter: uint64(len(log)), Kind: "k"}
			r.Data = rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(t, "data")
			r.Chain = store.NextChain(chain, r)
			recs, chain = append(recs, r), r.Chain
		}
	}
	if len(recs) > 0 && rapid.IntRange(0, 9).Draw(t, "wrong") == 0 {
		recs[len(recs)-1].Chain++
	}
	real := copied(recs)
	for i := range real {
		real[i].Fence = w.real(id, recs[i].Fence)
	}
	w.agree(t, w.Store.Append(w.ctx, id, f.real, real), w.model.Append(w.ctx, id, f.model, recs))
}

// real is the store's fence for one of the model's.
func (w *world) real(id string, model uint64) uint64 {
	for _, p := range w.fences[id] {
		if p.model == model {
			return p.real
		}
	}
	return 1 << 62
}

func (w *world) snapshot(t *rapid.T) {
	id := w.id(t)
	f, log := w.fence(t, id), w.history(id)
	s := store.Snapshot{Seq: uint64(len(log) - min(len(log), rapid.IntRange(0, 6).Draw(t, "behind")))}
	if s.Seq > 0 {
		s.Chain = log[s.Seq-1].Chain
	}
	s.Data = rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(t, "state")
	switch rapid.IntRange(0, 12).Draw(t, "wrong") {
	case 0:
		s.Chain++
	case 1:
		s.Seq++
	}
	w.agree(t, w.Store.PutSnapshot(w.ctx, id, f.real, s), w.model.PutSnapshot(w.ctx, id, f.model, s))
}

func (w *world) item(t *rapid.T) {
	id := w.id(t)
	key := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "key")
	if rapid.IntRange(0, 2).Draw(t, "forget") == 0 {
		w.agree(t, w.Store.DeleteItem(w.ctx, id, key), w.model.DeleteItem(w.ctx, id, key))
		return
	}
	value := rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(t, "value")
	w.agree(t, w.Store.PutItem(w.ctx, id, key, value), w.model.PutItem(w.ctx, id, key, value))
}

// same compares all that can be read of the sessions.
func (w *world) same(t *rapid.T) {
	for _, id := range w.ids {
		got, err := w.Store.Load(w.ctx, id)
		want, wantErr := w.model.Load(w.ctx, id)
		w.agree(t, err, wantErr)
		w.translate(id, want.Tail)
		require.Equal(t, want, got)

		after := uint64(rapid.IntRange(0, len(w.history(id))+1).Draw(t, "after"))
		limit := rapid.IntRange(0, 5).Draw(t, "limit")
		recs, ok, err := w.Store.Tail(w.ctx, id, after, limit)
		wantRecs, wantOK, wantErr := w.model.Tail(w.ctx, id, after, limit)
		w.agree(t, err, wantErr)
		w.translate(id, wantRecs)
		require.Equal(t, wantOK, ok)
		require.Equal(t, wantRecs, recs)

		kept, err := w.Store.Items(w.ctx, id)
		require.NoError(t, err)
		wantKept, err := w.model.Items(w.ctx, id)
		require.NoError(t, err)
		require.Equal(t, wantKept, kept)
	}
	ids, err := w.Store.Sessions(w.ctx)
	require.NoError(t, err)
	want, err := w.model.Sessions(w.ctx)
	require.NoError(t, err)
	require.ElementsMatch(t, want, ids)
}

func (w *world) translate(id string, recs []store.Record) {
	for i := range recs {
		recs[i].Fence = w.real(id, recs[i].Fence)
	}
}
