package boltstore

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"

	"halfline/server/store"
)

// write submits one op on a session.
func (s *Store) write(ctx context.Context, what, id string, do func(*tables) error) error {
	if err := s.submit(&op{ctx: ctx, do: do}); err != nil {
		return fmt.Errorf("%s %q: %w", what, id, err)
	}
	return nil
}

// Create makes an empty session.
func (s *Store) Create(ctx context.Context, id, epoch string) error {
	if err := store.CheckID(id); err != nil {
		return err
	}
	return s.write(ctx, "create session", id, func(t *tables) error {
		if t.sessions.Get([]byte(id)) != nil {
			return store.ErrExists
		}
		number, err := t.sessions.NextSequence()
		if err != nil {
			return err
		}
		if err := t.count(+1); err != nil {
			return err
		}
		return t.putSession(id, session{number: number, epoch: epoch})
	})
}

// Delete removes a session with everything that belongs to it.
func (s *Store) Delete(ctx context.Context, id string) error {
	if err := store.CheckID(id); err != nil {
		return err
	}
	return s.write(ctx, "delete session", id, func(t *tables) error {
		if t.sessions.Get([]byte(id)) == nil {
			return nil
		}
		head, err := t.session(id)
		if err != nil {
			return err
		}
		if err := t.settle(); err != nil {
			return err
		}
		from, end := prefix(head.number), prefix(head.number+1)
		if err := t.deleteRange(t.log, from, end); err != nil {
			return err
		}
		if err := t.deleteRange(t.snapshots, from, end); err != nil {
			return err
		}
		if err := t.deleteRange(t.items, from, end); err != nil {
			return err
		}
		if err := t.count(-1); err != nil {
			return err
		}
		return t.delete(t.sessions, []byte(id))
	})
}

// Acquire gives out the next fence of the whole store.
func (s *Store) Acquire(ctx context.Context, id string) (uint64, error) {
	if err := store.CheckID(id); err != nil {
		return 0, err
	}
	given := make(chan uint64, 1) // a caller who has gone must not share memory
	err := s.write(ctx, "acquire session", id, func(t *tables) error {
		head, err := t.session(id)
		if err != nil {
			return err
		}
		fence, err := t.number(keyFence)
		if err != nil {
			return err
		}
		fence++
		if err := t.putNumber(keyFence, fence); err != nil {
			return err
		}
		head.fence = fence
		if err := t.putSession(id, head); err != nil {
			return err
		}
		select {
		case <-given: // of a transaction that is being tried again
		default:
		}
		given <- fence
		return nil
	})
	if err != nil {
		return 0, err
	}
	return <-given, nil
}

// Append stores records in one piece.
func (s *Store) Append(ctx context.Context, id string, fence uint64, recs []store.Record) error {
	if err := store.CheckID(id); err != nil {
		return err
	}
	if err := store.CheckBatch(fence, recs); err != nil {
		return fmt.Errorf("append to session %q: %w", id, err)
	}
	if len(recs) == 0 {
		return s.write(ctx, "append to session", id, func(t *tables) error {
			_, err := t.owned(id, fence)
			return err
		})
	}
	stored := make([][]byte, len(recs))
	for i, r := range recs {
		stored[i] = store.EncodeRecord(r)
	}
	first, last := recs[0], recs[len(recs)-1]
	first.Data = bytes.Clone(first.Data)
	last.Data = nil
	return s.write(ctx, "append to session", id, func(t *tables) error {
		head, err := t.owned(id, fence)
		if err != nil {
			return err
		}
		repeat, err := t.holds(head, first.Seq, stored)
		if err != nil {
			return err
		}
		if repeat {
			// The first try may be in memory but not on the disk, if its sync
			// went wrong: the answer waits for one that goes well.
			return t.putSession(id, head)
		}
		if err := store.Follows(head.seq, head.chain, first); err != nil {
			return err
		}
		for _, b := range stored {
			t.addRecord(head.number, b)
		}
		head.seq, head.chain = last.Seq, last.Chain
		return t.putSession(id, head)
	})
}

// holds tells whether the log has the very same records already.
func (t *tables) holds(s session, first uint64, stored [][]byte) (bool, error) {
	if first <= s.base || first+uint64(len(stored))-1 > s.seq {
		return false, nil
	}
	if err := t.settle(); err != nil {
		return false, err
	}
	for i, b := range stored {
		if !bytes.Equal(b, t.log.Get(key(s.number, first+uint64(i)))) {
			return false, nil
		}
	}
	return true, nil
}

// PutSnapshot keeps the two newest snapshots and the log after the older.
func (s *Store) PutSnapshot(ctx context.Context, id string, fence uint64, snap store.Snapshot) error {
	if err := store.CheckID(id); err != nil {
		return err
	}
	if len(snap.Data) > store.MaxData {
		return fmt.Errorf("snapshot of session %q of %d bytes, want at most %d: %w", id, len(snap.Data), store.MaxData, store.ErrInvalid)
	}
	stored := store.EncodeSnapshot(snap)
	seq, chain := snap.Seq, snap.Chain
	return s.write(ctx, "snapshot of session", id, func(t *tables) error {
		head, err := t.owned(id, fence)
		if err != nil {
			return err
		}
		if seq < head.base || seq > head.seq {
			return fmt.Errorf("record %d is not in the log of %d to %d: %w", seq, head.base+1, head.seq, store.ErrStale)
		}
		if err := t.settle(); err != nil {
			return err
		}
		at, err := t.chainAt(head, seq)
		if err != nil {
			return err
		}
		if at != chain {
			return fmt.Errorf("snapshot of another history, its chain is not that of record %d: %w", seq, store.ErrStale)
		}
		if err := t.put(t.snapshots, key(head.number, seq), stored); err != nil {
			return err
		}
		return t.prune(id, head)
	})
}

// chainAt is the chain of a record that is in the log, or of the last one that
// was dropped from it.
func (t *tables) chainAt(s session, seq uint64) (uint64, error) {
	switch {
	case seq == s.seq:
		return s.chain, nil
	case seq == 0:
		return 0, nil
	case seq == s.base: // the older snapshot's own
		snap, err := store.DecodeSnapshot(t.snapshots.Get(key(s.number, seq)))
		return snap.Chain, err
	}
	r, err := store.DecodeRecord(t.log.Get(key(s.number, seq)))
	return r.Chain, err
}

// prune drops all snapshots but the two newest, and the log up to the older.
func (t *tables) prune(id string, s session) error {
	from, end := prefix(s.number), prefix(s.number+1)
	c := t.snapshots.Cursor()
	newest, _ := last(c, from, end)
	older, _ := c.Prev()
	if newest == nil || !bytes.HasPrefix(older, from) {
		return nil
	}
	older = bytes.Clone(older)
	if err := t.deleteRange(t.snapshots, from, older); err != nil {
		return err
	}
	s.base = binary.BigEndian.Uint64(older[8:])
	if err := t.deleteRange(t.log, from, key(s.number, s.base+1)); err != nil {
		return err
	}
	return t.putSession(id, s)
}

// PutItem stores a value in a side table.
func (s *Store) PutItem(ctx context.Context, table, name string, value []byte) error {
	if err := store.CheckItem(table, name, value); err != nil {
		return err
	}
	value = bytes.Clone(value)
	return s.write(ctx, "put item into table", table, func(t *tables) error {
		number, err := t.table(table)
		if err != nil {
			return err
		}
		key := append(prefix(number), name...)
		return t.put(t.items, key, seal(key, value))
	})
}

// DeleteItem removes a value. Its bytes are gone from the file after Compact.
func (s *Store) DeleteItem(ctx context.Context, table, name string) error {
	if err := store.CheckItem(table, name, nil); err != nil {
		return err
	}
	return s.write(ctx, "delete item from table", table, func(t *tables) error {
		if table != "" && t.sessions.Get([]byte(table)) == nil {
			return nil
		}
		number, err := t.table(table)
		if err != nil {
			return err
		}
		return t.delete(t.items, append(prefix(number), name...))
	})
}

// table is the number of a side table.
func (t *tables) table(name string) (uint64, error) {
	if name == "" {
		return 0, nil
	}
	s, err := t.session(name)
	return s.number, err
}

// Ready commits and syncs a small change: only that shows whether one can.
func (s *Store) Ready(ctx context.Context) error {
	err := s.submit(&op{ctx: ctx, do: func(t *tables) error {
		beat, err := t.number(keyBeat)
		if err != nil {
			return err
		}
		return t.putNumber(keyBeat, beat+1)
	}})
	if err != nil {
		return fmt.Errorf("store is not ready: %w", err)
	}
	return nil
}
