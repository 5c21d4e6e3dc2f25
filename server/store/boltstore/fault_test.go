package boltstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

// failing makes the next sync fail, before or after the transaction reached
// the file.
func failing(s *Store, written bool, fault error) {
	s.sync = func(tx *bolt.Tx) error {
		s.sync = (*bolt.Tx).Commit
		if written {
			if err := tx.Commit(); err != nil {
				return err
			}
		}
		return fault
	}
}

// start makes a store with one session of three records.
func start(t *testing.T) (*Store, *storetest.Writer, []store.Record) {
	t.Helper()
	s := open(t, t.TempDir())
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	w, err := storetest.NewWriter(t.Context(), s, "s")
	require.NoError(t, err)
	recs, err := w.Write(t.Context(), 3, 20)
	require.NoError(t, err)
	return s, w, recs
}

func holds(t *testing.T, s *Store, id string, want []store.Record) {
	t.Helper()
	l, err := s.Load(t.Context(), id)
	require.NoError(t, err)
	require.Equal(t, want, l.Tail)
}

func TestD13FullDiskIsReadOnlyAndPasses(t *testing.T) {
	for _, errno := range []syscall.Errno{syscall.ENOSPC, syscall.EFBIG, syscall.EROFS, syscall.EDQUOT} {
		for _, cause := range []error{
			&fs.PathError{Op: "write", Path: "halfline.db", Err: errno},
			fmt.Errorf("file resize error: %s", errno.Error()), // as bbolt words it
		} {
			s, w, recs := start(t)
			failing(s, false, cause)
			next := w.Next(2, 20)
			err := w.Append(t.Context(), next)
			require.ErrorIs(t, err, store.ErrReadOnly)
			assert.NotContains(t, err.Error(), "unknown")
			holds(t, s, "s", recs)
			require.NoError(t, w.Append(t.Context(), next), "room again")
			holds(t, s, "s", append(recs, next...))
		}
	}
}

// A sync that went wrong is never just tried again: the file is read anew, the
// outcome is called unknown, and a repeat finds out.
func TestI1SyncErrorIsUnknown(t *testing.T) {
	for _, written := range []bool{false, true} {
		for _, cause := range []error{syscall.EIO, syscall.ENOSPC} {
			t.Run(fmt.Sprintf("%v written %v", cause, written), func(t *testing.T) {
				s, w, recs := start(t)
				before := s.db
				failing(s, written, cause)
				next := w.Next(2, 20)
				err := w.Append(t.Context(), next)
				require.ErrorIs(t, err, cause)
				full := cause == syscall.ENOSPC && !written
				assert.Equal(t, full, errors.Is(err, store.ErrReadOnly))
				assert.NotErrorIs(t, err, store.ErrStale)
				assert.NotSame(t, before, s.db, "the file was opened again")

				l, err := s.Load(t.Context(), "s")
				require.NoError(t, err)
				if written {
					assert.Equal(t, append(recs, next...), l.Tail)
				} else {
					assert.Equal(t, recs, l.Tail)
				}
				require.NoError(t, w.Append(t.Context(), next), "a repeat settles it")
				holds(t, s, "s", append(recs, next...))
			})
		}
	}
}

// A repeat is answered only after a sync that went well.
func TestD1RepeatWaitsForASync(t *testing.T) {
	s, w, recs := start(t)
	require.NoError(t, s.Append(t.Context(), "s", w.Fence, recs))
	failing(s, false, syscall.EIO)
	require.ErrorIs(t, s.Append(t.Context(), "s", w.Fence, recs), syscall.EIO)
}

// While the file cannot be opened again, nothing is written, nobody is told
// otherwise, and the store comes back by itself.
func TestD13FileThatCannotBeReopened(t *testing.T) {
	s, w, recs := start(t)
	file := filepath.Join(s.folder, fileName)
	s.sync = func(tx *bolt.Tx) error {
		s.sync = (*bolt.Tx).Commit
		return errors.Join(syscall.EIO, os.Rename(file, file+".away"), os.Mkdir(file, 0o700))
	}
	next := w.Next(1, 20)
	require.ErrorIs(t, w.Append(t.Context(), next), syscall.EIO)
	require.ErrorIs(t, w.Append(t.Context(), next), store.ErrReadOnly)
	require.ErrorIs(t, s.Ready(t.Context()), store.ErrReadOnly)
	_, err := s.Load(t.Context(), "s")
	require.ErrorIs(t, err, errFault)

	require.NoError(t, os.Remove(file))
	require.NoError(t, os.Rename(file+".away", file))
	require.NoError(t, s.Ready(t.Context()))
	holds(t, s, "s", recs)
	require.NoError(t, w.Append(t.Context(), next))
	holds(t, s, "s", append(recs, next...))
}

// together queues ops behind one that holds the committer, so that they meet
// in one transaction, and returns their answers.
func together(t *testing.T, s *Store, ops ...func() error) []error {
	t.Helper()
	hold, held := make(chan struct{}), make(chan struct{})
	go s.submit(&op{ctx: context.Background(), alone: func() error { close(held); <-hold; return nil }})
	<-held
	answers := make([]error, len(ops))
	var wg sync.WaitGroup
	for i, o := range ops {
		wg.Go(func() { answers[i] = o() })
		for len(s.queue) <= i {
			select { // until it is queued, so that the order is the given one
			case <-t.Context().Done():
				t.FailNow()
			default:
			}
		}
	}
	close(hold)
	wg.Wait()
	return answers
}

func TestD1OneRefusalDoesNotTouchOthers(t *testing.T) {
	s, w, recs := start(t)
	transactions := 0
	s.sync = func(tx *bolt.Tx) error { transactions++; return tx.Commit() }
	other, err := storetest.NewWriter(t.Context(), s, "other")
	require.NoError(t, err)
	transactions = 0

	one, two := w.Next(1, 20), other.Next(2, 20)
	stale := *other
	stale.Fence--
	canceled, cancel := context.WithCancel(t.Context())
	broken := errors.New("broken op")
	answers := together(t, s,
		func() error { return w.Append(t.Context(), one) },
		func() error { _, err := stale.Write(t.Context(), 1, 5); return err },
		func() error { return s.submit(&op{ctx: t.Context(), do: func(*tables) error { return broken }}) },
		func() error { return s.Create(t.Context(), "other", "e") },
		func() error { defer cancel(); return s.Create(t.Context(), "third", "e") },
		func() error { return s.submit(&op{ctx: t.Context(), do: func(*tables) error { panic("page 7") }}) },
		func() error { return other.Append(t.Context(), two) },
		func() error { return other.Store.Append(t.Context(), "other", other.Fence, two) },
	)
	<-canceled.Done()
	require.NoError(t, answers[0])
	require.ErrorIs(t, answers[1], store.ErrStale)
	require.ErrorIs(t, answers[2], broken)
	require.ErrorIs(t, answers[3], store.ErrExists)
	require.NoError(t, answers[4])
	require.ErrorIs(t, answers[5], store.ErrDamaged)
	require.NoError(t, answers[6])
	require.NoError(t, answers[7], "a repeat inside the same transaction")
	assert.Equal(t, 1, transactions)
	holds(t, s, "s", append(recs, one...))
	holds(t, s, "other", two)
}

func TestD1AllOfAFailedBatchHearOfIt(t *testing.T) {
	s, w, recs := start(t)
	failing(s, false, syscall.EIO)
	next := w.Next(1, 20)
	answers := together(t, s,
		func() error { return s.Create(t.Context(), "new", "e") },
		func() error { return s.Create(t.Context(), "new", "e") }, // refused only because of the one before
		func() error { return s.Append(t.Context(), "s", w.Fence, next) },
	)
	for _, err := range answers {
		assert.ErrorIs(t, err, syscall.EIO)
		assert.NotErrorIs(t, err, store.ErrExists)
	}
	holds(t, s, "s", recs)
}

// Callers who give up, and a store that closes in the middle, leave nobody
// waiting, and what was acknowledged is there.
func TestI1CloseInTheMiddle(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	const writers = 16
	acked := make([]uint64, writers)
	var wg sync.WaitGroup
	begun := make(chan struct{}, writers)
	for i := range writers {
		wg.Go(func() {
			w, err := storetest.NewWriter(context.Background(), s, fmt.Sprintf("s%d", i))
			for n := 0; err == nil; n++ {
				if n == 5 {
					begun <- struct{}{}
				}
				_, err = w.Write(context.Background(), 1, 50)
			}
			assert.ErrorIs(t, err, errClosed)
			acked[i] = w.Seq
		})
	}
	for range writers {
		<-begun
	}
	require.NoError(t, s.Close())
	wg.Wait()

	s = open(t, folder)
	for i, seq := range acked {
		l, err := s.Load(t.Context(), fmt.Sprintf("s%d", i))
		require.NoError(t, err)
		assert.Len(t, l.Tail, int(seq), "exactly the acknowledged: nobody was left in the dark")
	}
	require.NoError(t, s.Close())
}

func TestCallerWhoGivesUpHearsUnknown(t *testing.T) {
	s, w, recs := start(t)
	ctx, cancel := context.WithCancel(t.Context())
	next := w.Next(1, 20)
	reached, finish := make(chan struct{}), make(chan struct{})
	s.sync = func(tx *bolt.Tx) error {
		s.sync = (*bolt.Tx).Commit
		close(reached)
		<-finish
		return tx.Commit()
	}
	answer := make(chan error)
	go func() { answer <- w.Append(ctx, next) }()
	<-reached
	cancel()
	err := <-answer
	require.ErrorIs(t, err, context.Canceled)
	assert.Contains(t, err.Error(), "outcome unknown")
	close(finish)
	require.NoError(t, w.Append(t.Context(), next))
	holds(t, s, "s", append(recs, next...))
}
