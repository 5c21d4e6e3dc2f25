package conn

import (
	"crypto/tls"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"halfline/internal/wire"
)

// family is how the subprotocols of all versions begin.
const family = "halfline."

// Door turns requests into websockets. Compression stays off: a few bytes on
// the wire can become megabytes in memory.
type Door struct{ up websocket.Upgrader }

// NewDoor makes a door. originOK says which pages may connect; refuse answers a
// request that is not let in.
func NewDoor(originOK func(*http.Request) bool, refuse func(w http.ResponseWriter, status int)) *Door {
	return &Door{websocket.Upgrader{
		CheckOrigin: originOK, HandshakeTimeout: wire.HelloWithin,
		Error:          func(w http.ResponseWriter, _ *http.Request, status int, _ error) { refuse(w, status) },
		ReadBufferSize: 1024, WriteBufferSize: 1024, WriteBufferPool: &sync.Pool{},
	}}
}

// Accept upgrades a request, for Serve. nil: it has been answered. A page of
// another version gets its websocket, since a browser tells a page nothing of a
// refused one, and on it that this version is not spoken here.
func (d *Door) Accept(w http.ResponseWriter, r *http.Request) *websocket.Conn {
	offered := websocket.Subprotocols(r)
	spoken := wire.Subprotocol
	if !slices.Contains(offered, spoken) {
		i := slices.IndexFunc(offered, func(p string) bool { return strings.HasPrefix(p, family) })
		if i < 0 && websocket.IsWebSocketUpgrade(r) {
			d.up.Error(w, r, http.StatusBadRequest, nil)
			return nil
		}
		if i >= 0 {
			spoken = offered[i]
		}
	}
	ws, err := d.up.Upgrade(w, r, http.Header{"Sec-Websocket-Protocol": {spoken}})
	if err != nil {
		return nil // Upgrade has answered
	}
	if spoken != wire.Subprotocol {
		bye(ws, wire.CloseVersion, time.Now().Add(writeWithin))
		linger(ws)
		ws.Close()
		return nil
	}
	boundKernel(ws)
	return ws
}

// kernelMost bounds what the kernel takes in for a device that does not read, in
// bytes; left alone it takes megabytes (3.4 MiB measured), a minute of news.
const kernelMost = 64 << 10

func boundKernel(ws *websocket.Conn) {
	c := ws.NetConn()
	if secure, ok := c.(*tls.Conn); ok {
		c = secure.NetConn()
	}
	if socket, ok := c.(*net.TCPConn); ok {
		// Where it cannot be set, the outbox and the deadlines still hold.
		_ = socket.SetWriteBuffer(kernelMost)
	}
}

// ClosePolicy closes on a device that sends or connects far too much.
const ClosePolicy = websocket.ClosePolicyViolation
