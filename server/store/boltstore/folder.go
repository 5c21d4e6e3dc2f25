package boltstore

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"halfline/server/store"
)

// ErrLocked says that another process has the data folder open.
var ErrLocked = errors.New("data folder is locked")

var errNewer = errors.New("written by a newer version of this program")

func makeFolder(folder string) error {
	// Names of people are inside: nobody else on the machine may look.
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return explain(folder, err)
	}
	return nil
}

// openBolt opens the file. A file so damaged that bbolt breaks on it is
// ErrDamaged, and is let go again.
func openBolt(folder string) (db *bolt.DB, err error) {
	var file *os.File
	options := &bolt.Options{
		Timeout:      lockWait,
		FreelistType: bolt.FreelistMapType,
		NoStatistics: true,
		OpenFile: func(name string, flag int, mode os.FileMode) (f *os.File, err error) {
			file, err = os.OpenFile(name, flag, mode)
			return file, err
		},
	}
	err = guard(func() (err error) {
		db, err = bolt.Open(filepath.Join(folder, fileName), 0o600, options)
		return err
	})
	if errors.Is(err, store.ErrDamaged) && file != nil {
		file.Close() // and with it the lock
	}
	return db, err
}

// guard turns a panic on a damaged file into ErrDamaged: bbolt panics on pages
// that make no sense, and the machine faults on mapped pages that a shortened
// file no longer has.
func guard(f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if p := recover(); p != nil {
			text, _, _ := strings.Cut(fmt.Sprint(p), "\n")
			err = fmt.Errorf("%s: %w", text, store.ErrDamaged)
		}
	}()
	return f()
}

// explain makes of an error at opening the one line that a coach can act on.
func explain(folder string, err error) error {
	file := filepath.Join(folder, fileName)
	var path *fs.PathError
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return fmt.Errorf("%w: %q is in use by process %s: stop that one, or choose another folder with --data", ErrLocked, file, readPid(folder))
	case errors.Is(err, errNewer):
		return fmt.Errorf("%q cannot be opened (%w): use that version, or choose another folder with --data", file, err)
	case errors.Is(err, store.ErrDamaged):
		return fmt.Errorf("%q cannot be read: restore it from a backup: %w", file, err)
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrVersionMismatch), errors.Is(err, berrors.ErrChecksum),
		strings.Contains(err.Error(), "file size too small"): // bbolt has no value for this one
		return fmt.Errorf("%q is no data file of this program (%v): restore it from a backup, or choose another folder with --data: %w", file, err, store.ErrDamaged)
	case errors.As(err, &path):
		return fmt.Errorf("data folder %q cannot be used (%w): make it writable for this user, or choose another with --data", folder, path.Err)
	}
	return fmt.Errorf("data file %q cannot be opened (%w): look after the disk, or choose another folder with --data", file, err)
}

// The pid file only tells people who holds the folder; the lock is on the data
// file. So that it cannot be written, or is out of date, is no error.

func writePid(folder string) {
	_ = os.WriteFile(filepath.Join(folder, pidName), []byte(strconv.Itoa(os.Getpid())+"\n"), 0o600)
}

func removePid(folder string) { _ = os.Remove(filepath.Join(folder, pidName)) }

func readPid(folder string) string {
	b, err := os.ReadFile(filepath.Join(folder, pidName))
	if err != nil {
		return "unknown"
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(b)))
	if err != nil {
		return "unknown"
	}
	return strconv.Itoa(pid)
}
