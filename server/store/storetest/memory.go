package storetest

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync"

	"halfline/server/store"
)

// Memory keeps sessions in maps under one lock.
type Memory struct {
	mu       sync.Mutex
	fence    uint64
	sessions map[string]*memorySession
	server   map[string][]byte
}

type memorySession struct {
	epoch     string
	fence     uint64
	log       []store.Record // the whole log, also what a store may drop
	snapshots []store.Snapshot
	items     map[string][]byte
}

var _ store.Store = (*Memory)(nil)

// NewMemory is an empty store.
func NewMemory() *Memory {
	return &Memory{sessions: map[string]*memorySession{}, server: map[string][]byte{}}
}

// enter locks the store for one call and finds the session, which may be nil.
func (m *Memory) enter(ctx context.Context, id string) (*memorySession, func(), error) {
	if err := errors.Join(ctx.Err(), store.CheckID(id)); err != nil {
		return nil, nil, err
	}
	m.mu.Lock()
	return m.sessions[id], m.mu.Unlock, nil
}

func (m *Memory) Create(ctx context.Context, id, epoch string) error {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return err
	}
	defer leave()
	if s != nil {
		return store.ErrExists
	}
	m.sessions[id] = &memorySession{epoch: epoch, items: map[string][]byte{}}
	return nil
}

func (m *Memory) Sessions(ctx context.Context) ([]string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Sorted(maps.Keys(m.sessions)), ctx.Err()
}

func (m *Memory) Delete(ctx context.Context, id string) error {
	_, leave, err := m.enter(ctx, id)
	if err != nil {
		return err
	}
	defer leave()
	delete(m.sessions, id)
	return nil
}

func (m *Memory) Acquire(ctx context.Context, id string) (uint64, error) {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return 0, err
	}
	defer leave()
	if s == nil {
		return 0, store.ErrNotFound
	}
	m.fence++
	s.fence = m.fence
	return s.fence, nil
}

func (m *Memory) Append(ctx context.Context, id string, fence uint64, recs []store.Record) error {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return err
	}
	defer leave()
	if err := store.CheckBatch(fence, recs); err != nil {
		return err
	}
	if s == nil {
		return store.ErrNotFound
	}
	if fence != s.fence {
		return store.ErrStale
	}
	if len(recs) == 0 || s.has(recs) {
		return nil
	}
	var seq, chain uint64
	if n := len(s.log); n > 0 {
		seq, chain = s.log[n-1].Seq, s.log[n-1].Chain
	}
	if err := store.Follows(seq, chain, recs[0]); err != nil {
		return err
	}
	for _, r := range recs {
		r.Data = append([]byte(nil), r.Data...)
		s.log = append(s.log, r)
	}
	return nil
}

// has tells whether the very same records stand in the log already and are
// still kept.
func (s *memorySession) has(recs []store.Record) bool {
	first := recs[0].Seq - 1
	if first < s.dropped() || first+uint64(len(recs)) > uint64(len(s.log)) {
		return false
	}
	return slices.EqualFunc(recs, s.log[first:first+uint64(len(recs))], func(a, b store.Record) bool {
		return bytes.Equal(store.EncodeRecord(a), store.EncodeRecord(b))
	})
}

// dropped is the seq up to which a store may have let the log go.
func (s *memorySession) dropped() uint64 {
	if len(s.snapshots) < 2 {
		return 0
	}
	return s.snapshots[0].Seq
}

func (m *Memory) PutSnapshot(ctx context.Context, id string, fence uint64, snap store.Snapshot) error {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return err
	}
	defer leave()
	if len(snap.Data) > store.MaxData {
		return store.ErrInvalid
	}
	if s == nil {
		return store.ErrNotFound
	}
	if fence != s.fence || snap.Seq > uint64(len(s.log)) || snap.Seq < s.dropped() {
		return store.ErrStale
	}
	if snap.Seq == 0 && snap.Chain != 0 || snap.Seq > 0 && s.log[snap.Seq-1].Chain != snap.Chain {
		return store.ErrStale
	}
	snap.Data = append([]byte(nil), snap.Data...)
	all := slices.DeleteFunc(s.snapshots, func(o store.Snapshot) bool { return o.Seq == snap.Seq })
	all = append(all, snap)
	slices.SortFunc(all, func(a, b store.Snapshot) int { return cmp.Compare(a.Seq, b.Seq) })
	s.snapshots = all[max(0, len(all)-2):]
	return nil
}

func (m *Memory) Load(ctx context.Context, id string) (store.Loaded, error) {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return store.Loaded{}, err
	}
	defer leave()
	if s == nil {
		return store.Loaded{}, store.ErrNotFound
	}
	l := store.Loaded{Epoch: s.epoch}
	from := uint64(0)
	if n := len(s.snapshots); n > 0 {
		snap := s.snapshots[n-1]
		snap.Data = append([]byte(nil), snap.Data...)
		l.Snapshot, from = &snap, snap.Seq
	}
	l.Tail = copied(s.log[from:])
	return l, nil
}

func (m *Memory) Tail(ctx context.Context, id string, after uint64, limit int) ([]store.Record, bool, error) {
	s, leave, err := m.enter(ctx, id)
	if err != nil {
		return nil, false, err
	}
	defer leave()
	if s == nil {
		return nil, false, store.ErrNotFound
	}
	if after < s.dropped() {
		return nil, false, nil
	}
	if after >= uint64(len(s.log)) || limit <= 0 {
		return nil, true, nil
	}
	rest := s.log[after:]
	return copied(rest[:min(limit, len(rest))]), true, nil
}

func copied(recs []store.Record) []store.Record {
	var out []store.Record
	for _, r := range recs {
		r.Data = append([]byte(nil), r.Data...)
		out = append(out, r)
	}
	return out
}

// table is nil if it belongs to a session that is not there.
func (m *Memory) table(name string) map[string][]byte {
	if name == "" {
		return m.server
	}
	if s := m.sessions[name]; s != nil {
		return s.items
	}
	return nil
}

func (m *Memory) PutItem(ctx context.Context, table, key string, value []byte) error {
	if err := errors.Join(ctx.Err(), store.CheckItem(table, key, value)); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	t := m.table(table)
	if t == nil {
		return fmt.Errorf("table %q: %w", table, store.ErrNotFound)
	}
	t[key] = append([]byte{}, value...)
	return nil
}

func (m *Memory) DeleteItem(ctx context.Context, table, key string) error {
	if err := errors.Join(ctx.Err(), store.CheckItem(table, key, nil)); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.table(table), key)
	return nil
}

func (m *Memory) Items(ctx context.Context, table string) (map[string][]byte, error) {
	if err := errors.Join(ctx.Err(), store.CheckItem(table, "-", nil)); err != nil {
		return nil, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	out := map[string][]byte{}
	for k, v := range m.table(table) {
		out[k] = append([]byte{}, v...)
	}
	return out, nil
}

func (m *Memory) Ready(ctx context.Context) error { return ctx.Err() }

// Close lets nothing go, so that a test can open the same store again.
func (m *Memory) Close() error { return nil }
