package hub

import (
	"context"
	"encoding/json"
	"fmt"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// kept is a snapshot's content: the state, and per client his last operation,
// so that a repeat gets its first answer for the life of the session (D4).
type kept struct {
	State   session.State       `json:"state"`
	Clients map[string]lastDone `json:"clients"`
}

// lastDone is a client's last durable operation.
type lastDone struct {
	N   uint64 `json:"n"`
	Seq uint64 `json:"seq"`
}

// person is what the side table holds of a member.
type person struct {
	Name   string `json:"name"`
	Number string `json:"number"`
}

// load takes a session over from the store.
func (h *Hub) load(ctx context.Context, id string) (*owner, error) {
	fence, err := h.store.Acquire(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("take session %s: %w", id, err)
	}
	l, err := h.store.Load(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("load session %s: %w", id, err)
	}
	o := newOwner(h, id, l.Epoch, fence)
	if err := o.restore(l); err != nil {
		return nil, fmt.Errorf("load session %s: %w", id, err)
	}
	items, err := h.store.Items(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("people of session %s: %w", id, err)
	}
	for member, raw := range items {
		var p person
		if err := json.Unmarshal(raw, &p); err != nil {
			return nil, fmt.Errorf("person %s of session %s: %w", member, id, err)
		}
		o.people[member] = p
	}
	if o.shown.Book == "" {
		return o, nil // created, its first record not yet written
	}
	if o.book, err = h.books(o.shown.Book); err != nil {
		return nil, fmt.Errorf("session %s: %w", id, err)
	}
	return o, nil
}

// restore replays snapshot and tail.
func (o *owner) restore(l store.Loaded) error {
	if l.Snapshot != nil {
		var k kept
		if err := json.Unmarshal(l.Snapshot.Data, &k); err != nil {
			return fmt.Errorf("snapshot %d: %w", l.Snapshot.Seq, err)
		}
		o.shown = k.State
		o.mark, o.markChain = l.Snapshot.Seq, l.Snapshot.Chain
		o.snapAt = l.Snapshot.Seq
		for c, d := range k.Clients {
			o.noteDone(c, d)
		}
	}
	for _, r := range l.Tail {
		if err := o.replay(r); err != nil {
			return err
		}
	}
	o.rewind()
	return nil
}

// replay applies one stored record to what is shown.
func (o *owner) replay(r store.Record) error {
	var c session.Change
	if err := json.Unmarshal(r.Data, &c); err != nil {
		return fmt.Errorf("record %d: %w", r.Seq, err)
	}
	o.settle(r, c)
	return nil
}

// settle makes a record part of what is shown.
func (o *owner) settle(r store.Record, c session.Change) wire.Fact {
	o.shown.Apply(c)
	o.mark, o.markChain = r.Seq, r.Chain
	if r.Client != 0 {
		o.noteDone(hex16(r.Client), lastDone{r.Counter, r.Seq})
	}
	f := factOf(r, c)
	o.recent = append(o.recent, f)
	if len(o.recent) > 2*keepRecent {
		o.recent = append(o.recent[:0:0], o.recent[len(o.recent)-keepRecent:]...)
	}
	return f
}

func factOf(r store.Record, c session.Change) wire.Fact {
	f := wire.Fact{Seq: r.Seq, Chain: hex16(r.Chain), Do: r.Kind, Set: c}
	if r.Client != 0 {
		f.Client, f.N = hex16(r.Client), r.Counter
	}
	return f
}

func hex16(v uint64) string { return fmt.Sprintf("%016x", v) }

// snapshot is the shown state as a store keeps it.
func (o *owner) snapshot() (store.Snapshot, error) {
	data, err := wire.EncodeBody(kept{State: o.shown, Clients: o.shownDone})
	if err != nil {
		return store.Snapshot{}, err
	}
	return store.Snapshot{Seq: o.mark, Chain: o.markChain, Data: data}, nil
}
