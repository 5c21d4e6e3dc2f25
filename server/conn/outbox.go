package conn

import (
	"sync"
	"time"

	"halfline/internal/wire"
)

// outboxMost bounds what waits for one device in bytes; a device that falls
// further behind is cut off and comes back with a resume.
const outboxMost = 256 << 10

// outbox holds frames that wait for the writer. A frame with a key takes the
// place of an unsent one with that key, at the end of the queue.
type outbox struct {
	mu    sync.Mutex
	queue []frame   // guarded by mu
	bytes int       // guarded by mu
	code  int       // guarded by mu; 0 until closed
	until time.Time // guarded by mu; once closed, all is to be written by then
	wake  chan struct{}
}

type frame struct {
	data []byte
	key  string
}

func newOutbox() *outbox { return &outbox{wake: make(chan struct{}, 1)} }

func (o *outbox) signal() {
	select {
	case o.wake <- struct{}{}:
	default:
	}
}

// put queues a frame; false when the outbox is closed or full.
func (o *outbox) put(data []byte, key string) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.code != 0 {
		return false
	}
	if key != "" {
		for i := range o.queue {
			if o.queue[i].key == key {
				o.bytes -= len(o.queue[i].data)
				o.queue = append(o.queue[:i], o.queue[i+1:]...)
				break
			}
		}
	}
	if o.bytes+len(data) > outboxMost {
		return false
	}
	o.queue = append(o.queue, frame{data, key})
	o.bytes += len(data)
	o.signal()
	return true
}

// close makes the writer send what waits by a point in time, then close with a
// code. The first code stays. A device that is too slow is not sent what waits:
// it comes back and resumes.
func (o *outbox) close(code int, until time.Time) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.code != 0 {
		return
	}
	o.code, o.until = code, until
	if code == wire.CloseSlow {
		o.queue, o.bytes = nil, 0
	}
	o.signal()
}

func (o *outbox) closed() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.code != 0
}

// next takes off the frame to be sent next, nil if none waits, and tells the
// code if the outbox is closed. One at a time: what waits can still be replaced.
func (o *outbox) next() (data []byte, code int, until time.Time) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if len(o.queue) > 0 {
		data = o.queue[0].data
		o.queue[0] = frame{}
		o.queue = o.queue[1:]
		o.bytes -= len(data)
	}
	return data, o.code, o.until
}
