package redisstore

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"strconv"

	"halfline/server/store"
)

// fenceStep bounds by how much a fence grows, at random. A Redis that failed
// over to a replica may have forgotten the last fences it gave out; steps of
// one would give out the same again.
const fenceStep = 1 << 20

// Create makes an empty session. The set of all sessions cannot be on the same
// node of a cluster, so the id is entered before, and again after, because a
// Delete at the same time may have removed it in between.
func (s *Store) Create(ctx context.Context, id, epoch string) error {
	if err := check(ctx, id); err != nil {
		return err
	}
	if err := s.enlist(ctx, id); err != nil {
		return fmt.Errorf("create session %q: %w", id, err)
	}
	nonce := strconv.FormatUint(rand.Uint64(), 16)
	answer, err := s.run(ctx, scriptCreate, []string{keyMeta(id), keyLog(id), keySnap(id), keyItems(id)}, epoch, nonce)
	if err == nil {
		err = status(answer)
	}
	if err == nil {
		err = s.enlist(ctx, id)
	}
	if err != nil {
		return fmt.Errorf("create session %q: %w", id, err)
	}
	return nil
}

func (s *Store) enlist(ctx context.Context, id string) error {
	_, err := s.write(ctx, keySessions, "sadd", keySessions, id)
	return s.explain(ctx, err)
}

// Delete removes a session, then its entry among all: one that is half done
// leaves an entry without a session, which Sessions does not show.
func (s *Store) Delete(ctx context.Context, id string) error {
	if err := check(ctx, id); err != nil {
		return err
	}
	s.heads.forget(id)
	_, err := s.run(ctx, scriptDelete, []string{keyMeta(id), keyLog(id), keySnap(id), keyItems(id)})
	if err == nil {
		_, err = s.write(ctx, keySessions, "srem", keySessions, id)
		err = s.explain(ctx, err)
	}
	if err == nil {
		err = s.relist(ctx, id)
	}
	if err != nil {
		return fmt.Errorf("delete session %q: %w", id, err)
	}
	return nil
}

// relist enters a session again that was created while it was being deleted.
func (s *Store) relist(ctx context.Context, id string) error {
	n, err := s.client.Exists(ctx, keyMeta(id)).Result()
	if err != nil {
		return s.explain(ctx, err)
	}
	if n == 0 {
		return nil
	}
	return s.enlist(ctx, id)
}

// Acquire makes the caller the one writer.
func (s *Store) Acquire(ctx context.Context, id string) (uint64, error) {
	if err := check(ctx, id); err != nil {
		return 0, err
	}
	answer, err := s.run(ctx, scriptAcquire, []string{keyMeta(id)}, 1+rand.IntN(fenceStep))
	if err != nil {
		return 0, fmt.Errorf("acquire session %q: %w", id, err)
	}
	if answer == nil {
		return 0, fmt.Errorf("acquire session %q: %w", id, store.ErrNotFound)
	}
	fields, ok := answer.([]any)
	if !ok || len(fields) != 3 {
		return 0, fmt.Errorf("acquire session %q: script answered %v", id, answer)
	}
	fence, err := number(fields[0], 10)
	if err != nil {
		return 0, fmt.Errorf("acquire session %q: fence %v: %w", id, fields[0], err)
	}
	h, err := headOf(fields[1], fields[2])
	if err != nil {
		return 0, fmt.Errorf("acquire session %q: %w", id, err)
	}
	s.heads.put(id, h)
	return fence, nil
}

// Append stores records in one call of one script.
func (s *Store) Append(ctx context.Context, id string, fence uint64, recs []store.Record) error {
	if err := check(ctx, id); err != nil {
		return err
	}
	err := store.CheckBatch(fence, recs)
	if err == nil && len(recs) == 0 {
		err = s.owns(ctx, id, fence)
	} else if err == nil {
		err = s.append(ctx, id, fence, recs)
	}
	if err != nil {
		return fmt.Errorf("append to session %q: %w", id, err)
	}
	return nil
}

func (s *Store) append(ctx context.Context, id string, fence uint64, recs []store.Record) error {
	first, last := recs[0], recs[len(recs)-1]
	args := make([]any, 5, 5+len(recs))
	args[0] = strconv.FormatUint(fence, 10)
	args[1] = strconv.FormatUint(first.Seq-1, 10)
	args[3] = strconv.FormatUint(last.Seq, 10)
	args[4] = chainText(last.Chain)
	for _, r := range recs {
		args = append(args, store.EncodeRecord(r))
	}
	// What this process remembers of the log's end may be old. Then it is read
	// anew, and once more if it moved meanwhile.
	for range 3 {
		h, remembered := s.heads.get(id)
		if !remembered || h.seq != first.Seq-1 {
			var err error
			if h, err = s.readHead(ctx, id); err != nil {
				return err
			}
			remembered = false
		}
		args[2] = "-" // no log ends so: only a repeat can go well
		if h.seq == first.Seq-1 {
			if err := store.Follows(h.seq, h.chain, first); err != nil {
				if s.heads.forget(id); remembered {
					continue
				}
				return err
			}
			args[2] = chainText(h.chain)
		}
		answer, err := s.run(ctx, scriptAppend, []string{keyLog(id), keyMeta(id)}, args...)
		if err != nil {
			s.heads.forget(id)
			return err
		}
		if answer == "HEAD" {
			s.heads.forget(id)
			continue
		}
		if err := status(answer); err != nil {
			s.heads.forget(id)
			return fmt.Errorf("records %d to %d under fence %d: %w", first.Seq, last.Seq, fence, err)
		}
		s.heads.put(id, head{last.Seq, last.Chain})
		return nil
	}
	return fmt.Errorf("record %d: the log belongs to somebody else: %w", first.Seq, store.ErrStale)
}

// owns tells whether a fence is still the session's.
func (s *Store) owns(ctx context.Context, id string, fence uint64) error {
	now, err := s.client.HGet(ctx, keyMeta(id), "fence").Result()
	switch {
	case isNil(err):
		return store.ErrNotFound
	case err != nil:
		return s.explain(ctx, err)
	case now != strconv.FormatUint(fence, 10):
		return fmt.Errorf("fence %d, the writer has %s now: %w", fence, now, store.ErrStale)
	}
	return nil
}

// PutSnapshot keeps the two newest and the log after the older.
func (s *Store) PutSnapshot(ctx context.Context, id string, fence uint64, snap store.Snapshot) error {
	if err := check(ctx, id); err != nil {
		return err
	}
	if len(snap.Data) > store.MaxData {
		return fmt.Errorf("snapshot of session %q of %d bytes, want at most %d: %w", id, len(snap.Data), store.MaxData, store.ErrInvalid)
	}
	answer, err := s.run(ctx, scriptSnapshot, []string{keyLog(id), keyMeta(id), keySnap(id)},
		strconv.FormatUint(fence, 10), strconv.FormatUint(snap.Seq, 10), chainText(snap.Chain), store.EncodeSnapshot(snap))
	if err == nil {
		err = status(answer)
	}
	if err != nil {
		return fmt.Errorf("snapshot of session %q after record %d: %w", id, snap.Seq, err)
	}
	return nil
}

// PutItem stores a value in a side table.
func (s *Store) PutItem(ctx context.Context, table, key string, value []byte) error {
	if err := cmp.Or(ctx.Err(), store.CheckItem(table, key, value)); err != nil {
		return err
	}
	keys := []string{keyServer}
	if table != "" {
		keys = []string{keyItems(table), keyMeta(table)}
	}
	answer, err := s.run(ctx, scriptPutItem, keys, key, value)
	if err == nil {
		err = status(answer)
	}
	if err != nil {
		return fmt.Errorf("put item into table %q: %w", table, err)
	}
	return nil
}

// DeleteItem removes a value. Its bytes are gone from the disk after Compact.
func (s *Store) DeleteItem(ctx context.Context, table, key string) error {
	if err := cmp.Or(ctx.Err(), store.CheckItem(table, key, nil)); err != nil {
		return err
	}
	name := keyServer
	if table != "" {
		name = keyItems(table)
	}
	if _, err := s.write(ctx, name, "hdel", name, key); err != nil {
		return fmt.Errorf("delete item from table %q: %w", table, s.explain(ctx, err))
	}
	return nil
}

// Ready writes a small value: only that shows whether one can.
func (s *Store) Ready(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if _, err := s.write(ctx, keyReady, "set", keyReady, "1"); err != nil {
		return fmt.Errorf("store is not ready: %w", s.explain(ctx, err))
	}
	return nil
}

func check(ctx context.Context, id string) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return store.CheckID(id)
}
