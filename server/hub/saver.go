package hub

import (
	"context"
	"errors"
	"time"

	"halfline/internal/wire"
	"halfline/server/store"
)

// saveJob is work for the saver: records to append, or a snapshot to keep, or a
// reload after trouble.
type saveJob struct {
	recs   []store.Record
	snap   *store.Snapshot
	reload bool
}

const (
	// saveWithin: a store that takes longer has an unknown outcome.
	saveWithin = 5 * time.Second
	// reloadEvery is the pause between tries to find out after trouble.
	reloadEvery = 500 * time.Millisecond
	// retryMS asks devices to send an operation again after trouble.
	retryMS = 1000
)

// save does the store's work, one job at a time, and reports to the owner. It
// touches none of the owner's fields. It ends when the owner closes saves.
func (o *owner) save() {
	for job := range o.saves {
		ctx, cancel := context.WithTimeout(context.Background(), saveWithin)
		switch {
		case job.reload:
			l, err := o.store.Load(ctx, o.id)
			if err == nil {
				err = o.store.Ready(ctx)
			}
			o.post(func() { o.reloaded(l, err) })
		case job.snap != nil:
			err := o.store.PutSnapshot(ctx, o.id, o.fence, *job.snap)
			if err != nil {
				o.log.Warn("snapshot not kept", "seq", job.snap.Seq, "err", err)
			}
			o.post(o.saverFree)
		default:
			err := o.store.Append(ctx, o.id, o.fence, job.recs)
			o.post(func() { o.saved(err) })
		}
		cancel()
	}
}

// saverFree: the saver has nothing to report but that it can go on.
func (o *owner) saverFree() { o.snapping = false; o.next() }

// saved moves the durable mark over the records that were flying, or deals with
// a store that did not take them.
func (o *owner) saved(err error) {
	flown := o.flying
	o.flying = nil
	if err != nil {
		o.failed(flown, err)
		return
	}
	facts := make([]wire.Fact, 0, len(flown))
	for _, w := range flown {
		facts = append(facts, o.settle(w.rec, w.change))
	}
	o.publish(facts)
	for _, w := range flown {
		if w.done != nil {
			w.done(w.rec.Seq, nil)
		}
	}
	o.next()
}

// next gives the saver its next job: records first, a snapshot when it is due.
func (o *owner) next() {
	if len(o.flying) > 0 || o.snapping || o.trouble {
		return
	}
	if o.mark-o.snapAt >= snapEvery && len(o.waiting) == 0 {
		if s, err := o.snapshot(); err == nil {
			o.snapAt, o.snapping = o.mark, true
			o.saves <- saveJob{snap: &s}
			return
		}
	}
	o.flush()
}

// failed drops what was not acknowledged: its outcome is unknown or it was not
// written. Devices keep it and send it again; the store is asked what it has
// (D1, D13).
func (o *owner) failed(flown []waitingOp, err error) {
	o.log.Error("store does not take writes", "err", err)
	lost := append(flown, o.waiting...)
	o.waiting = nil
	o.rewind()
	for _, w := range lost {
		if w.done != nil {
			w.done(0, store.ErrReadOnly)
		}
	}
	if errors.Is(err, store.ErrStale) {
		o.closeAll(wire.CloseStale)
	}
	o.trouble = true
	o.saves <- saveJob{reload: true}
}

// reloaded continues after trouble: what did reach the store is shown now.
func (o *owner) reloaded(l store.Loaded, err error) {
	if err == nil {
		err = o.catchUp(l)
	}
	if err != nil {
		time.AfterFunc(reloadEvery, func() { // ends by itself; after a stop, post drops it
			o.post(func() {
				if o.trouble {
					select {
					case o.saves <- saveJob{reload: true}:
					default:
					}
				}
			})
		})
		return
	}
	o.trouble = false
	o.log.Info("store takes writes again", "seq", o.mark)
	o.next()
}

// catchUp settles records that reached the store though their answer did not.
func (o *owner) catchUp(l store.Loaded) error {
	var facts []wire.Fact
	for _, r := range l.Tail {
		if r.Seq <= o.mark {
			continue
		}
		if err := o.replay(r); err != nil {
			return err
		}
		facts = append(facts, o.recent[len(o.recent)-1])
	}
	o.rewind()
	if len(facts) > 0 {
		o.publish(facts)
	}
	return nil
}
