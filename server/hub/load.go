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
		if _, in := o.shown.Members[member]; !in {
			o.forgetPerson(member) // taken out, or joined in vain, when his name could not be deleted
			continue
		}
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
		for id, d := range k.Clients {
			client, err := parseHex16(id)
			if err != nil {
				return fmt.Errorf("snapshot %d: client: %w", l.Snapshot.Seq, err)
			}
			o.clientOf(client).became(d.N, d.Seq)
		}
	}
	for _, r := range l.Tail {
		c, err := changeOf(r)
		if err != nil {
			return err
		}
		o.settle(r, c)
	}
	o.rewind()
	return nil
}

// changeOf reads what a stored record holds.
func changeOf(r store.Record) (c session.Change, err error) {
	if err := json.Unmarshal(r.Data, &c); err != nil {
		return c, fmt.Errorf("record %d: %w", r.Seq, err)
	}
	return c, nil
}

// settle makes a record part of what is shown.
func (o *owner) settle(r store.Record, c session.Change) fact {
	was, frozen := o.under(), o.shown.Moment.Play != ""
	o.filmOver(c)
	o.rosterDue = o.rosterDue || o.rosterTold(c)
	o.shown.Apply(c)
	o.mark, o.markChain = r.Seq, r.Chain
	o.judged.stale = true
	o.overtake(r.Kind, c, was, frozen)
	if r.Client != 0 {
		o.clientOf(r.Client).became(r.Counter, r.Seq)
	}
	f := factOf(r, c)
	o.recent = append(o.recent, f)
	if len(o.recent) > 2*keepRecent {
		o.recent = append(o.recent[:0:0], o.recent[len(o.recent)-keepRecent:]...)
	}
	return f
}

// snapshot is the shown state as a store keeps it.
func (o *owner) snapshot() (store.Snapshot, error) {
	k := kept{State: o.shown, Clients: map[string]lastDone{}}
	for id, c := range o.clients {
		if c.last.N > 0 {
			k.Clients[hex16(id)] = c.last
		}
	}
	data, err := wire.EncodeBody(k)
	if err != nil {
		return store.Snapshot{}, err
	}
	return store.Snapshot{Seq: o.mark, Chain: o.markChain, Data: data}, nil
}
