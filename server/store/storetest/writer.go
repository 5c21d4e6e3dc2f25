package storetest

import (
	"context"
	"fmt"

	"halfline/server/store"
)

// Writer is the one writer of a session as a test plays him: he knows where
// his log ends and makes the records that come next.
type Writer struct {
	Store store.Store
	ID    string
	Fence uint64
	Seq   uint64 // of the last record he knows to be stored
	Chain uint64
}

// NewWriter creates the session and acquires it.
func NewWriter(ctx context.Context, s store.Store, id string) (*Writer, error) {
	if err := s.Create(ctx, id, "epoch-"+id); err != nil {
		return nil, err
	}
	w := &Writer{Store: s, ID: id}
	return w, w.Acquire(ctx)
}

// Acquire takes the session over under a new fence.
func (w *Writer) Acquire(ctx context.Context) (err error) {
	w.Fence, err = w.Store.Acquire(ctx, w.ID)
	return err
}

// Next makes the n records that come next, each with size bytes of data that
// depend on the session and the seq.
func (w *Writer) Next(n, size int) []store.Record {
	recs := make([]store.Record, n)
	chain := w.Chain
	for i := range recs {
		seq := w.Seq + 1 + uint64(i)
		r := store.Record{Seq: seq, Fence: w.Fence, Client: seq % 5, Counter: seq / 5, Kind: "move", Data: Data(w.ID, seq, size)}
		r.Chain = store.NextChain(chain, r)
		recs[i], chain = r, r.Chain
	}
	return recs
}

// Data is what Next puts into the record of that seq.
func Data(id string, seq uint64, size int) []byte {
	b := fmt.Appendf(nil, "%s/%d/", id, seq)
	for len(b) < size {
		b = append(b, byte(seq)+byte(len(b)*7))
	}
	return b[:size]
}

// Append stores recs and remembers them.
func (w *Writer) Append(ctx context.Context, recs []store.Record) error {
	if err := w.Store.Append(ctx, w.ID, w.Fence, recs); err != nil {
		return err
	}
	if n := len(recs); n > 0 {
		w.Seq, w.Chain = recs[n-1].Seq, recs[n-1].Chain
	}
	return nil
}

// Write makes n records and stores them in one append.
func (w *Writer) Write(ctx context.Context, n, size int) ([]store.Record, error) {
	recs := w.Next(n, size)
	return recs, w.Append(ctx, recs)
}

// Snapshot stores a snapshot of the log as it stands, whose data names the seq.
func (w *Writer) Snapshot(ctx context.Context) (store.Snapshot, error) {
	s := store.Snapshot{Seq: w.Seq, Chain: w.Chain, Data: fmt.Appendf(nil, "state of %s after %d", w.ID, w.Seq)}
	return s, w.Store.PutSnapshot(ctx, w.ID, w.Fence, s)
}
