package conn

import (
	"io"
	"net"
	"os"
	"sync"
	"time"
)

// pipe is a connection in memory with a small buffer each way, as the kernel
// has a large one. It blocks as a socket does, on what a fake clock can see.
func pipe(buffer int) (a, b *end) {
	ab, ba := newHalf(buffer), newHalf(buffer)
	return &end{in: ba, out: ab}, &end{in: ab, out: ba}
}

// half carries bytes one way.
type half struct {
	mu     sync.Mutex
	change *sync.Cond
	most   int
	data   []byte // guarded by mu, as all below
	ended  bool   // by the writer: what is there may still be read
	broken bool   // by the reader: nothing can be written any more

	readBy, writeBy time.Time
}

func newHalf(most int) *half {
	h := &half{most: most}
	h.change = sync.NewCond(&h.mu)
	return h
}

func (h *half) set(f func()) {
	h.mu.Lock()
	defer h.mu.Unlock()
	f()
	h.change.Broadcast()
}

// wakeAt makes those who wait look at the clock again.
func (h *half) wakeAt(t time.Time) {
	if !t.IsZero() {
		time.AfterFunc(time.Until(t), func() { h.set(func() {}) })
	}
}

func passed(t time.Time) bool { return !t.IsZero() && !time.Now().Before(t) }

// end is one end of a pipe.
type end struct{ in, out *half }

func (e *end) Read(b []byte) (int, error) {
	h := e.in
	h.mu.Lock()
	defer h.mu.Unlock()
	for {
		switch {
		case h.broken:
			return 0, net.ErrClosed
		case passed(h.readBy):
			return 0, os.ErrDeadlineExceeded
		case len(h.data) > 0:
			n := copy(b, h.data)
			h.data = h.data[n:]
			h.change.Broadcast()
			return n, nil
		case h.ended:
			return 0, io.EOF
		}
		h.change.Wait()
	}
}

func (e *end) Write(b []byte) (n int, err error) {
	h := e.out
	h.mu.Lock()
	defer h.mu.Unlock()
	for n < len(b) {
		switch {
		case h.ended:
			return n, net.ErrClosed
		case h.broken:
			return n, io.ErrClosedPipe
		case passed(h.writeBy):
			return n, os.ErrDeadlineExceeded
		case len(h.data) < h.most:
			take := min(h.most-len(h.data), len(b)-n)
			h.data = append(h.data, b[n:n+take]...)
			n += take
			h.change.Broadcast()
			continue
		}
		h.change.Wait()
	}
	return n, nil
}

func (e *end) Close() error {
	e.out.set(func() { e.out.ended = true })
	e.in.set(func() { e.in.broken = true })
	return nil
}

func (e *end) CloseWrite() error {
	e.out.set(func() { e.out.ended = true })
	return nil
}

func (e *end) SetReadDeadline(t time.Time) error {
	var closed bool
	e.in.set(func() { e.in.readBy, closed = t, e.in.broken })
	if closed {
		return net.ErrClosed
	}
	e.in.wakeAt(t)
	return nil
}

func (e *end) SetWriteDeadline(t time.Time) error {
	e.out.set(func() { e.out.writeBy = t })
	e.out.wakeAt(t)
	return nil
}

func (e *end) SetDeadline(t time.Time) error {
	if err := e.SetReadDeadline(t); err != nil {
		return err
	}
	return e.SetWriteDeadline(t)
}

func (e *end) LocalAddr() net.Addr  { return pipeAddr{} }
func (e *end) RemoteAddr() net.Addr { return pipeAddr{} }

type pipeAddr struct{}

func (pipeAddr) Network() string { return "pipe" }
func (pipeAddr) String() string  { return "pipe" }
