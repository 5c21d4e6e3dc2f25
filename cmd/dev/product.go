package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"
	"syscall"
	"time"
)

// product is a running halfline with a data folder of its own.
type product struct {
	// origin is where it answers, http://HOST:PORT.
	origin string

	cmd    *exec.Cmd
	data   string
	output spoken
	ended  chan error
	over   bool // stop or kill was called
}

// spoken is what the server has said so far; the server writes it while the
// chore reads it.
type spoken struct {
	mu   sync.Mutex
	text bytes.Buffer // guarded by mu
}

func (s *spoken) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *spoken) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

var coachLink = regexp.MustCompile(`https?://\S+/(#coach=[0-9a-f]+)`)

// coach is the coach's link, at the origin where the server answers. The server
// prints it about when it is ready, a little before or after.
func (p *product) coach() (string, error) {
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	late := time.After(startPatience)
	for {
		if found := coachLink.FindStringSubmatch(p.output.String()); found != nil {
			return p.origin + "/" + found[1], nil
		}
		select {
		case <-tick.C:
		case <-late:
			return "", fmt.Errorf("the server printed no coach's link within %s", startPatience)
		}
	}
}

const (
	// startPatience is how long the server may take to be ready.
	startPatience = 20 * time.Second
	// stopPatience is a little more than the fifteen seconds in which the
	// server promises to be gone.
	stopPatience = 20 * time.Second
)

// buildProduct builds the binary once for all the servers of a chore.
func (s *shop) buildProduct(ctx context.Context) (binary string, remove func(), err error) {
	dir, err := os.MkdirTemp("", "halfline-build-")
	if err != nil {
		return "", nil, machine("build", err, "free the temporary folder")
	}
	remove = func() { os.RemoveAll(dir) }
	binary = filepath.Join(dir, "halfline")
	if err := s.quiet(ctx, "build", "mend what it names above", s.root, "go", "build", "-o", binary, "./cmd/halfline"); err != nil {
		remove()
		return "", nil, err
	}
	return binary, remove, nil
}

// startProduct starts a server and waits until it is ready.
func (s *shop) startProduct(ctx context.Context, binary string) (*product, error) {
	addr, err := freeAddress()
	if err != nil {
		return nil, machine("server", err, "free a port")
	}
	data, err := os.MkdirTemp("", "halfline-data-")
	if err != nil {
		return nil, machine("server", err, "free the temporary folder")
	}
	p := &product{origin: "http://" + addr, data: data, ended: make(chan error, 1)}
	p.cmd = s.command(ctx, data, binary, "serve", "--addr", addr, "--data", data)
	p.cmd.Stdout, p.cmd.Stderr = &p.output, &p.output
	if err := p.cmd.Start(); err != nil {
		os.RemoveAll(data)
		return nil, machine("server", err, "see that the binary runs")
	}
	go func() { p.ended <- p.cmd.Wait() }() // ends with the process, which stop sees to

	if err := p.ready(ctx); err != nil {
		stopErr := p.stop()
		fmt.Fprint(s.stdout, p.output.String())
		return nil, machine("server", errors.Join(err, stopErr), "see its output above")
	}
	return p, nil
}

// ready waits until /readyz says yes.
func (p *product) ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, startPatience)
	defer cancel()
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		req, err := http.NewRequestWithContext(ctx, http.MethodGet, p.origin+"/readyz", nil)
		if err != nil {
			return err
		}
		if resp, err := http.DefaultClient.Do(req); err == nil {
			resp.Body.Close()
			if resp.StatusCode == http.StatusOK {
				return nil
			}
		}
		select {
		case err := <-p.ended:
			p.ended <- err
			return fmt.Errorf("ended before it was ready: %w", err)
		case <-ctx.Done():
			return fmt.Errorf("not ready within %s", startPatience)
		case <-tick.C:
		}
	}
}

// stop ends the server as a service manager does and removes its data.
func (p *product) stop() error {
	if p.over {
		return nil
	}
	p.over = true
	defer os.RemoveAll(p.data)
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil && !errors.Is(err, os.ErrProcessDone) {
		return err
	}
	select {
	case err := <-p.ended:
		return err
	case <-time.After(stopPatience):
		err := p.cmd.Process.Kill()
		<-p.ended
		return errors.Join(fmt.Errorf("did not end within %s of being asked", stopPatience), err)
	}
}

// kill ends the server at once, as a power cut does. Stop is then not needed.
func (p *product) kill() error {
	p.over = true
	defer os.RemoveAll(p.data)
	err := p.cmd.Process.Kill()
	<-p.ended
	return err
}

// freeAddress is a local address that nobody listens on. Another program may
// take it before the server does; that is rare enough to run the chore again.
func freeAddress() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	return l.Addr().String(), nil
}
