package boltstore

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"

	"halfline/server/store"
)

const (
	fileName = "halfline.db"
	pidName  = "halfline.pid"

	// lockWait is for a former process that is just going; without it bbolt
	// would wait for ever.
	lockWait = 500 * time.Millisecond

	// format is raised when a file could not be read by an older program.
	format = 1

	// maxBatch bounds one transaction, so that its callers do not wait for a
	// whole queue.
	maxBatch = 256
)

var (
	errClosed   = errors.New("store is closed")
	errNoLayout = errors.New("data file is new")
	errFault    = errors.New("data file is closed after a fault of the disk: the next write tries to open it again")
)

// Store is an open data folder. At most one process has it open.
type Store struct {
	// fixed at construction
	folder   string
	queue    chan *op
	quit     chan struct{} // closed by Close
	stopped  chan struct{} // closed by the committer when it is done
	closing  sync.Once
	closeErr error // set inside closing

	// sync makes a transaction durable; the tests of faults replace it.
	sync func(*bolt.Tx) error

	// guarded by mu; nil after a fault until the file is open again. mu is
	// held for the start of a read and for the whole of a commit.
	mu sync.RWMutex
	db *bolt.DB
}

var _ store.Store = (*Store)(nil)

// Open opens the store in a folder and makes both if need be. The error is one
// line that says what to do; it is ErrLocked if another process has the folder.
func Open(folder string) (*Store, error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	db, err := openFile(folder)
	if err != nil {
		return nil, err
	}
	s := &Store{
		folder:  folder,
		queue:   make(chan *op, maxBatch),
		quit:    make(chan struct{}),
		stopped: make(chan struct{}),
		sync:    (*bolt.Tx).Commit,
		db:      db,
	}
	writePid(folder)
	go s.run() // until Close, which waits for it
	return s, nil
}

// openFile opens the file in an existing folder and lays out its buckets.
func openFile(folder string) (*bolt.DB, error) {
	db, err := openBolt(folder)
	if err != nil {
		return nil, explain(folder, err)
	}
	// A file that has its layout is only read: after a fault the number of its
	// last transaction tells what became of the one that went wrong.
	err = guard(func() error { return db.View(checkLayout) })
	if errors.Is(err, errNoLayout) {
		err = guard(func() error { return db.Update(layOut) })
	}
	if err != nil {
		_ = guard(db.Close)
		return nil, explain(folder, err)
	}
	if err := syncFolder(folder); err != nil {
		_ = guard(db.Close)
		return nil, explain(folder, err)
	}
	return db, nil
}

func layOut(tx *bolt.Tx) error {
	for _, name := range bucketNames {
		if _, err := tx.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	return tablesOf(tx).putNumber(keyFormat, format)
}

func checkLayout(tx *bolt.Tx) error {
	if tx.ID() <= 1 { // as bbolt makes it; a damaged file must not pass for a new one
		return errNoLayout
	}
	for _, name := range bucketNames {
		if tx.Bucket(name) == nil {
			return fmt.Errorf("no bucket %q: %w", name, store.ErrDamaged)
		}
	}
	t := tablesOf(tx)
	f, err := t.number(keyFormat)
	if err != nil {
		return err
	}
	if f > format {
		return errNewer
	}
	_, err = t.all()
	return err
}

// Close answers what is queued, then lets the folder go.
func (s *Store) Close() error {
	s.closing.Do(func() {
		close(s.quit)
		<-s.stopped
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.db != nil {
			s.closeErr = guard(s.db.Close)
			s.db = nil
		}
		removePid(s.folder)
	})
	return s.closeErr
}

// view runs f on what has been committed and synced.
func (s *Store) view(ctx context.Context, f func(*tables) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	var tx *bolt.Tx
	err := guard(func() (err error) {
		s.mu.RLock()
		defer s.mu.RUnlock()
		if s.db == nil {
			select {
			case <-s.quit:
				return errClosed
			default:
				return errFault
			}
		}
		tx, err = s.db.Begin(false)
		return err
	})
	if err != nil {
		return err
	}
	defer func() { _ = guard(tx.Rollback) }()
	return guard(func() error { return f(tablesOf(tx)) })
}
