package conn

import "sync"

// outboxMost bounds what waits for one device in bytes; a device that falls
// further behind is cut off and comes back with a resume.
const outboxMost = 256 << 10

// outbox holds frames that wait for the writer. A frame with a key takes the
// place of an unsent one with that key, at the end of the queue.
type outbox struct {
	mu    sync.Mutex
	queue []frame // guarded by mu
	bytes int     // guarded by mu
	code  int     // guarded by mu; 0 until closed
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

// close makes the writer send what waits, then close with a code. The first
// code stays.
func (o *outbox) close(code int) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.code == 0 {
		o.code = code
	}
	o.signal()
}

// take gives all that waits, and the code if the outbox is closed.
func (o *outbox) take() ([]frame, int) {
	o.mu.Lock()
	defer o.mu.Unlock()
	q := o.queue
	o.queue, o.bytes = nil, 0
	return q, o.code
}
