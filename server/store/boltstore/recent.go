package boltstore

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"halfline/server/store"
)

// New records do not go to their sessions' places in the log one by one: with
// many sessions each commit would write a page for each of them, all over the
// file. A transaction puts its records into the bucket recent, as one value, and
// every maxRecent-th moves them on, many of a session at a time. So of each
// session the older records are in the log, the newer ones in recent.
const (
	maxRecent = 64
	// maxRecentValue keeps the bucket at 2 MiB, as readers go through all of it.
	maxRecentValue = 32 << 10
)

// An entry of a recent value: the session's number, the record's length, the
// record.
const entryFixed = 8 + 4

// addRecord takes a stored record into the transaction.
func (t *tables) addRecord(number uint64, stored []byte) {
	t.wrote = true
	t.pending = binary.BigEndian.AppendUint64(t.pending, number)
	t.pending = binary.BigEndian.AppendUint32(t.pending, uint32(len(stored)))
	t.pending = append(t.pending, stored...)
}

// finish writes what the transaction's ops have added. It comes last.
func (t *tables) finish() error {
	if len(t.pending) == 0 {
		return nil
	}
	if len(t.pending) > maxRecentValue {
		return t.settle()
	}
	n, err := t.recent.NextSequence()
	if err != nil {
		return err
	}
	key := binary.BigEndian.AppendUint64(nil, n)
	if err := t.put(t.recent, key, seal(key, t.pending)); err != nil {
		return err
	}
	t.pending = nil
	if first, _ := t.recent.Cursor().First(); n-binary.BigEndian.Uint64(first) >= maxRecent {
		return t.settle()
	}
	return nil
}

// settle moves all records to their places in the log.
func (t *tables) settle() error {
	move := func(number uint64, stored []byte) error {
		r, err := store.DecodeRecord(stored)
		if err != nil {
			return err
		}
		return t.put(t.log, key(number, r.Seq), bytes.Clone(stored))
	}
	if err := t.eachRecent(move); err != nil {
		return err
	}
	if err := t.deleteRange(t.recent, nil, bytes.Repeat([]byte{0xff}, 9)); err != nil {
		return err
	}
	pending := t.pending
	t.pending = nil
	return eachEntry(pending, move)
}

// eachRecent goes through the records that have been committed but not moved.
func (t *tables) eachRecent(f func(number uint64, stored []byte) error) error {
	c := t.recent.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		entries, err := unseal(k, v)
		if err != nil {
			return err
		}
		if err := eachEntry(entries, f); err != nil {
			return err
		}
	}
	return nil
}

func eachEntry(b []byte, f func(number uint64, stored []byte) error) error {
	for len(b) > 0 {
		if len(b) < entryFixed || len(b)-entryFixed < int(binary.BigEndian.Uint32(b[8:])) {
			return fmt.Errorf("recent records end in the middle: %w", store.ErrDamaged)
		}
		end := entryFixed + int(binary.BigEndian.Uint32(b[8:]))
		if err := f(binary.BigEndian.Uint64(b), b[entryFixed:end]); err != nil {
			return err
		}
		b = b[end:]
	}
	return nil
}
