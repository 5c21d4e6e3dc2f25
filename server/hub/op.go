package hub

import (
	"slices"
	"time"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// op decides a device's operation. Each counts once: a repeat gets its first
// answer, a jump ahead is refused (D4).
func (o *owner) op(l *Link, up wire.OpUp) {
	if l.gone {
		return
	}
	client := hex16(l.client)
	last := o.headDone[client]
	switch {
	case up.N <= last:
		if d := o.shownDone[client]; up.N <= d.N {
			a := wire.Ack{N: up.N, Epoch: o.epoch}
			if up.N == d.N {
				a.Seq = d.Seq
			} else {
				a.Seq = o.seqOf(client, up.N)
			}
			l.send(wire.Down{Acks: []wire.Ack{a}}, "")
		}
		return // decided, not yet durable: its answer is on the way
	case up.N > last+1:
		l.refuse(wire.Refused{N: up.N, Code: wire.CodeGap})
		return
	case o.trouble:
		l.refuse(wire.Refused{N: up.N, Code: wire.CodeStorage, RetryMS: retryMS})
		return
	}
	c, r := session.Decide(&o.head, o.book, o.actor(l.member), up.Op)
	if r != nil {
		o.headDone[client] = up.N
		l.refuse(wire.Refused{N: up.N, Code: r.Code, Detail: r.Detail})
		return
	}
	if up.Op.Do == "place" {
		delete(o.drags, up.Op.Who)
	}
	if c.Empty() {
		o.headDone[client] = up.N
		l.send(wire.Down{Acks: []wire.Ack{{N: up.N, Epoch: o.epoch}}}, "")
		return
	}
	// The answer goes to the device that sent it, by whatever connection it has
	// when the answer is there.
	o.submit(up.Op.Do, c, l.client, up.N, func(seq uint64, err error) {
		to := o.linkOf(l.client, l.member)
		if to == nil {
			return
		}
		if err != nil {
			to.refuse(refusalOf(up.N, err))
			return
		}
		to.send(wire.Down{Acks: []wire.Ack{{N: up.N, Seq: seq, Epoch: o.epoch}}}, "")
	})
}

func (l *Link) refuse(r wire.Refused) { l.send(wire.Down{Refused: []wire.Refused{r}}, "") }

func (o *owner) actor(member string) session.Actor {
	return session.Actor{Member: member, Number: o.people[member].Number}
}

// seqOf finds the fact of an older operation of a client; 0 if it is no longer
// among the recent ones or changed nothing.
func (o *owner) seqOf(client string, n uint64) uint64 {
	for _, f := range slices.Backward(o.recent) {
		if f.Client == client && f.N == n {
			return f.Seq
		}
	}
	return 0
}

func (o *owner) linkOf(client uint64, member string) *Link {
	for l := range o.links {
		if l.client == client && l.member == member {
			return l
		}
	}
	return nil
}

// drag is a man under a finger.
type drag struct {
	at   session.Place
	by   string
	last time.Time
}

// drag moves a man for the eyes of all, without making it durable.
func (o *owner) drag(l *Link, d wire.Drag) {
	if l.gone || o.book == nil || session.MayDrag(&o.head, o.book, o.actor(l.member), d.Who, d.At) != nil {
		return
	}
	o.drags[d.Who] = drag{at: d.At, by: l.member, last: time.Now()}
	o.timer.Reset(wire.DragQuiet)
	d.By = l.member
	o.judge()
	o.fanOutDrag(l, d)
}

// quietDrags commits drags that nobody has moved for a while: the finger has
// gone without a word.
func (o *owner) quietDrags(now time.Time) {
	for _, who := range sortedKeys(o.drags) {
		if d := o.drags[who]; now.Sub(d.last) >= wire.DragQuiet {
			o.commitDrag(who, d)
		}
	}
	if len(o.drags) > 0 {
		o.timer.Reset(wire.DragQuiet / 2)
	}
}

func (o *owner) commitDrag(who string, d drag) {
	delete(o.drags, who)
	at := d.at
	c, r := session.Decide(&o.head, o.book, o.actor(d.by), session.Op{Do: "place", Who: who, At: &at})
	if r != nil || c.Empty() {
		return
	}
	o.submit("place", c, 0, 0, nil)
}

func (o *owner) point(l *Link, p wire.Point) {
	if l.gone || o.shown.Members[l.member].Role != session.Coach {
		return
	}
	p.By = l.member
	o.each(func(to *Link) {
		if to != l && to.let {
			to.send(wire.Down{Points: []wire.Point{p}}, "point")
		}
	})
}

// forget takes a link off; what its member dragged stays where it was.
func (o *owner) forget(l *Link) {
	if l.gone {
		return
	}
	l.gone = true
	delete(o.links, l)
	for _, who := range sortedKeys(o.drags) {
		if d := o.drags[who]; d.by == l.member {
			o.commitDrag(who, d)
		}
	}
	o.sendRoster()
}

// drop closes a link with a code.
func (o *owner) drop(l *Link, code int) {
	if l.gone {
		return
	}
	l.out.Close(code)
	l.gone = true
	delete(o.links, l)
}

func (o *owner) closeAll(code int) {
	o.each(func(l *Link) { o.drop(l, code) })
}
