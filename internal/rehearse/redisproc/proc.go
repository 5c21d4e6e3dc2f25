package redisproc

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

const (
	// upWait is far above what a start takes (0.1 s), and enough for one that
	// loads its append-only file on a busy machine.
	upWait = 20 * time.Second
	// highestPort leaves room for the cluster bus at port + 10000.
	highestPort = 55535
	// portTries is how often another process may snatch the port between its
	// choice and the server's start.
	portTries = 10
)

// Proc is one redis-server. Its methods are for the test's own goroutine.
type Proc struct {
	Addr string // host:port, the same after a restart

	t      testing.TB
	folder string
	exited chan struct{} // closed when the running process is gone
	proc   *os.Process   // nil when none runs
}

var errPort = errors.New("port is in use")

// Start runs a server with the given further lines of configuration, such as
// "appendonly yes". Nothing is saved to disk unless they say so. A machine
// without redis-server fails the test.
func Start(t testing.TB, extraConf ...string) *Proc {
	t.Helper()
	if _, err := exec.LookPath("redis-server"); err != nil {
		t.Fatal("redis-server is not installed: apt-get install -y --no-install-recommends redis-server")
	}
	p := &Proc{t: t, folder: t.TempDir()}
	t.Cleanup(func() {
		p.Kill()
		if t.Failed() {
			log, _ := os.ReadFile(p.logFile())
			t.Logf("redis-server at %s:\n%s", p.Addr, log[max(0, len(log)-4096):])
		}
	})
	for range portTries {
		port, err := freePort()
		if err != nil {
			t.Fatalf("free port for redis-server: %v", err)
		}
		p.Addr = fmt.Sprintf("127.0.0.1:%d", port)
		if err := p.configure(port, extraConf); err != nil {
			t.Fatalf("configure redis-server: %v", err)
		}
		err = p.start()
		if err == nil {
			return p
		}
		if !errors.Is(err, errPort) {
			t.Fatalf("start redis-server: %v", err)
		}
	}
	t.Fatalf("redis-server found no free port in %d tries", portTries)
	return nil
}

// URL is the server's address as the program's --redis flag takes it.
func (p *Proc) URL() string { return "redis://" + p.Addr }

// Port is the port alone, as REPLICAOF takes it.
func (p *Proc) Port() string {
	_, port, _ := net.SplitHostPort(p.Addr)
	return port
}

// Folder is where the server keeps its files.
func (p *Proc) Folder() string { return p.folder }

// Kill ends the server at once, as a crash does, and waits until it is gone.
func (p *Proc) Kill() {
	if p.proc == nil {
		return
	}
	_ = p.proc.Kill()
	<-p.exited
	p.proc = nil
}

// Restart kills the server if it runs and starts it again on the same port and
// files.
func (p *Proc) Restart() {
	p.t.Helper()
	p.Kill()
	if err := p.start(); err != nil {
		p.t.Fatalf("restart redis-server at %s: %v", p.Addr, err)
	}
}

// Pause halts the server: connections stay open and nothing answers.
func (p *Proc) Pause() {
	p.t.Helper()
	if err := halt(p.proc); err != nil {
		p.t.Fatalf("pause redis-server: %v", err)
	}
}

// Resume lets a halted server go on.
func (p *Proc) Resume() {
	p.t.Helper()
	if err := goOn(p.proc); err != nil {
		p.t.Fatalf("resume redis-server: %v", err)
	}
}

func (p *Proc) confFile() string { return filepath.Join(p.folder, "redis.conf") }
func (p *Proc) logFile() string  { return filepath.Join(p.folder, "redis.log") }

func (p *Proc) configure(port int, extra []string) error {
	lines := append([]string{
		fmt.Sprintf("port %d", port),
		"bind 127.0.0.1",
		"protected-mode no",
		"daemonize no",
		"dir " + p.folder,
		`save ""`,
	}, extra...)
	return os.WriteFile(p.confFile(), []byte(strings.Join(lines, "\n")+"\n"), 0o600)
}

// start runs the process and returns when it answers.
func (p *Proc) start() error {
	log, err := os.OpenFile(p.logFile(), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer log.Close()
	cmd := exec.Command("redis-server", p.confFile())
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = dieWithParent()
	started := make(chan error)
	exited := make(chan struct{})
	go func() { // ends with the process, which Cleanup kills
		// The kernel ends the child when the thread that made it ends, so that
		// thread is kept until then.
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			_ = cmd.Wait()
		}
		close(exited)
	}()
	if err := <-started; err != nil {
		return err
	}
	p.proc, p.exited = cmd.Process, exited
	return p.wait()
}

// wait pings until this very process answers, and not another on its port.
func (p *Proc) wait() error {
	beat := time.NewTicker(10 * time.Millisecond)
	defer beat.Stop()
	end := time.NewTimer(upWait)
	defer end.Stop()
	for {
		select {
		case <-p.exited:
			p.proc = nil
			log, _ := os.ReadFile(p.logFile())
			if bytes.Contains(log, []byte("Address already in use")) {
				return errPort
			}
			return fmt.Errorf("it ended by itself: %s", log[max(0, len(log)-2048):])
		case <-end.C:
			p.Kill()
			return fmt.Errorf("no answer within %v", upWait)
		case <-beat.C:
			if p.answers() {
				return nil
			}
		}
	}
}

// answers asks for a line that only a server which has loaded its files gives,
// or one that first wants a password, and compares the process id.
func (p *Proc) answers() bool {
	conn, err := net.DialTimeout("tcp", p.Addr, time.Second)
	if err != nil {
		return false
	}
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(time.Second))
	if _, err := conn.Write([]byte("PING\r\nINFO server\r\n")); err != nil {
		return false
	}
	lines := bufio.NewScanner(conn)
	for lines.Scan() {
		switch line := lines.Text(); {
		case strings.HasPrefix(line, "-NOAUTH"):
			return true
		case strings.HasPrefix(line, "-"):
			return false
		case strings.HasPrefix(line, "process_id:"):
			return line == fmt.Sprintf("process_id:%d", p.proc.Pid)
		}
	}
	return false
}

// freePort asks the system for one and lets it go again.
func freePort() (int, error) {
	for range 100 {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			return 0, err
		}
		port := l.Addr().(*net.TCPAddr).Port
		if err := l.Close(); err != nil {
			return 0, err
		}
		if port <= highestPort {
			return port, nil
		}
	}
	return 0, fmt.Errorf("none up to %d", highestPort)
}
