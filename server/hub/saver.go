package hub

import (
	"context"
	"errors"
	"fmt"
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
	// snapEvery records a snapshot is made.
	snapEvery = 256
)

// save does the store's work, one job at a time, and reports to the owner. It
// touches none of the owner's changing fields. It ends when the owner closes
// saves.
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
			o.post(func() { o.snapped(err) })
		default:
			err := o.store.Append(ctx, o.id, o.fence, job.recs)
			o.post(func() { o.saved(err) })
		}
		cancel()
	}
}

// snapped goes on after a snapshot. One that was not kept is made again when as
// many records have come: a load reads a longer tail until then.
func (o *owner) snapped(err error) {
	o.snapping = false
	if err != nil {
		o.log.Warn("snapshot not kept", "seq", o.snapAt, "err", err)
	}
	o.next()
}

// saved moves the durable mark over the records that were flying, or deals with
// a store that did not take them.
func (o *owner) saved(err error) {
	flown := o.flying
	o.flying = nil
	if err != nil {
		o.failed(flown, err)
		return
	}
	facts := make([]fact, 0, len(flown))
	for _, p := range flown {
		facts = append(facts, o.settle(p.rec, p.change))
	}
	o.publish(facts)
	for _, p := range flown {
		p.tell(nil)
	}
	o.next()
}

// next gives the saver its next job: records first, a snapshot when it is due.
func (o *owner) next() {
	if len(o.flying) > 0 || o.snapping || o.trouble {
		return
	}
	if o.mark-o.snapAt >= snapEvery && len(o.waiting) == 0 {
		s, err := o.snapshot()
		if err == nil {
			o.snapAt, o.snapping = o.mark, true
			o.saves <- saveJob{snap: &s}
			return
		}
		o.log.Error("snapshot not made", "err", err)
	}
	o.flush()
}

// failed drops what was not acknowledged: its outcome is unknown or it was not
// written. Devices keep it and send it again; the store is asked what it has
// (D1, D13).
func (o *owner) failed(flown []*pending, err error) {
	lost := append(flown, o.waiting...)
	o.waiting = nil
	o.trouble = true
	o.rewind()
	for _, p := range lost {
		p.tell(store.ErrReadOnly)
	}
	o.unplace()
	if o.over(err) {
		return
	}
	o.log.Error("store does not take writes", "err", err)
	o.saves <- saveJob{reload: true}
}

// over ends the owner if the session is not his any more. Whoever comes back
// finds the new owner, here or elsewhere (D8).
func (o *owner) over(err error) bool {
	switch {
	case errors.Is(err, store.ErrStale):
		o.endWith = wire.CloseStale
	case errors.Is(err, store.ErrNotFound):
		o.endWith = wire.CloseNoSession
	default:
		return false
	}
	o.log.Warn("session is not ours any more", "err", err)
	return true
}

// reloaded continues after trouble: what did reach the store is shown now.
func (o *owner) reloaded(l store.Loaded, err error) {
	if err == nil {
		err = o.catchUp(l)
	}
	switch {
	case err == nil:
		o.trouble = false
		o.log.Info("store takes writes again", "seq", o.mark)
		o.next()
	case o.over(err):
	default:
		time.AfterFunc(reloadEvery, func() { // ends with post
			o.post(func() { o.saves <- saveJob{reload: true} }) // room is certain: in trouble there is no other job
		})
	}
}

// catchUp settles records that reached the store though their answer did not.
// A history that does not go on from what is shown belongs to somebody else.
func (o *owner) catchUp(l store.Loaded) error {
	var facts []fact
	last := uint64(0)
	if l.Snapshot != nil {
		last = l.Snapshot.Seq
	}
	for _, r := range l.Tail {
		last = r.Seq
		if r.Seq <= o.mark {
			continue
		}
		if err := store.Follows(o.mark, o.markChain, r); err != nil {
			return err
		}
		c, err := changeOf(r)
		if err != nil {
			return err
		}
		facts = append(facts, o.settle(r, c))
	}
	if l.Epoch != o.epoch || last < o.mark {
		return fmt.Errorf("epoch %s to seq %d, shown are %s to %d: %w", l.Epoch, last, o.epoch, o.mark, store.ErrStale)
	}
	o.rewind()
	if len(facts) > 0 {
		o.publish(facts)
	}
	return nil
}
