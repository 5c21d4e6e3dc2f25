package device

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"maps"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
)

// Device is one live connection, and what stays of it for the next. Its methods
// are for the test's own goroutine.
type Device struct {
	t     testing.TB
	hello wire.Hello
	n     uint64
	ops   map[uint64]wire.OpUp // not refused for good

	ws   *websocket.Conn
	done chan struct{} // closed when the reader has ended

	writing sync.Mutex // one writer at a time: the test, and answers to beats

	mu     sync.Mutex
	view   View          // guarded by mu
	change chan struct{} // guarded by mu; closed and made anew at each frame
}

// Open connects, says hello and waits to be welcomed. An empty hello.Client is
// made up.
func (b Browser) Open(hello wire.Hello) *Device {
	b.T.Helper()
	d := b.Dial(hello)
	d.Until("welcome", func(v *View) bool { return v.Welcomes > 0 })
	return d
}

// Dial is Open without waiting.
func (b Browser) Dial(hello wire.Hello) *Device {
	b.T.Helper()
	hello.V = wire.Version
	if hello.Client == "" {
		var r [8]byte
		_, _ = rand.Read(r[:]) // never fails
		hello.Client = hex.EncodeToString(r[:])
	}
	d := &Device{t: b.T, hello: hello, ops: map[uint64]wire.OpUp{}}
	d.view.Acks, d.view.Refused = map[uint64]wire.Ack{}, map[uint64]wire.Refused{}
	d.dial(b)
	b.T.Cleanup(d.Close)
	return d
}

// Again connects anew with what the device has, and sends again what the hub
// does not know of (W10).
func (d *Device) Again(b Browser) {
	d.t.Helper()
	d.Close()
	if d.view.State != nil {
		d.hello.Resume = &wire.Resume{Epoch: d.view.Welcome.Epoch, Have: d.view.Seq, Chain: d.view.Chain}
	}
	d.view.Over, d.view.Bye, d.view.Code, d.view.Facts = false, wire.Bye{}, 0, nil
	was := d.view.Welcomes
	d.dial(b)
	v := d.Until("welcome", func(v *View) bool { return v.Welcomes > was })
	next := v.Welcome.Counter
	for _, n := range slices.Sorted(maps.Keys(d.ops)) {
		if n <= v.Welcome.Counter {
			delete(d.ops, n)
			continue
		}
		next++
		up := d.ops[n]
		up.N = next
		delete(d.ops, n)
		d.ops[next] = up
		d.Send(wire.Up{Op: &up})
	}
	d.n = next
}

func (d *Device) dial(b Browser) {
	b.T.Helper()
	header := http.Header{"Origin": {b.Base}}
	maps.Copy(header, b.Header)
	dialer := &websocket.Dialer{Subprotocols: []string{wire.Subprotocol}, TLSClientConfig: b.TLS, HandshakeTimeout: patience, NetDialContext: b.dialContext()}
	ws, resp, err := dialer.Dial("ws"+strings.TrimPrefix(b.Base, "http")+"/live", header)
	if resp != nil && err != nil {
		require.NoError(b.T, err, resp.Status)
	}
	require.NoError(b.T, err)
	d.ws, d.done, d.change = ws, make(chan struct{}), make(chan struct{})
	go d.read() // ends with the connection; Close waits
	d.Send(wire.Up{Hello: &d.hello})
}

// Close goes away without a goodbye, as phones do. It may be called twice.
func (d *Device) Close() {
	d.ws.Close()
	<-d.done
}

func (d *Device) read() {
	defer close(d.done)
	for {
		_, data, err := d.ws.ReadMessage()
		if err != nil {
			var ce *websocket.CloseError
			d.update(func(v *View) {
				v.Over = true
				if errors.As(err, &ce) && ce.Code != websocket.CloseAbnormalClosure {
					v.Code = ce.Code
				}
			})
			return
		}
		wiretest.Validator().Down(d.t, data)
		down, err := wire.DecodeDown(data)
		if err == nil {
			d.update(func(v *View) { err = v.apply(down) })
		}
		if err != nil {
			d.t.Errorf("device of %s: %v", d.view.Welcome.Member, err)
			d.ws.Close()
			continue
		}
		if down.Beat != nil {
			d.Send(wire.Up{Beat: down.Beat})
		}
	}
}

func (d *Device) update(f func(*View)) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f(&d.view)
	close(d.change)
	d.change = make(chan struct{})
}

// View is what the device knows now.
func (d *Device) View() View {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.view.clone()
}

// Until waits until what the device knows is so, and gives it. f must not keep
// its argument.
func (d *Device) Until(what string, f func(*View) bool) View {
	d.t.Helper()
	end := time.NewTimer(patience)
	defer end.Stop()
	for {
		d.mu.Lock()
		ok, over, change := f(&d.view), d.view.Over, d.change
		v := d.view.clone()
		d.mu.Unlock()
		switch {
		case ok:
			return v
		case over:
			require.FailNow(d.t, "the connection ended", "while waiting until %s: bye %q, code %d", what, v.Bye.Code, v.Code)
		}
		select {
		case <-change:
		case <-end.C:
			require.FailNow(d.t, "waited in vain", "until %s: %+v", what, v)
		}
	}
}

// Over waits for the end of the connection.
func (d *Device) Over() View {
	d.t.Helper()
	return d.Until("the connection is over", func(v *View) bool { return v.Over })
}

// Send sends a frame that keeps the protocol. That the connection has gone
// meanwhile is no error.
func (d *Device) Send(up wire.Up) {
	d.t.Helper()
	b, err := wire.EncodeUp(up)
	require.NoError(d.t, err)
	wiretest.Validator().Up(d.t, b)
	d.Raw(string(b))
}

// Raw sends any text frame.
func (d *Device) Raw(text string) {
	d.writing.Lock()
	defer d.writing.Unlock()
	_ = d.ws.WriteMessage(websocket.TextMessage, []byte(text))
}

// Ask sends an operation and does not wait. It gives its number.
func (d *Device) Ask(op session.Op) uint64 {
	d.t.Helper()
	d.n++
	up := wire.OpUp{N: d.n, Base: d.View().Seq, Op: op}
	d.ops[d.n] = up
	d.Send(wire.Up{Op: &up})
	return d.n
}

// Do sends an operation and waits for its answer: an ack, or a refusal.
func (d *Device) Do(op session.Op) (wire.Ack, *wire.Refused) {
	d.t.Helper()
	n := d.Ask(op)
	v := d.Until(op.Do+" is answered", func(v *View) bool {
		_, acked := v.Acks[n]
		_, refused := v.Refused[n]
		return acked || refused
	})
	r, refused := v.Refused[n]
	if !refused {
		return v.Acks[n], nil
	}
	if r.Code == wire.CodeGap || r.Code == wire.CodeStorage || r.Code == wire.CodeSlowDown {
		d.n-- // W9: the number is not used up
		d.update(func(v *View) { delete(v.Refused, n) })
	}
	delete(d.ops, n)
	return wire.Ack{}, &r
}

// Must is Do for what must not be refused.
func (d *Device) Must(op session.Op) wire.Ack {
	d.t.Helper()
	ack, refused := d.Do(op)
	require.Nil(d.t, refused, "%+v", op)
	return ack
}

// Refused is Do for what must be refused.
func (d *Device) Refused(op session.Op) wire.Refused {
	d.t.Helper()
	_, refused := d.Do(op)
	require.NotNil(d.t, refused, "%+v", op)
	return *refused
}
