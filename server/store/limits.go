package store

import (
	"errors"
	"fmt"
)

// What one call may carry. The limits keep a faulty caller from filling the
// disk or holding up everybody else; the sizes that people can reach are far
// below.
const (
	// MaxID keeps ids short enough for keys, file listings and log lines.
	MaxID = 128
	// MaxKind is the length of Record.Kind; it is stored behind one byte.
	MaxKind = 255
	// MaxData bounds a record's data and a snapshot's, in bytes. A whole book
	// is at most 1 MiB.
	MaxData = 16 << 20
	// MaxBatch and MaxBatchBytes bound one append, which both stores carry out
	// in one piece while others wait. A new owner that gives back its last
	// 1,024 records stays below.
	MaxBatch      = 4096
	MaxBatchBytes = 64 << 20
	// MaxItemKey and MaxItem bound one entry of a side table, in bytes.
	MaxItemKey = 512
	MaxItem    = 1 << 20
)

// ErrInvalid says that the call itself is wrong (bad id, too large) and can
// never succeed. Nothing was written.
var ErrInvalid = errors.New("invalid call")

// CheckID refuses ids that could not be told apart, or would be unsafe, in a
// key: an id is 1 to MaxID of letters, digits, dot, dash and underscore.
func CheckID(id string) error {
	if len(id) == 0 || len(id) > MaxID {
		return fmt.Errorf("session id of %d bytes, want 1 to %d: %w", len(id), MaxID, ErrInvalid)
	}
	for i := range len(id) {
		c := id[i]
		switch {
		case 'a' <= c && c <= 'z', 'A' <= c && c <= 'Z', '0' <= c && c <= '9', c == '.', c == '-', c == '_':
		default:
			return fmt.Errorf("session id with byte %q, want letters, digits, '.', '-' and '_': %w", c, ErrInvalid)
		}
	}
	return nil
}

// CheckItem refuses a table, key or value that no store takes.
func CheckItem(table, key string, value []byte) error {
	if table != "" {
		if err := CheckID(table); err != nil {
			return err
		}
	}
	if len(key) == 0 || len(key) > MaxItemKey {
		return fmt.Errorf("item key of %d bytes, want 1 to %d: %w", len(key), MaxItemKey, ErrInvalid)
	}
	if len(value) > MaxItem {
		return fmt.Errorf("item of %d bytes, want at most %d: %w", len(value), MaxItem, ErrInvalid)
	}
	return nil
}

// CheckBatch refuses records that cannot be one append of the given fence
// whatever the log holds: not one after the other, of another fence, with a
// chain that does not run through them, or too large. The link from the log to
// the first record is the store's to check, see Follows.
func CheckBatch(fence uint64, recs []Record) error {
	if len(recs) > MaxBatch {
		return fmt.Errorf("%d records at once, want at most %d: send them in parts: %w", len(recs), MaxBatch, ErrInvalid)
	}
	total := 0
	for i, r := range recs {
		if len(r.Kind) > MaxKind || len(r.Data) > MaxData {
			return fmt.Errorf("record %d with kind of %d and data of %d bytes, want at most %d and %d: %w",
				r.Seq, len(r.Kind), len(r.Data), MaxKind, MaxData, ErrInvalid)
		}
		if total += len(r.Data); total > MaxBatchBytes {
			return fmt.Errorf("over %d bytes at once: send them in parts: %w", MaxBatchBytes, ErrInvalid)
		}
		if r.Seq == 0 {
			return fmt.Errorf("record with seq 0, they count from 1: %w", ErrInvalid)
		}
		if r.Fence != fence {
			return fmt.Errorf("record %d has fence %d, its writer has %d: %w", r.Seq, r.Fence, fence, ErrStale)
		}
		if i == 0 {
			continue
		}
		if err := Follows(recs[i-1].Seq, recs[i-1].Chain, r); err != nil {
			return err
		}
	}
	return nil
}

// Follows answers ErrStale unless r is the next record after the one with the
// given seq and chain (0 and 0 before the first).
func Follows(seq, chain uint64, r Record) error {
	if r.Seq != seq+1 {
		return fmt.Errorf("record %d does not follow %d: %w", r.Seq, seq, ErrStale)
	}
	if r.Chain != NextChain(chain, r) {
		return fmt.Errorf("record %d belongs to another history, its chain does not fit: %w", r.Seq, ErrStale)
	}
	return nil
}

// CheckTail answers ErrDamaged unless recs run on from the record with the
// given seq and chain: what was read back is what had been written.
func CheckTail(seq, chain uint64, recs []Record) error {
	for _, r := range recs {
		if r.Seq != seq+1 {
			return fmt.Errorf("record %d is missing, %d stands in its place: %w", seq+1, r.Seq, ErrDamaged)
		}
		if r.Chain != NextChain(chain, r) {
			return fmt.Errorf("record %d does not fit the one before it: %w", r.Seq, ErrDamaged)
		}
		seq, chain = r.Seq, r.Chain
	}
	return nil
}
