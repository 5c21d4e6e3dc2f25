package web_test

import (
	"net"
	"sync"
)

// pipes is a network in memory, on which a fake clock can see who waits.
type pipes struct {
	in   chan net.Conn
	quit chan struct{}
	once sync.Once
}

func newPipes() *pipes { return &pipes{in: make(chan net.Conn), quit: make(chan struct{})} }

func (p *pipes) dial() (net.Conn, error) {
	here, there := net.Pipe()
	select {
	case p.in <- there:
		return here, nil
	case <-p.quit:
		return nil, net.ErrClosed
	}
}

func (p *pipes) Accept() (net.Conn, error) {
	select {
	case c := <-p.in:
		return c, nil
	case <-p.quit:
		return nil, net.ErrClosed
	}
}

func (p *pipes) Close() error {
	p.once.Do(func() { close(p.quit) })
	return nil
}

func (p *pipes) Addr() net.Addr { return pipeAddr{} }

type pipeAddr struct{}

func (pipeAddr) Network() string { return "pipe" }
func (pipeAddr) String() string  { return "127.0.0.1:80" }
