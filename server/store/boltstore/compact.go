package boltstore

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// Compact writes the file anew. It gives back the room of what was deleted,
// and it is what makes deleted names unreadable: bbolt leaves their bytes on
// free pages. Writers wait meanwhile, readers do not.
func (s *Store) Compact(ctx context.Context) error {
	if err := s.submit(&op{ctx: ctx, alone: s.compact}); err != nil {
		return fmt.Errorf("compact: %w", err)
	}
	return nil
}

// compact runs in the committer.
func (s *Store) compact() error {
	if err := s.mend(); err != nil {
		return err
	}
	file := filepath.Join(s.folder, fileName)
	fresh := file + ".new"
	// One of an earlier try that was killed may be left.
	if err := os.RemoveAll(fresh); err != nil {
		return err
	}
	if err := guard(func() error { return copyFile(fresh, s.db) }); err != nil {
		_ = os.Remove(fresh)
		return err
	}
	s.mu.Lock()
	err := guard(s.db.Close)
	s.db = nil
	s.mu.Unlock()
	if err == nil {
		err = os.Rename(fresh, file)
	}
	// Whichever of the two files now has the name is whole.
	if mendErr := s.mend(); err == nil {
		err = mendErr
	}
	return err
}

func copyFile(name string, from *bolt.DB) error {
	to, err := bolt.Open(name, 0o600, &bolt.Options{Timeout: lockWait, FreelistType: bolt.FreelistMapType, NoSync: true})
	if err != nil {
		return err
	}
	const perTransaction = 1 << 20 // bytes
	err = bolt.Compact(to, from, perTransaction)
	if err == nil {
		err = to.Sync()
	}
	if closeErr := to.Close(); err == nil {
		err = closeErr
	}
	return err
}
