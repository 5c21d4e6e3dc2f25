package boltstore

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
)

var (
	bucketSessions  = []byte("sessions")
	bucketLog       = []byte("log")
	bucketRecent    = []byte("recent")
	bucketSnapshots = []byte("snapshots")
	bucketItems     = []byte("items")
	bucketSelf      = []byte("self")

	bucketNames = [][]byte{bucketSessions, bucketLog, bucketRecent, bucketSnapshots, bucketItems, bucketSelf}

	keyFormat = []byte("format") // of the file
	keyFence  = []byte("fence")  // the last one given out
	keyCount  = []byte("count")  // of sessions, so that one cannot vanish unseen
	keyBeat   = []byte("beat")   // counts what Ready wrote
)

// tables are the buckets in one transaction.
type tables struct {
	sessions, log, recent, snapshots, items, self *bolt.Bucket

	wrote   bool   // whether there is anything to commit
	pending []byte // records that finish will write
}

func tablesOf(tx *bolt.Tx) *tables {
	t := &tables{
		sessions:  tx.Bucket(bucketSessions),
		log:       tx.Bucket(bucketLog),
		recent:    tx.Bucket(bucketRecent),
		snapshots: tx.Bucket(bucketSnapshots),
		items:     tx.Bucket(bucketItems),
		self:      tx.Bucket(bucketSelf),
	}
	t.log.FillPercent = 0.95 // each session's records come in rising order
	t.recent.FillPercent = 0.95
	return t
}

// session is the head of a session. Records base+1 to seq are in log and recent.
type session struct {
	number uint64 // in keys, in place of the id
	fence  uint64 // of the one writer
	seq    uint64 // of the last record
	chain  uint64 // of the last record
	base   uint64 // what the log no longer holds
	epoch  string
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// bbolt has no checksums of its own on data pages, so each value that carries
// none gets one here, CRC32C over key and value: a value found under the wrong
// key is damage too.
func seal(key, value []byte) []byte {
	sum := crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
	return append(binary.BigEndian.AppendUint32(make([]byte, 0, 4+len(value)), sum), value...)
}

// unseal gives the value behind a checksum, still in the file's memory.
func unseal(key, b []byte) ([]byte, error) {
	if len(b) < 4 || binary.BigEndian.Uint32(b) != crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, b[4:]) {
		return nil, fmt.Errorf("value of %d bytes under key %q: %w", len(b), key, store.ErrDamaged)
	}
	return b[4:], nil
}

// number reads one of the file's own counters, 0 if it is not there yet.
func (t *tables) number(key []byte) (uint64, error) {
	b := t.self.Get(key)
	if b == nil {
		return 0, nil
	}
	v, err := unseal(key, b)
	if err != nil || len(v) != 8 {
		return 0, cmp.Or(err, store.ErrDamaged)
	}
	return binary.BigEndian.Uint64(v), nil
}

func (t *tables) putNumber(key []byte, v uint64) error {
	return t.put(t.self, key, seal(key, binary.BigEndian.AppendUint64(nil, v)))
}

// A session's stored form: five numbers, then the epoch, all sealed.
func (t *tables) putSession(id string, s session) error {
	b := make([]byte, 0, 5*8+len(s.epoch))
	for _, v := range [...]uint64{s.number, s.fence, s.seq, s.chain, s.base} {
		b = binary.BigEndian.AppendUint64(b, v)
	}
	return t.put(t.sessions, []byte(id), seal([]byte(id), append(b, s.epoch...)))
}

func readSession(id, b []byte) (session, error) {
	b, err := unseal(id, b)
	if err != nil || len(b) < 5*8 {
		return session{}, fmt.Errorf("head: %w", cmp.Or(err, store.ErrDamaged))
	}
	num := func(i int) uint64 { return binary.BigEndian.Uint64(b[8*i:]) }
	return session{number: num(0), fence: num(1), seq: num(2), chain: num(3), base: num(4), epoch: string(b[5*8:])}, nil
}

// all lists the ids of all sessions, each head validated.
func (t *tables) all() (ids []string, err error) {
	err = t.sessions.ForEach(func(id, b []byte) error {
		ids = append(ids, string(id))
		_, err := readSession(id, b)
		return err
	})
	if err != nil {
		return nil, err
	}
	count, err := t.number(keyCount)
	if err == nil && count != uint64(len(ids)) {
		err = fmt.Errorf("%d sessions, there were %d: %w", len(ids), count, store.ErrDamaged)
	}
	return ids, err
}

// count keeps the number of sessions up.
func (t *tables) count(change int) error {
	n, err := t.number(keyCount)
	if err != nil {
		return err
	}
	return t.putNumber(keyCount, n+uint64(change))
}

// session finds a session by its id.
func (t *tables) session(id string) (session, error) {
	b := t.sessions.Get([]byte(id))
	if b == nil {
		return session{}, store.ErrNotFound
	}
	return readSession([]byte(id), b)
}

// owned finds a session for its writer.
func (t *tables) owned(id string, fence uint64) (session, error) {
	s, err := t.session(id)
	if err != nil {
		return session{}, err
	}
	if s.fence != fence {
		return session{}, fmt.Errorf("fence %d, the writer has %d now: %w", fence, s.fence, store.ErrStale)
	}
	return s, nil
}

func (t *tables) put(b *bolt.Bucket, key, value []byte) error {
	t.wrote = true
	return b.Put(key, value)
}

func (t *tables) delete(b *bolt.Bucket, key []byte) error {
	t.wrote = true
	return b.Delete(key)
}

// deleteRange removes the keys that start with prefix and are below end.
func (t *tables) deleteRange(b *bolt.Bucket, prefix, end []byte) error {
	var keys [][]byte // a cursor loses its place when keys go
	c := b.Cursor()
	for k, _ := c.Seek(prefix); k != nil && bytes.HasPrefix(k, prefix) && bytes.Compare(k, end) < 0; k, _ = c.Next() {
		keys = append(keys, bytes.Clone(k))
	}
	for _, k := range keys {
		if err := t.delete(b, k); err != nil {
			return err
		}
	}
	return nil
}

// key is a session's number, followed by a seq.
func key(number, seq uint64) []byte {
	return binary.BigEndian.AppendUint64(prefix(number), seq)
}

func prefix(number uint64) []byte {
	return binary.BigEndian.AppendUint64(make([]byte, 0, 16), number)
}
