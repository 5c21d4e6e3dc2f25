package hub

import (
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

const (
	// keepRecent records stay in memory for resumes (D5, D7).
	keepRecent = 1024
	// tailMost facts of tailBytes in all are sent to a device that comes back;
	// behind further, it gets the state, which is smaller than so many facts.
	// An outbox holds twice that: one that the tail filled up would cut the
	// device off each time it came.
	tailMost  = 512
	tailBytes = 128 << 10
)

// enter makes sure that the device's member is in the session: coaches and
// walls come in by their token, players were made members when they joined.
func (o *owner) enter(l *Link, then func(error)) {
	_, in := o.shown.Members[l.member]
	switch {
	case o.book == nil: // created, its first record never written
		then(store.ErrNotFound)
		return
	case in:
		then(nil)
		return
	case l.role == session.Player:
		then(ErrRemoved)
		return
	}
	c, r := session.Join(&o.head, l.member, l.role)
	if r != nil {
		then(r)
		return
	}
	o.submit("join", c, 0, 0, func(_ uint64, err error) { then(err) })
}

// attach welcomes a device and puts it among the links.
func (o *owner) attach(l *Link, res *wire.Resume) error {
	if _, in := o.shown.Members[l.member]; !in || l.gone {
		return ErrRemoved
	}
	for other := range o.links {
		if other.client == l.client && other.member == l.member {
			o.drop(other, wire.CloseReplaced)
		}
	}
	o.links[l] = struct{}{}
	o.rosterDue = true
	o.welcome(l, res)
	return nil
}

// welcome sends what a device needs to be up to date: nothing but a word to one
// who waits to be let in.
func (o *owner) welcome(l *Link, res *wire.Resume) {
	m := o.shown.Members[l.member]
	w := wire.Welcome{V: wire.Version, Session: o.id, Member: l.member, Role: m.Role, Epoch: o.epoch,
		Seq: o.mark, Chain: hex16(o.markChain), Counter: o.clientOf(l.client).settled, T: o.now()}
	if !m.In {
		l.send(wire.Down{Welcome: &w}, "")
		return
	}
	l.let = true
	tail, ok := o.since(res)
	if ok {
		w.Seq, w.Chain = res.Have, res.Chain
	} else {
		st := o.shown.Clone()
		w.State = &st
	}
	l.send(wire.Down{Welcome: &w}, "")
	for _, p := range pack(tail, l.client) {
		l.sendRaw(framed(p), "")
	}
	o.sendVerdicts(l)
	o.sendRep(l)
}

// since gives the facts a device has missed, if it can go on from what it has:
// same epoch, same history, not too far behind (D5, D6).
func (o *owner) since(res *wire.Resume) ([]fact, bool) {
	if res == nil || res.Epoch != o.epoch || res.Have > o.mark || o.mark-res.Have > tailMost {
		return nil, false
	}
	if res.Have == o.mark {
		return nil, res.Chain == hex16(o.markChain)
	}
	first := o.mark - uint64(len(o.recent)) // seq before the oldest kept
	if res.Have <= first {
		return nil, false // its own record is gone, so its chain cannot be checked
	}
	if o.recent[res.Have-first-1].Chain != res.Chain {
		return nil, false
	}
	tail := o.recent[res.Have-first:]
	size := 0
	for _, f := range tail {
		size += len(f.raw)
	}
	if size > tailBytes {
		return nil, false
	}
	return tail, true
}
