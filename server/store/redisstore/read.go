package redisstore

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/redis/go-redis/v9"

	"halfline/server/store"
)

const (
	// pageSize is how many records one call reads, so that a long log does not
	// hold up Redis.
	pageSize = 512
	// loadTries is for a log that is cut, after two new snapshots, while it is
	// being read page by page.
	loadTries = 3
)

func isNil(err error) bool { return errors.Is(err, redis.Nil) }

// Sessions lists the ids that have a session behind them.
func (s *Store) Sessions(ctx context.Context) ([]string, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	ids, err := s.client.SMembers(ctx, keySessions).Result()
	if err != nil {
		return nil, fmt.Errorf("list sessions: %w", s.explain(ctx, err))
	}
	slices.Sort(ids)
	found := make([]string, 0, len(ids))
	for page := range slices.Chunk(ids, pageSize) {
		there := make([]*redis.IntCmd, len(page))
		_, err := s.client.Pipelined(ctx, func(p redis.Pipeliner) error {
			for i, id := range page {
				there[i] = p.Exists(ctx, keyMeta(id))
			}
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("list sessions: %w", s.explain(ctx, err))
		}
		for i, id := range page {
			if there[i].Val() == 1 {
				found = append(found, id)
			}
		}
	}
	return found, nil
}

// Load reads the newest sound snapshot and the log after it, all validated.
func (s *Store) Load(ctx context.Context, id string) (store.Loaded, error) {
	if err := check(ctx, id); err != nil {
		return store.Loaded{}, err
	}
	var l store.Loaded
	var err error
	for range loadTries {
		if l, err = s.load(ctx, id); !errors.Is(err, store.ErrDamaged) {
			break
		}
	}
	if errors.Is(err, store.ErrDamaged) {
		return store.Loaded{}, fmt.Errorf("load session %q: restore it from a backup: %w", id, err)
	}
	if err != nil {
		return store.Loaded{}, fmt.Errorf("load session %q: %w", id, err)
	}
	return l, nil
}

func (s *Store) load(ctx context.Context, id string) (store.Loaded, error) {
	m, snap, err := s.snapshot(ctx, id)
	if err != nil {
		return store.Loaded{}, err
	}
	l := store.Loaded{Epoch: m.epoch, Snapshot: snap}
	var from head
	if snap != nil {
		from = head{snap.Seq, snap.Chain}
	}
	for seq := from.seq; seq < m.last.seq; {
		page, err := s.client.XRangeN(ctx, keyLog(id), streamID(seq+1), streamID(m.last.seq), pageSize).Result()
		if err != nil {
			return store.Loaded{}, s.explain(ctx, err)
		}
		recs, err := records(page, seq)
		if err != nil {
			return store.Loaded{}, err
		}
		l.Tail = append(l.Tail, recs...)
		seq += uint64(len(recs))
	}
	if err := store.CheckTail(from.seq, from.chain, l.Tail); err != nil {
		return store.Loaded{}, err
	}
	if n := len(l.Tail); n > 0 {
		from = head{l.Tail[n-1].Seq, l.Tail[n-1].Chain}
	}
	if from != m.last {
		return store.Loaded{}, fmt.Errorf("log ends with record %d, its head says %d: %w", from.seq, m.last.seq, store.ErrDamaged)
	}
	return l, nil
}

// meta is a session's head.
type meta struct {
	epoch string
	last  head
	base  uint64
}

// snapshot reads the head and the newest snapshot that is sound: a damaged one
// costs nothing as long as the log reaches back behind it.
func (s *Store) snapshot(ctx context.Context, id string) (meta, *store.Snapshot, error) {
	damage := store.ErrDamaged
	for which := 1; ; which++ {
		answer, err := s.ask(ctx, scriptLoad, []string{keyMeta(id), keySnap(id)}, which)
		if err != nil {
			return meta{}, nil, err
		}
		if answer == nil {
			return meta{}, nil, store.ErrNotFound
		}
		m, stored, err := parseMeta(answer)
		if err != nil {
			return meta{}, nil, err
		}
		if stored == "" {
			if m.base > 0 {
				return meta{}, nil, fmt.Errorf("no sound snapshot and records up to %d are gone: %w", m.base, damage)
			}
			return m, nil, nil
		}
		snap, err := store.DecodeSnapshot([]byte(stored))
		if err == nil && snap.Seq <= m.last.seq {
			return m, &snap, nil
		}
		damage = cmp.Or(err, store.ErrDamaged)
	}
}

func parseMeta(answer any) (m meta, snapshot string, err error) {
	fields, ok := answer.([]any)
	if !ok || len(fields) != 5 {
		return meta{}, "", fmt.Errorf("script answered %v", answer)
	}
	m.epoch, _ = fields[0].(string)
	snapshot, _ = fields[4].(string)
	if m.last, err = headOf(fields[1], fields[2]); err != nil {
		return meta{}, "", err
	}
	if m.base, err = number(fields[3], 10); err != nil {
		return meta{}, "", fmt.Errorf("head without base: %w", store.ErrDamaged)
	}
	return m, snapshot, nil
}

// Tail reads records after a seq, if the log still has them.
func (s *Store) Tail(ctx context.Context, id string, after uint64, limit int) (recs []store.Record, ok bool, err error) {
	if err := check(ctx, id); err != nil {
		return nil, false, err
	}
	for {
		page, last, ok, err := s.page(ctx, id, after+uint64(len(recs)), min(max(limit-len(recs), 0), pageSize))
		if err != nil {
			return nil, false, fmt.Errorf("tail of session %q: %w", id, err)
		}
		if !ok { // also if it was cut between two pages
			return nil, false, nil
		}
		if n := len(recs); n > 0 && len(page) > 0 {
			if err := store.CheckTail(recs[n-1].Seq, recs[n-1].Chain, page[:1]); err != nil {
				return nil, false, fmt.Errorf("tail of session %q: %w", id, err)
			}
		}
		recs = append(recs, page...)
		if len(page) == 0 || len(recs) >= limit || after+uint64(len(recs)) >= last {
			return recs, true, nil
		}
	}
}

// page reads up to n records after a seq, and where the log ends; ok is false if
// it no longer reaches back that far. The three calls go in this order over one
// connection: records up to the first answer are in the second, unless the
// third says that they had gone. (A transaction would do, but a server that is
// out of memory refuses those, also to readers.)
func (s *Store) page(ctx context.Context, id string, after uint64, n int) (recs []store.Record, last uint64, ok bool, err error) {
	var end, base *redis.StringCmd
	var entries *redis.XMessageSliceCmd
	_, err = s.client.Pipelined(ctx, func(p redis.Pipeliner) error {
		end = p.HGet(ctx, keyMeta(id), "seq")
		entries = p.XRangeN(ctx, keyLog(id), streamID(after+1), "+", int64(max(n, 1)))
		base = p.HGet(ctx, keyMeta(id), "base")
		return nil
	})
	if isNil(end.Err()) || isNil(base.Err()) {
		return nil, 0, false, store.ErrNotFound
	}
	if err != nil {
		return nil, 0, false, s.explain(ctx, err)
	}
	if last, err = number(end.Val(), 10); err != nil {
		return nil, 0, false, fmt.Errorf("head with seq %q: %w", end.Val(), store.ErrDamaged)
	}
	gone, err := number(base.Val(), 10)
	if err != nil {
		return nil, 0, false, fmt.Errorf("head with base %q: %w", base.Val(), store.ErrDamaged)
	}
	if after < gone {
		return nil, last, false, nil
	}
	if n == 0 || after >= last {
		return nil, last, true, nil
	}
	if recs, err = records(entries.Val(), after); err != nil {
		return nil, 0, false, err
	}
	return recs, last, true, store.CheckTail(recs[0].Seq, recs[0].Chain, recs[1:])
}

// records decodes a page of the log that must start right after a seq.
func records(page []redis.XMessage, after uint64) ([]store.Record, error) {
	recs := make([]store.Record, len(page))
	for i, entry := range page {
		stored, _ := entry.Values["r"].(string)
		r, err := store.DecodeRecord([]byte(stored))
		if err != nil {
			return nil, fmt.Errorf("entry %s: %w", entry.ID, err)
		}
		recs[i] = r
	}
	if len(recs) == 0 || recs[0].Seq != after+1 {
		return nil, fmt.Errorf("record %d is missing: %w", after+1, store.ErrDamaged)
	}
	return recs, nil
}

// Items reads a whole side table; that of an unknown session is empty.
func (s *Store) Items(ctx context.Context, table string) (map[string][]byte, error) {
	if err := cmp.Or(ctx.Err(), store.CheckItem(table, "-", nil)); err != nil {
		return nil, err
	}
	name := keyServer
	if table != "" {
		name = keyItems(table)
	}
	all, err := s.client.HGetAll(ctx, name).Result()
	if err != nil {
		return nil, fmt.Errorf("items of table %q: %w", table, s.explain(ctx, err))
	}
	items := make(map[string][]byte, len(all))
	for k, v := range all {
		items[k] = []byte(v)
	}
	return items, nil
}

// readHead looks where a log ends now.
func (s *Store) readHead(ctx context.Context, id string) (head, error) {
	got, err := s.client.HMGet(ctx, keyMeta(id), "seq", "chain").Result()
	if err != nil {
		return head{}, s.explain(ctx, err)
	}
	if got[0] == nil {
		return head{}, store.ErrNotFound
	}
	return headOf(got[0], got[1])
}

func headOf(seq, chain any) (h head, err error) {
	if h.seq, err = number(seq, 10); err == nil {
		h.chain, err = number(chain, 16)
	}
	if err != nil {
		return head{}, fmt.Errorf("head with seq %v and chain %v: %w", seq, chain, store.ErrDamaged)
	}
	return h, nil
}

func number(v any, base int) (uint64, error) {
	text, ok := v.(string)
	if !ok {
		return 0, errors.New("no number")
	}
	return strconv.ParseUint(text, base, 64)
}

func chainText(chain uint64) string { return fmt.Sprintf("%016x", chain) }

func streamID(seq uint64) string { return "0-" + strconv.FormatUint(seq, 10) }
