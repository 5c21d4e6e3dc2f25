package hub

import (
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// batchMost records go to the store at once.
const batchMost = 64

// pending is a decided operation on its way to the store.
type pending struct {
	rec    store.Record
	change session.Change
	told   []func(seq uint64, err error) // in the order of decision
}

func (p *pending) tell(err error) {
	seq := p.rec.Seq
	if err != nil {
		seq = 0
	}
	for _, f := range p.told {
		f(seq, err)
	}
}

// submit makes a change part of head and sends it to the store. done (may be
// nil) is told when it is durable, or that it will not be.
func (o *owner) submit(kind string, c session.Change, by, n uint64, done func(uint64, error)) {
	fail := func(err error) {
		if done != nil {
			done(0, err)
		}
	}
	if o.trouble {
		fail(store.ErrReadOnly)
		return
	}
	data, err := wire.EncodeBody(c)
	if err != nil {
		fail(err)
		return
	}
	r := store.Record{Seq: o.seq + 1, Fence: o.fence, Client: by, Counter: n, Kind: kind, Data: data}
	r.Chain = store.NextChain(o.chain, r)
	o.head.Apply(c)
	o.seq, o.chain = r.Seq, r.Chain
	p := &pending{rec: r, change: c}
	if done != nil {
		p.told = append(p.told, done)
	}
	o.waiting = append(o.waiting, p)
	o.flush()
}

// whenDurable calls f when all that is decided so far is durable, with an error
// if it will not be. An answer that rests on head waits for that, even if it
// says that nothing is to be changed or may not be: what it rests on could
// still be lost (D1, D2).
func (o *owner) whenDurable(f func(error)) {
	last := o.flying
	if len(o.waiting) > 0 {
		last = o.waiting
	}
	if len(last) == 0 {
		f(nil)
		return
	}
	p := last[len(last)-1]
	p.told = append(p.told, func(_ uint64, err error) { f(err) })
}

// flush gives the saver what waits, if it is free.
func (o *owner) flush() {
	if len(o.flying) > 0 || o.snapping || o.trouble || len(o.waiting) == 0 {
		return
	}
	n := min(len(o.waiting), batchMost)
	o.flying, o.waiting = o.waiting[:n:n], o.waiting[n:]
	job := saveJob{}
	for _, p := range o.flying {
		job.recs = append(job.recs, p.rec)
	}
	o.saves <- job // room is certain: one job at a time, capacity one
}

// rewind makes head what is shown: at the start, and when the store failed.
func (o *owner) rewind() {
	o.head = o.shown.Clone()
	o.seq, o.chain = o.mark, o.markChain
	for _, c := range o.clients {
		c.decided = c.settled
	}
}
