package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// ErrDamaged says that what is stored is not what was written. Nothing is
// overwritten; the session, or the whole store, is to be restored from a backup.
var ErrDamaged = errors.New("stored data is damaged")

// A stored record, all numbers big-endian:
//
//	at   bytes
//	0    1      layout, 1
//	1    4      CRC32C of all other bytes
//	5    8      seq
//	13   8      fence
//	21   8      client
//	29   8      counter
//	37   8      chain
//	45   1      length of kind, then kind
//	..   4      length of data, then data, then nothing
//
// A stored snapshot has the same first 5 bytes, then seq (8), chain (8),
// length of data (4), data. The Redis scripts read seq and chain at these
// places, so the layout byte changes with them.
const (
	layout        = 1
	recordFixed   = 45
	snapshotFixed = 25
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// checksum covers every byte but the checksum itself.
func checksum(b []byte) uint32 {
	return crc32.Update(crc32.Checksum(b[:1], castagnoli), castagnoli, b[5:])
}

// EncodeRecord is the stored form of r, whose kind and data keep the limits of
// CheckBatch.
func EncodeRecord(r Record) []byte {
	b := make([]byte, 5, recordFixed+1+len(r.Kind)+4+len(r.Data))
	b[0] = layout
	for _, v := range [...]uint64{r.Seq, r.Fence, r.Client, r.Counter, r.Chain} {
		b = binary.BigEndian.AppendUint64(b, v)
	}
	b = append(b, byte(len(r.Kind)))
	b = append(b, r.Kind...)
	b = binary.BigEndian.AppendUint32(b, uint32(len(r.Data)))
	b = append(b, r.Data...)
	binary.BigEndian.PutUint32(b[1:], checksum(b))
	return b
}

// DecodeRecord reads what EncodeRecord wrote and shares no memory with it.
// Anything else is ErrDamaged. Empty data comes back as nil.
func DecodeRecord(b []byte) (Record, error) {
	if err := open(b, recordFixed+1+4); err != nil {
		return Record{}, fmt.Errorf("record of %d bytes: %w", len(b), err)
	}
	num := func(at int) uint64 { return binary.BigEndian.Uint64(b[at:]) }
	r := Record{Seq: num(5), Fence: num(13), Client: num(21), Counter: num(29), Chain: num(37)}
	rest := b[recordFixed+1:]
	kind := int(b[recordFixed])
	if len(rest) < kind+4 {
		return Record{}, fmt.Errorf("record of %d bytes ends in its kind: %w", len(b), ErrDamaged)
	}
	r.Kind, rest = string(rest[:kind]), rest[kind:]
	if int64(len(rest)-4) != int64(binary.BigEndian.Uint32(rest)) {
		return Record{}, fmt.Errorf("record of %d bytes ends in its data: %w", len(b), ErrDamaged)
	}
	r.Data = append([]byte(nil), rest[4:]...)
	return r, nil
}

// EncodeSnapshot is the stored form of s.
func EncodeSnapshot(s Snapshot) []byte {
	b := make([]byte, 5, snapshotFixed+len(s.Data))
	b[0] = layout
	b = binary.BigEndian.AppendUint64(b, s.Seq)
	b = binary.BigEndian.AppendUint64(b, s.Chain)
	b = binary.BigEndian.AppendUint32(b, uint32(len(s.Data)))
	b = append(b, s.Data...)
	binary.BigEndian.PutUint32(b[1:], checksum(b))
	return b
}

// DecodeSnapshot reads what EncodeSnapshot wrote, as DecodeRecord does.
func DecodeSnapshot(b []byte) (Snapshot, error) {
	if err := open(b, snapshotFixed); err != nil {
		return Snapshot{}, fmt.Errorf("snapshot of %d bytes: %w", len(b), err)
	}
	data := b[snapshotFixed:]
	if int64(len(data)) != int64(binary.BigEndian.Uint32(b[21:])) {
		return Snapshot{}, fmt.Errorf("snapshot of %d bytes ends in its data: %w", len(b), ErrDamaged)
	}
	return Snapshot{
		Seq:   binary.BigEndian.Uint64(b[5:]),
		Chain: binary.BigEndian.Uint64(b[13:]),
		Data:  append([]byte(nil), data...),
	}, nil
}

// open validates what records and snapshots have in common.
func open(b []byte, shortest int) error {
	switch {
	case len(b) < shortest:
		return fmt.Errorf("shorter than %d: %w", shortest, ErrDamaged)
	case b[0] != layout:
		return fmt.Errorf("layout %d, this program reads %d: %w", b[0], layout, ErrDamaged)
	case binary.BigEndian.Uint32(b[1:]) != checksum(b):
		return fmt.Errorf("checksum does not fit: %w", ErrDamaged)
	}
	return nil
}
