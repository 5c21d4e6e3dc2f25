package boltstore

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

// The disk fills up for real: a child may not make files larger than a limit
// (RLIMIT_FSIZE, so no root is needed), writes until it is refused, then gets
// room and goes on. It judges itself; here only its verdict is read.
func TestD13RealFullDisk(t *testing.T) {
	folder := t.TempDir()
	c := startChild(t, "full", folder)
	for c.lines.Scan() {
		t.Log(c.lines.Text())
	}
	require.NoError(t, c.cmd.Wait())

	s := open(t, folder)
	l, err := s.Load(t.Context(), "s")
	require.NoError(t, err)
	require.NotEmpty(t, l.Tail)
	require.NoError(t, s.Close())
}

func limitFiles(bytes uint64) error {
	var l syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &l); err != nil {
		return err
	}
	l.Cur = min(bytes, l.Max)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &l)
}

func playFullDisk() error {
	ctx := context.Background()
	folder := os.Getenv(folderEnv)
	s, err := Open(folder)
	if err != nil {
		return err
	}
	w, err := storetest.NewWriter(ctx, s, "s")
	if err != nil {
		return err
	}
	for round := range 3 {
		info, err := os.Stat(filepath.Join(folder, fileName))
		if err != nil {
			return err
		}
		if err := limitFiles(uint64(info.Size()) + 1<<20); err != nil {
			return err
		}
		for err == nil {
			_, err = w.Write(ctx, 4, 32<<10)
		}
		if !errors.Is(err, store.ErrReadOnly) {
			return fmt.Errorf("round %d: want a store without room, got: %w", round, err)
		}
		fmt.Printf("round %d, after record %d: %v\n", round, w.Seq, err)
		// What is small may still find room, but nothing is lost or half done.
		l, err := s.Load(ctx, "s")
		if err != nil {
			return err
		}
		if uint64(len(l.Tail)) != w.Seq {
			return fmt.Errorf("round %d: %d records, acknowledged were %d", round, len(l.Tail), w.Seq)
		}
		if _, err := w.Write(ctx, 4, 32<<10); !errors.Is(err, store.ErrReadOnly) {
			return fmt.Errorf("round %d: second try without room: %w", round, err)
		}
		if err := limitFiles(1 << 40); err != nil {
			return err
		}
		if _, err := w.Write(ctx, 4, 32<<10); err != nil {
			return fmt.Errorf("round %d: with room again: %w", round, err)
		}
	}
	return s.Close()
}
