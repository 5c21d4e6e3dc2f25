package conn

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
)

func TestMain(m *testing.M) {
	wiretest.Validator() // once, outside of any test's own time
	goleak.VerifyTestMain(m)
}

const goodHello = `{"hello":{"v":1,"token":"5f0c2b7a9d1e4c3886aa01f27d5be94410c3d672","client":"9a41c07e55d2f318"}}`

// hub is a Handler that notes what it is told.
type hub struct {
	refuse int                               // code for every hello; 0 lets it in
	hello  func(context.Context, *Out) error // replaces the above
	frame  func(*Out, wire.Up)

	mu     sync.Mutex
	out    *Out
	hellos []wire.Hello
	frames []wire.Up
	bad    []string
	gone   int
}

func (h *hub) Hello(ctx context.Context, hello wire.Hello, out *Out) (int, error) {
	h.mu.Lock()
	h.hellos, h.out = append(h.hellos, hello), out
	h.mu.Unlock()
	if h.hello != nil {
		return wire.CloseRestart, h.hello(ctx, out)
	}
	if h.refuse != 0 {
		return h.refuse, errors.New("not today")
	}
	return 0, nil
}

func (h *hub) Frame(up wire.Up) {
	h.mu.Lock()
	h.frames = append(h.frames, up)
	h.mu.Unlock()
	if h.frame != nil {
		h.frame(h.out, up)
	}
}

func (h *hub) BadFrame(detail string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.bad = append(h.bad, detail)
}

func (h *hub) Gone() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.gone++
}

// hubTime is the hub's time of every test.
func hubTime() int64 { return time.Now().UnixMilli() }

// hijacker gives a connection to an Upgrader without an HTTP server.
type hijacker struct {
	http.ResponseWriter // none: the request is always upgraded
	c                   net.Conn
}

func (h hijacker) Hijack() (net.Conn, *bufio.ReadWriter, error) {
	return h.c, bufio.NewReadWriter(bufio.NewReader(h.c), bufio.NewWriter(h.c)), nil
}

// device is the other end of a connection.
type device struct {
	t     *testing.T
	ws    *websocket.Conn
	ended chan struct{} // closed when Serve has returned
	stop  context.CancelFunc
	start time.Time
}

// buffered is how much a pipe holds each way.
const buffered = 64 << 10

// connect serves a connection in memory to a handler. In a synctest bubble time
// is fake.
func connect(t *testing.T, h Handler) *device {
	return connectVia(t, h, func(serve func()) { serve() })
}

// connectVia is connect with something around Serve.
func connectVia(t *testing.T, h Handler, around func(serve func())) *device {
	client, server := pipe(buffered)
	ctx, stop := context.WithCancel(context.Background())
	d := &device{t: t, ended: make(chan struct{}), stop: stop, start: time.Now()}
	go func() { // ends with the connection, waited for by whoever reads ended
		defer close(d.ended)
		r, err := http.ReadRequest(bufio.NewReader(server))
		if !assert.NoError(t, err) {
			return
		}
		door := NewDoor(func(*http.Request) bool { return true }, func(http.ResponseWriter, int) { t.Error("refused") })
		if ws := door.Accept(hijacker{c: server}, r); ws != nil {
			around(func() { Serve(ctx, ws, h, hubTime) })
		}
	}()
	u := &url.URL{Scheme: "ws", Host: "hub", Path: "/live"}
	//lint:ignore SA1019 a Dialer wants an address, and this end is a pipe
	ws, _, err := websocket.NewClient(client, u, http.Header{"Sec-Websocket-Protocol": {wire.Subprotocol}}, 1024, 1024)
	require.NoError(t, err)
	d.ws = ws
	return d
}

// welcome connects and says hello.
func welcome(t *testing.T, h Handler) *device {
	d := connect(t, h)
	d.say(goodHello)
	synctest.Wait()
	return d
}

// leave ends the connection as a device that goes away, and waits for the
// server's side to be through.
func (d *device) leave() {
	d.ws.Close()
	<-d.ended
	d.stop()
}

func (d *device) say(text string) {
	d.t.Helper()
	require.NoError(d.t, d.ws.WriteMessage(websocket.TextMessage, []byte(text)))
}

func (d *device) send(kind int, data []byte) {
	d.t.Helper()
	require.NoError(d.t, d.ws.WriteMessage(kind, data))
}

// piece sends one fragment of a message, or a whole one, as raw bytes (RFC 6455
// section 5.2): short, and masked with zeros.
func (d *device) piece(opcode byte, last bool, payload string) {
	d.t.Helper()
	if last {
		opcode |= 0x80
	}
	d.raw(append([]byte{opcode, 0x80 | byte(len(payload)), 0, 0, 0, 0}, payload...))
}

func (d *device) raw(b []byte) {
	d.t.Helper()
	_, err := d.ws.NetConn().Write(b)
	require.NoError(d.t, err)
}

// wait lets fake time pass.
func wait(d time.Duration) { <-time.After(d) }

// hear reads one frame.
func (d *device) hear() wire.Down {
	d.t.Helper()
	kind, data, err := d.ws.ReadMessage()
	require.NoError(d.t, err)
	require.Equal(d.t, websocket.TextMessage, kind)
	wiretest.Validator().Down(d.t, data)
	down, err := wire.DecodeDown(data)
	require.NoError(d.t, err)
	return down
}

// ending reads to the end: the frames, the word of bye, and the close code (0:
// it ended without one).
func (d *device) ending() (frames []wire.Down, bye string, code int) {
	d.t.Helper()
	return d.heard(wiretest.Validator().Down)
}

// lastWords is ending for a test whose frames are larger than the protocol's.
func (d *device) lastWords() (frames []wire.Down, bye string, code int) {
	d.t.Helper()
	return d.heard(func(wiretest.T, []byte) {})
}

func (d *device) heard(valid func(wiretest.T, []byte)) (frames []wire.Down, bye string, code int) {
	d.t.Helper()
	for {
		_, data, err := d.ws.ReadMessage()
		var ce *websocket.CloseError
		switch {
		case errors.As(err, &ce) && ce.Code != websocket.CloseAbnormalClosure:
			if ce.Code >= 4000 {
				assert.Equal(d.t, wire.ByeCode(ce.Code), ce.Text)
			}
			return frames, bye, ce.Code
		case err != nil:
			return frames, bye, 0
		}
		valid(d.t, data)
		down, err := wire.DecodeDown(data)
		require.NoError(d.t, err)
		require.Empty(d.t, bye, "bye is the last frame")
		if down.Bye != nil {
			bye = down.Bye.Code
			continue
		}
		frames = append(frames, down)
	}
}

// closedWith requires the end, its reason and how long after the start it came.
func (d *device) closedWith(code int, after time.Duration) {
	d.t.Helper()
	_, bye, got := d.ending()
	assert.Equal(d.t, code, got)
	assert.Equal(d.t, wire.ByeCode(code), bye)
	assert.Equal(d.t, after, time.Since(d.start))
	d.leave()
}

// bubble runs a test in fake time.
func bubble(t *testing.T, f func(t *testing.T)) {
	t.Helper()
	synctest.Test(t, f)
}

// note is a small frame of the hub that can be told from others.
func note(n int) []byte {
	return fmt.Appendf(nil, `{"acks":[{"n":%d,"seq":0,"epoch":"e"}]}`, n)
}
