package boltstore

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
)

// Sessions lists all ids; bbolt keeps keys in byte order.
func (s *Store) Sessions(ctx context.Context) (ids []string, err error) {
	err = s.view(ctx, func(t *tables) error {
		ids, err = t.all()
		return err
	})
	if err != nil {
		return nil, readError("list sessions in", s.folder, err)
	}
	return ids, nil
}

// Load reads the newest sound snapshot and the log after it, all validated.
func (s *Store) Load(ctx context.Context, id string) (l store.Loaded, err error) {
	if err := store.CheckID(id); err != nil {
		return store.Loaded{}, err
	}
	err = s.view(ctx, func(t *tables) error {
		head, err := t.session(id)
		if err != nil {
			return err
		}
		l.Epoch = head.epoch
		l.Snapshot, err = t.snapshot(head)
		if err != nil {
			return err
		}
		var seq, chain uint64
		if l.Snapshot != nil {
			seq, chain = l.Snapshot.Seq, l.Snapshot.Chain
		}
		if l.Tail, err = t.records(ctx, head, seq, int(head.seq-seq)); err != nil {
			return err
		}
		if err := store.CheckTail(seq, chain, l.Tail); err != nil {
			return err
		}
		if n := len(l.Tail); n > 0 {
			seq, chain = l.Tail[n-1].Seq, l.Tail[n-1].Chain
		}
		if seq != head.seq || chain != head.chain {
			return fmt.Errorf("log ends with record %d, its head says %d: %w", seq, head.seq, store.ErrDamaged)
		}
		return nil
	})
	if err != nil {
		return store.Loaded{}, readError("load session", id, err)
	}
	return l, nil
}

// snapshot is the newest that is sound: a damaged one costs nothing as long as
// the log reaches back behind it.
func (t *tables) snapshot(s session) (*store.Snapshot, error) {
	from, end := prefix(s.number), prefix(s.number+1)
	var damage error
	c := t.snapshots.Cursor()
	for k, v := last(c, from, end); bytes.HasPrefix(k, from); k, v = c.Prev() {
		snap, err := store.DecodeSnapshot(v)
		if err == nil && snap.Seq <= s.seq {
			return &snap, nil
		}
		damage = cmp.Or(err, store.ErrDamaged)
	}
	if s.base > 0 {
		return nil, fmt.Errorf("no sound snapshot and records up to %d are gone: %w", s.base, damage)
	}
	return nil, nil
}

// last moves a cursor to the last key from `from` and below `end`.
func last(c *bolt.Cursor, from, end []byte) (k, v []byte) {
	if k, _ = c.Seek(end); k == nil {
		k, v = c.Last()
	} else {
		k, v = c.Prev()
	}
	if !bytes.HasPrefix(k, from) {
		return nil, nil
	}
	return k, v
}

// records reads up to limit records after a seq, from the log and then from
// recent, where the newer ones are.
func (t *tables) records(ctx context.Context, s session, after uint64, limit int) (recs []store.Record, err error) {
	take := func(stored []byte) error {
		if len(recs)%1024 == 1023 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		r, err := store.DecodeRecord(stored)
		if err != nil {
			return fmt.Errorf("record %d: %w", after+1+uint64(len(recs)), err)
		}
		if r.Seq > after {
			recs = append(recs, r)
		}
		return nil
	}
	from := prefix(s.number)
	c := t.log.Cursor()
	for k, v := c.Seek(key(s.number, after+1)); bytes.HasPrefix(k, from) && len(recs) < limit; k, v = c.Next() {
		if err := take(v); err != nil {
			return nil, err
		}
	}
	if len(recs) == limit {
		return recs, nil
	}
	err = t.eachRecent(func(number uint64, stored []byte) error {
		if number != s.number || len(recs) == limit {
			return nil
		}
		return take(stored)
	})
	return recs, err
}

// Tail reads records after a seq, if the log still has them.
func (s *Store) Tail(ctx context.Context, id string, after uint64, limit int) (recs []store.Record, ok bool, err error) {
	if err := store.CheckID(id); err != nil {
		return nil, false, err
	}
	err = s.view(ctx, func(t *tables) error {
		head, err := t.session(id)
		if err != nil {
			return err
		}
		if ok = after >= head.base; !ok || after >= head.seq {
			return nil
		}
		want := min(max(limit, 0), int(min(head.seq-after, 1<<31-1)))
		if recs, err = t.records(ctx, head, after, want); err != nil {
			return err
		}
		if len(recs) != want || want > 0 && recs[0].Seq != after+1 {
			return fmt.Errorf("records after %d are missing: %w", after, store.ErrDamaged)
		}
		if want == 0 {
			return nil
		}
		return store.CheckTail(recs[0].Seq, recs[0].Chain, recs[1:])
	})
	if err != nil {
		return nil, false, readError("tail of session", id, err)
	}
	return recs, ok, nil
}

// Items reads a whole side table; that of an unknown session is empty.
func (s *Store) Items(ctx context.Context, table string) (map[string][]byte, error) {
	if err := store.CheckItem(table, "-", nil); err != nil {
		return nil, err
	}
	items := map[string][]byte{}
	err := s.view(ctx, func(t *tables) error {
		number, err := t.table(table)
		if errors.Is(err, store.ErrNotFound) {
			return nil
		}
		if err != nil {
			return err
		}
		from := prefix(number)
		c := t.items.Cursor()
		for k, v := c.Seek(from); bytes.HasPrefix(k, from); k, v = c.Next() {
			v, err := unseal(k, v)
			if err != nil {
				return err
			}
			items[string(k[8:])] = append([]byte{}, v...)
		}
		return nil
	})
	if err != nil {
		return nil, readError("items of table", table, err)
	}
	return items, nil
}

// readError adds what is to be done about damage.
func readError(what, id string, err error) error {
	if errors.Is(err, store.ErrDamaged) {
		return fmt.Errorf("%s %q: restore it from a backup: %w", what, id, err)
	}
	return fmt.Errorf("%s %q: %w", what, id, err)
}
