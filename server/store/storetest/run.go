package storetest

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"halfline/server/store"
)

// Open gives an empty store. Reopen closes s and opens what it held. The suite
// closes what it got last.
type (
	Open   func(t testing.TB) store.Store
	Reopen func(t testing.TB, s store.Store) store.Store
)

// Run runs the whole suite, each case on a store of its own.
func Run(t *testing.T, open Open, reopen Reopen) {
	cases := []struct {
		name string
		run  func(*bench)
	}{
		{"D3 session is created once", createdOnce},
		{"D3 sessions are listed in byte order", listed},
		{"D3 unknown session is not found", notFound},
		{"D3 seq is gapless from 1", gapless},
		{"D3 chain must fit", chainMustFit},
		{"D3 records come back as they were", asTheyWere},
		{"D3 records of 32 KiB", large},
		{"D3 append of 1,024 records", thousand},
		{"D1 append is all or none", allOrNone},
		{"D1 reopen gives all back", allBack},
		{"D1 canceled call writes nothing", canceled},
		{"D4 repeated append changes nothing", repeated},
		{"D8 earlier writer is stale", earlierWriter},
		{"D8 fences grow over delete and reopen", fencesGrow},
		{"D5 snapshot and tail are the full replay", snapshotAndTail},
		{"D5 two newest snapshots are kept", twoSnapshots},
		{"D5 snapshot must be of the log", snapshotOfLog},
		{"D5 tail", tail},
		{"D5 tail says what is gone", tailGone},
		{"D13 ready", ready},
		{"I1 concurrent writers to many sessions", manySessions},
		{"I6 two writers of one session", twoWriters},
		{"I13 items are kept apart and can be forgotten", items},
		{"I13 delete leaves nothing", deleteLeavesNothing},
		{"invalid calls are refused", invalid},
		{"I7 any operations as in the model", asModel},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
			defer cancel()
			b := &bench{T: t, ctx: ctx, open: reopen}
			b.Store = open(t)
			defer func() { require.NoError(t, b.Store.Close()) }()
			c.run(b)
		})
	}
}

// bench is one case at work on one store.
type bench struct {
	*testing.T
	ctx   context.Context
	Store store.Store
	open  Reopen
}

func (b *bench) reopen() {
	b.Helper()
	b.Store = b.open(b.T, b.Store)
}

func (b *bench) writer(id string) *Writer {
	b.Helper()
	w, err := NewWriter(b.ctx, b.Store, id)
	require.NoError(b, err)
	return w
}

func (b *bench) write(w *Writer, n, size int) []store.Record {
	b.Helper()
	recs, err := w.Write(b.ctx, n, size)
	require.NoError(b, err)
	return recs
}

func (b *bench) snapshot(w *Writer) store.Snapshot {
	b.Helper()
	s, err := w.Snapshot(b.ctx)
	require.NoError(b, err)
	return s
}

func (b *bench) load(id string) store.Loaded {
	b.Helper()
	l, err := b.Store.Load(b.ctx, id)
	require.NoError(b, err)
	return l
}

// holds requires that the session is exactly these records, read in both ways.
func (b *bench) holds(id string, want []store.Record) {
	b.Helper()
	require.Equal(b, want, b.load(id).Tail)
	got, ok, err := b.Store.Tail(b.ctx, id, 0, len(want)+1)
	require.NoError(b, err)
	require.True(b, ok)
	require.Equal(b, want, got)
}
