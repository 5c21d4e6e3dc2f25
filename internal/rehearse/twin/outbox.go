package twin

import (
	"slices"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// What an entry's Seq says while it is not acknowledged.
const (
	Waits   = -1 // not with the hub, as far as we know
	Counted = -2 // the hub counts it, but has not answered
)

// MostDone acknowledged operations are remembered, for W20.
const MostDone = 256

// Entry is one operation of this device.
type Entry struct {
	N, Base uint64
	Op      session.Op
	Seq     int64 // the fact it became, 0 if it changed nothing; below 0 it is not acknowledged
}

func (e Entry) up() wire.OpUp { return wire.OpUp{N: e.N, Base: e.Base, Op: e.Op} }

// outbox numbers operations and keeps them until the hub has them on stable
// storage, and some of them after.
type outbox struct {
	epoch string // in which the operations were acknowledged
	next  uint64
	kept  []Entry
}

func (o *outbox) add(op session.Op, base uint64) Entry {
	e := Entry{N: o.next, Base: base, Op: op, Seq: Waits}
	o.next++
	o.kept = append(o.kept, e)
	return e
}

func (o *outbox) waiting() []Entry {
	var out []Entry
	for _, e := range o.kept {
		if e.Seq == Waits {
			out = append(out, e)
		}
	}
	return out
}

// welcomed takes the hub's count of our operations and gives those to be sent
// again: what is above the count was never applied, so it may be numbered anew.
// Acknowledged ones go again only in another epoch (W10, W20).
func (o *outbox) welcomed(counter uint64, epoch string) []Entry {
	lesser := o.epoch != "" && o.epoch != epoch
	o.epoch = epoch
	var old, again []Entry
	n := counter
	for _, e := range o.kept {
		switch {
		case e.N <= counter:
			if e.Seq == Waits {
				e.Seq = Counted
			}
			old = append(old, e)
		case e.Seq < 0 || lesser && e.Seq > 0:
			n++
			again = append(again, Entry{N: n, Base: e.Base, Op: e.Op, Seq: Waits})
		}
	}
	o.next = n + 1
	o.kept = append(old, again...)
	return again
}

func (o *outbox) acked(n, seq uint64) {
	done := 0
	for i, e := range o.kept {
		if e.N == n && e.Seq < 0 {
			o.kept[i].Seq = int64(seq)
		}
		if o.kept[i].Seq >= 0 {
			done++
		}
	}
	if done > MostDone {
		o.kept = slices.Delete(o.kept, 0, done-MostDone)
	}
}

// refused takes an operation out; false if nothing was waiting under n.
func (o *outbox) refused(n uint64) bool {
	i := slices.IndexFunc(o.kept, func(e Entry) bool { return e.N == n && e.Seq < 0 })
	if i < 0 {
		return false
	}
	o.kept = slices.Delete(o.kept, i, i+1)
	return true
}
