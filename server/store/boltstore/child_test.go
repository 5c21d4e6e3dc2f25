package boltstore

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/server/store/storetest"
)

// childEnv names the part that this test binary plays when a test has started
// it again as another process; folderEnv is its data folder.
const (
	childEnv  = "HALFLINE_STORE_CHILD"
	folderEnv = "HALFLINE_STORE_FOLDER"
)

var children = map[string]func() error{
	"writers": playWriters,
	"full":    playFullDisk,
}

const childWriters = 8

// child is another process that reports to this one line by line.
type child struct {
	cmd   *exec.Cmd
	lines *bufio.Scanner
	in    io.WriteCloser
}

func startChild(t *testing.T, part, folder string) *child {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+part, folderEnv+"="+folder)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	in, err := cmd.StdinPipe() // its end tells the child that this process has gone
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		if cmd.ProcessState == nil {
			_ = cmd.Process.Kill()
			_ = cmd.Wait()
		}
	})
	return &child{cmd: cmd, lines: bufio.NewScanner(out), in: in}
}

// playWriters writes to all sessions at once until it is killed, and prints
// each append once it is acknowledged.
func playWriters() error {
	s, err := Open(os.Getenv(folderEnv))
	if err != nil {
		return err
	}
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin)
		os.Exit(1) // the test that started this is gone
	}()
	var print sync.Mutex
	var wg sync.WaitGroup
	failed := make(chan error, childWriters)
	for i := range childWriters {
		wg.Go(func() { failed <- writeOn(s, fmt.Sprintf("s%d", i), i, &print) })
	}
	return <-failed
}

func writeOn(s *Store, id string, size int, print *sync.Mutex) error {
	ctx := context.Background()
	l, err := s.Load(ctx, id)
	if err != nil {
		return err
	}
	w := &storetest.Writer{Store: s, ID: id}
	if l.Snapshot != nil {
		w.Seq, w.Chain = l.Snapshot.Seq, l.Snapshot.Chain
	}
	if n := len(l.Tail); n > 0 {
		w.Seq, w.Chain = l.Tail[n-1].Seq, l.Tail[n-1].Chain
	}
	if err := w.Acquire(ctx); err != nil {
		return err
	}
	for n := 0; ; n++ {
		if _, err := w.Write(ctx, 1+n%3, 100*(size+1)); err != nil {
			return err
		}
		if size%2 == 1 && n%20 == 19 {
			if _, err := w.Snapshot(ctx); err != nil {
				return err
			}
		}
		print.Lock()
		_, err := fmt.Printf("%s %d\n", id, w.Seq)
		print.Unlock()
		if err != nil {
			return err
		}
	}
}

// read takes one line "session seq".
func (c *child) read(acked map[string]uint64) (ok bool, err error) {
	if !c.lines.Scan() {
		return false, c.lines.Err()
	}
	var id string
	var seq uint64
	if _, err := fmt.Fscanf(strings.NewReader(c.lines.Text()), "%s %d", &id, &seq); err != nil {
		return false, err
	}
	acked[id] = max(acked[id], seq)
	return true, nil
}
