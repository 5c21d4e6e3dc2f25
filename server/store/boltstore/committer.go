package boltstore

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"halfline/server/store"
)

// op is one caller's write.
type op struct {
	ctx context.Context
	// do refuses before it writes anything. It may run more than once, and
	// also after its caller has gone, so it owns all the memory it reads.
	do   func(*tables) error
	done chan error // has room for the one answer
	// alone asks for the store instead of a transaction, see Compact.
	alone func() error
}

// refused tells an answer for one caller from a fault that ends the
// transaction.
func refused(err error) bool {
	for _, r := range []error{store.ErrNotFound, store.ErrExists, store.ErrStale, store.ErrInvalid, context.Canceled, context.DeadlineExceeded} {
		if errors.Is(err, r) {
			return true
		}
	}
	return false
}

// submit queues a write and waits for its answer.
func (s *Store) submit(o *op) error {
	if err := o.ctx.Err(); err != nil {
		return err
	}
	o.done = make(chan error, 1)
	select {
	case <-s.quit:
		return errClosed
	default:
	}
	select {
	case s.queue <- o:
	case <-s.quit:
		return errClosed
	case <-o.ctx.Done():
		return o.ctx.Err()
	}
	select {
	case err := <-o.done:
		return err
	case <-o.ctx.Done():
		return fmt.Errorf("outcome unknown: %w", o.ctx.Err())
	case <-s.stopped:
		select {
		case err := <-o.done:
			return err
		default: // queued after the committer looked for the last time
			return errClosed
		}
	}
}

// run is the committer. It ends when Close asks, after what is queued.
func (s *Store) run() {
	defer close(s.stopped)
	batch := make([]*op, 0, maxBatch)
	for {
		batch = batch[:0]
		select {
		case o := <-s.queue:
			batch = append(batch, o)
		case <-s.quit:
			select {
			case o := <-s.queue:
				batch = append(batch, o)
			default:
				return
			}
		}
		// Those who were answered just now get the processor as long as it
		// makes them queue up: their next op is then part of this commit and
		// not of the one after it.
		for more := true; more && len(batch) < maxBatch; {
			runtime.Gosched()
			before := len(batch)
			batch = s.drain(batch)
			more = len(batch) > before
		}
		s.carryOut(batch)
	}
}

// drain takes what is queued, without waiting.
func (s *Store) drain(batch []*op) []*op {
	for len(batch) < maxBatch {
		select {
		case o := <-s.queue:
			batch = append(batch, o)
		default:
			return batch
		}
	}
	return batch
}

// carryOut answers every op of a batch.
func (s *Store) carryOut(batch []*op) {
	var due []*op
	for _, o := range batch {
		if o.alone == nil {
			due = append(due, o)
			continue
		}
		s.commitAll(due)
		due = nil
		o.done <- o.alone()
	}
	s.commitAll(due)
}

// commitAll commits ops, without those on which the transaction breaks.
func (s *Store) commitAll(ops []*op) {
	for len(ops) > 0 {
		broken := s.commit(ops)
		if broken < 0 {
			return
		}
		ops = append(ops[:broken:broken], ops[broken+1:]...)
	}
}

// commit carries ops out in one transaction and answers them all, unless one of
// them breaks it: then that one alone is answered and its index returned.
func (s *Store) commit(ops []*op) (broken int) {
	if err := s.mend(); err != nil {
		answer(ops, err)
		return -1
	}
	answers := make([]error, len(ops))
	broken, began := -1, 0
	err := guard(func() error {
		tx, err := s.db.Begin(true) // only the committer changes s.db, so it may read it
		if err != nil {
			return err
		}
		began = tx.ID()
		defer func() { _ = guard(tx.Rollback) }() // does nothing after a commit
		t := tablesOf(tx)
		for i, o := range ops {
			err := o.ctx.Err()
			if err == nil {
				err = guard(func() error { return o.do(t) })
			}
			if err != nil && !refused(err) {
				broken = i
				return err
			}
			answers[i] = err
		}
		if !t.wrote {
			return nil
		}
		if err := t.finish(); err != nil {
			return err
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.sync(tx)
	})
	switch {
	case broken >= 0:
		ops[broken].done <- err
	case err != nil:
		// Also those that were refused: an op that is now undone may have
		// been the reason.
		answer(ops, s.fault(began, err))
	default:
		for i, o := range ops {
			o.done <- answers[i]
		}
	}
	return broken
}

func answer(ops []*op, err error) {
	for _, o := range ops {
		o.done <- err
	}
}

// fault closes the file and reads it again after the commit of a transaction
// went wrong, and tells what became of it.
func (s *Store) fault(transaction int, cause error) error {
	s.mu.Lock()
	_ = guard(s.db.Close)
	s.db = nil
	s.mu.Unlock()
	forgetCache(filepath.Join(s.folder, fileName))
	if err := s.mend(); err != nil {
		// Not ErrReadOnly, which would say that nothing was written.
		return fmt.Errorf("outcome unknown: commit: %w (then: %v)", cause, err)
	}
	last := transaction
	err := guard(func() error {
		tx, err := s.db.Begin(false)
		if err != nil {
			return err
		}
		last = tx.ID()
		return tx.Rollback()
	})
	if err == nil && last < transaction && isNoRoom(cause) {
		return fmt.Errorf("%w: %w", store.ErrReadOnly, cause)
	}
	return fmt.Errorf("outcome unknown: commit: %w", cause)
}

// mend opens the file again after a fault. Where it cannot, nothing is written.
func (s *Store) mend() error {
	if s.db != nil {
		return nil
	}
	db, err := openFile(s.folder)
	if err != nil {
		if errors.Is(err, store.ErrDamaged) {
			return err
		}
		return fmt.Errorf("%w: %w", store.ErrReadOnly, err)
	}
	s.mu.Lock()
	s.db = db
	s.mu.Unlock()
	return nil
}

// isNoRoom also reads the text: bbolt drops the cause when it cannot enlarge
// the file.
func isNoRoom(err error) bool {
	for _, e := range noRoom {
		if errors.Is(err, e) || strings.Contains(err.Error(), e.Error()) {
			return true
		}
	}
	return false
}
