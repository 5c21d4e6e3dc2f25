package main

import (
	"bufio"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// oneConn is a listener that hands out one connection in memory.
type oneConn struct {
	c    chan net.Conn
	quit chan struct{}
}

func (l oneConn) Accept() (net.Conn, error) {
	select {
	case c := <-l.c:
		return c, nil
	case <-l.quit:
		return nil, net.ErrClosed
	}
}

func (l oneConn) Close() error   { return nil }
func (l oneConn) Addr() net.Addr { return &net.UnixAddr{Name: "memory"} }

// guest talks to a server with the product's limits in fake time, and says what
// it was answered first and when the connection ended.
func guest(t *testing.T, talk func(io.Writer)) (answer string, ended time.Duration) {
	synctest.Test(t, func(t *testing.T) {
		here, there := net.Pipe()
		l := oneConn{c: make(chan net.Conn, 1), quit: make(chan struct{})}
		l.c <- there
		read := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if _, err := io.ReadAll(r.Body); err != nil {
				w.WriteHeader(http.StatusBadRequest)
				return
			}
			fmt.Fprint(w, "done")
		})
		hs := httpServer(read, slog.New(slog.DiscardHandler))
		go func() { _ = hs.Serve(l) }() // ends when it is closed
		began := time.Now()
		var talking sync.WaitGroup
		talking.Go(func() { talk(here) }) // ends when the connection does
		in := bufio.NewReader(here)
		answer, _ = in.ReadString('\n') // nothing, if it ends without an answer
		_, err := io.Copy(io.Discard, in)
		require.NoError(t, err)
		ended = time.Since(began)
		close(l.quit)
		require.NoError(t, hs.Close())
		here.Close()
		talking.Wait()
	})
	return strings.TrimSpace(answer), ended
}

func TestGuestsAreBounded(t *testing.T) {
	trickle := func(w io.Writer, text string) {
		for i := range text {
			if _, err := io.WriteString(w, text[i:i+1]); err != nil {
				return
			}
			<-time.After(time.Second)
		}
	}
	long := strings.Repeat("x", 1000)
	for name, c := range map[string]struct {
		talk   func(io.Writer)
		answer string
		ended  time.Duration
	}{
		"silence":          {func(io.Writer) {}, "", 5 * time.Second},
		"a byte a second":  {func(w io.Writer) { trickle(w, "GET / HTTP/1.1\r\nHost: a\r\n\r\n") }, "HTTP/1.1 400 Bad Request", 5 * time.Second},
		"a body in pieces": {func(w io.Writer) { postSlowly(w) }, "HTTP/1.1 400 Bad Request", 10 * time.Second},
		"one request": {func(w io.Writer) { _, _ = io.WriteString(w, "GET / HTTP/1.1\r\nHost: a\r\n\r\n") }, "HTTP/1.1 200 OK",
			60 * time.Second},
		"a header too long": {func(w io.Writer) {
			_, _ = io.WriteString(w, "GET / HTTP/1.1\r\nHost: a\r\n"+strings.Repeat("X: "+long+"\r\n", 17)+"\r\n")
		}, "HTTP/1.1 431 Request Header Fields Too Large", 500 * time.Millisecond},
	} {
		t.Run(name, func(t *testing.T) {
			answer, ended := guest(t, c.talk)
			assert.Equal(t, c.answer, answer)
			assert.Equal(t, c.ended, ended)
		})
	}
}

func postSlowly(w io.Writer) {
	_, err := io.WriteString(w, "POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 1000\r\n\r\n")
	for err == nil {
		_, err = io.WriteString(w, "x")
		<-time.After(time.Second)
	}
}
