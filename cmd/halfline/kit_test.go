package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/device"
)

// patience is far above what anything takes on a busy machine.
const patience = 30 * time.Second

// program is the binary, built once, beside the one that tests: what stands
// there goes when the tests are over.
var program = sync.OnceValues(func() (string, error) {
	tests, err := os.Executable()
	if err != nil {
		return "", err
	}
	bin := filepath.Join(filepath.Dir(tests), "halfline-served")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("build: %w: %s", err, out)
	}
	return bin, nil
})

// text is what a program writes, to be read while it runs.
type text struct {
	mu sync.Mutex
	b  bytes.Buffer // guarded by mu
}

func (x *text) Write(p []byte) (int, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.b.Write(p)
}

func (x *text) String() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.b.String()
}

// running is a server that has greeted, in this process or another.
type running struct {
	device.Browser
	key      string // of the coach's link
	out, err *text
	took     time.Duration // from the start to the greeting

	stop  func() // asks it to stop, as a service manager does
	kill  func() // ends it as a crash does; in another process only
	ended chan int
	pid   int
}

var coachLink = regexp.MustCompile(`(?m)^  coach   (\S+)/#coach=([0-9a-f]{40})$`)

// watch waits for the greeting in what a server prints.
func (r *running) watch(t testing.TB, stdout io.Reader, began time.Time) {
	t.Helper()
	greeted := make(chan bool)
	go func() { // ends with the output
		lines := bufio.NewScanner(stdout)
		told := false
		for lines.Scan() {
			fmt.Fprintln(r.out, lines.Text())
			if !told && strings.HasPrefix(lines.Text(), "For practice") {
				told = true
				greeted <- true
			}
		}
		close(greeted)
	}()
	select {
	case ok := <-greeted:
		require.True(t, ok, "it ended: %s%s", r.out, r.err)
	case <-time.After(patience):
		require.FailNow(t, "no greeting", "%s%s", r.out, r.err)
	}
	r.took = time.Since(began)
	m := coachLink.FindStringSubmatch(r.out.String())
	require.NotNil(t, m, r.out.String())
	r.Browser, r.key = device.Browser{T: t, Base: m[1]}, m[2]
	go func() { // takes in what comes after; ends with the output
		for range greeted {
		}
	}()
}

// process starts the binary in a folder of its own.
func process(t testing.TB, env []string, args ...string) *running {
	t.Helper()
	bin, err := program()
	require.NoError(t, err)
	r := &running{out: &text{}, err: &text{}, ended: make(chan int, 1)}
	cmd := exec.Command(bin, args...)
	cmd.Dir = t.TempDir()
	cmd.Env = append(os.Environ(), env...)
	cmd.Stderr = r.err
	stdout, write, err := os.Pipe()
	require.NoError(t, err)
	cmd.Stdout = write
	began := time.Now()
	require.NoError(t, cmd.Start())
	write.Close()
	go func() { // ends with the process, which Cleanup ends
		_ = cmd.Wait()
		r.ended <- cmd.ProcessState.ExitCode()
		close(r.ended)
	}()
	r.pid = cmd.Process.Pid
	r.stop = func() { _ = cmd.Process.Signal(os.Signal(terminate)) }
	r.kill = func() {
		_ = cmd.Process.Kill()
		<-r.ended
	}
	t.Cleanup(func() {
		r.kill()
		stdout.Close()
	})
	r.watch(t, stdout, began)
	return r
}

// inside runs a server in this process.
func inside(t testing.TB, env map[string]string, args ...string) *running {
	t.Helper()
	r := &running{out: &text{}, err: &text{}, ended: make(chan int, 1)}
	ctx, cancel := context.WithCancel(context.Background())
	r.stop = cancel
	read, write := io.Pipe()
	began := time.Now()
	go func() { // ends with ctx
		code := run(ctx, stdio{strings.NewReader(""), write, r.err, func(k string) string { return env[k] }}, args)
		write.Close()
		r.ended <- code
		close(r.ended)
	}()
	t.Cleanup(func() {
		cancel()
		<-r.ended
		read.Close()
	})
	r.watch(t, read, began)
	return r
}

// code waits for a server's exit code.
func (r *running) code(t testing.TB) int {
	t.Helper()
	select {
	case c := <-r.ended:
		return c
	case <-time.After(patience):
		require.FailNow(t, "it does not end", "%s%s", r.out, r.err)
		return -1
	}
}

// once runs a command in this process that ends by itself.
func once(env map[string]string, args ...string) (code int, out, errs string) {
	var o, e text
	code = run(context.Background(), stdio{strings.NewReader(""), &o, &e, func(k string) string { return env[k] }}, args)
	return code, o.String(), e.String()
}
