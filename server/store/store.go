package store

import (
	"context"
	"encoding/binary"
	"errors"
	"hash/fnv"
)

// Refusals a store may answer. Anything else is a fault of the machine, and
// its outcome is unknown, never "failed": the caller loads again to find out.
var (
	ErrNotFound = errors.New("no such session")
	ErrExists   = errors.New("session exists already")
	// ErrStale says that another writer has taken the session over, or that
	// the records do not follow the last one stored. Nothing was written.
	ErrStale = errors.New("stale writer")
	// ErrReadOnly says that the store cannot take writes now (disk full,
	// read-only, too few replicas). Nothing was written; try again later.
	ErrReadOnly = errors.New("store cannot take writes now")
)

// Record is one durable change of one session.
type Record struct {
	Seq     uint64 // from 1, without gaps
	Fence   uint64 // the writer's fence; never falls along the log
	Client  uint64 // who sent it; 0 is the hub itself
	Counter uint64 // the client's own count of his operations, from 1; 0 for the hub
	Kind    string // what was done, for people who read logs
	Data    []byte // the change, opaque to the store
	Chain   uint64 // running checksum of all records up to this one
}

// NextChain is the running checksum (64-bit FNV-1a) after r, given the one
// before it. The fence is left out: a new owner who appends the same history
// again has the same chain.
func NextChain(prev uint64, r Record) uint64 {
	h := fnv.New64a()
	var b [8]byte
	num := func(v uint64) {
		binary.BigEndian.PutUint64(b[:], v)
		h.Write(b[:])
	}
	num(prev)
	num(r.Seq)
	num(r.Client)
	num(r.Counter)
	num(uint64(len(r.Kind)))
	h.Write([]byte(r.Kind))
	h.Write(r.Data)
	return h.Sum64()
}

// Snapshot is the state after record Seq.
type Snapshot struct {
	Seq   uint64
	Chain uint64
	Data  []byte
}

// Loaded is what a new owner of a session starts from. Tail follows Snapshot
// without a gap; without a snapshot it starts at seq 1.
type Loaded struct {
	Epoch    string
	Snapshot *Snapshot
	Tail     []Record
}

// Store keeps sessions. All methods may be called from many goroutines, and
// return only when what they did is on stable storage. ErrInvalid is for ids
// and sizes outside of what limits.go allows.
type Store interface {
	// Create makes an empty session. ErrExists if the id is taken.
	Create(ctx context.Context, id, epoch string) error
	// Sessions lists the ids of all sessions in byte order.
	Sessions(ctx context.Context) ([]string, error)
	// Delete removes a session, its log, snapshots and side table. Unknown
	// ids are no error.
	Delete(ctx context.Context, id string) error

	// Acquire makes the caller the one writer of a session and returns his
	// fence, greater than any before. Earlier writers get ErrStale from then
	// on. ErrNotFound.
	Acquire(ctx context.Context, id string) (fence uint64, err error)
	// Append stores records atomically, all or none. The first must follow
	// the last stored one, each must carry the given fence and the right
	// chain. The very same records once more, under the same fence, change
	// nothing and are no error, so an append whose answer was lost may be
	// repeated. ErrStale, ErrNotFound, ErrReadOnly.
	Append(ctx context.Context, id string, fence uint64, recs []Record) error
	// PutSnapshot stores a snapshot of a seq already in the log, with the chain
	// of that record. The two newest snapshots and the log after the older one
	// are kept; what is older may go. ErrStale, ErrNotFound, ErrReadOnly.
	PutSnapshot(ctx context.Context, id string, fence uint64, s Snapshot) error

	// Load reads the newest snapshot and all that follows. If that snapshot is
	// damaged, it goes back to the older one. ErrNotFound, ErrDamaged.
	Load(ctx context.Context, id string) (Loaded, error)
	// Tail reads up to limit records after seq `after`, oldest first; ok is
	// false if records that old are gone. ErrNotFound, ErrDamaged.
	Tail(ctx context.Context, id string, after uint64, limit int) (recs []Record, ok bool, err error)

	// PutItem, DeleteItem and Items keep small values that are no part of a
	// session's history, such as people's short names, so that one of them can
	// be forgotten. Table "" belongs to the server, any other to the session of
	// that id and goes with it; nothing can be put into the table of a session
	// that is not there. ErrNotFound, ErrReadOnly.
	PutItem(ctx context.Context, table, key string, value []byte) error
	DeleteItem(ctx context.Context, table, key string) error
	Items(ctx context.Context, table string) (map[string][]byte, error)

	// Ready reports whether the store takes writes now.
	Ready(ctx context.Context) error
	Close() error
}
