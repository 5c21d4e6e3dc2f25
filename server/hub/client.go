package hub

import (
	"slices"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// client is what is known of one device's operations (D4).
//
//	1 ... settled   have their final answer: a fact, nothing to change, a refusal
//	... decided     decided on head, answered when that is durable
type client struct {
	last    lastDone       // the last one that became a fact; kept with the snapshots
	settled uint64         // at least last.N
	decided uint64         // at least settled
	refused []wire.Refused // the latest final refusals, oldest first
}

// refusedMost refusals are remembered for a repeat, which is as many operations
// as a device may send without waiting for answers.
const refusedMost = wire.CoachOpsBurst

// clientOf finds or begins what is known of a device.
func (o *owner) clientOf(id uint64) *client {
	c := o.clients[id]
	if c == nil {
		c = &client{}
		o.clients[id] = c
	}
	return c
}

// became notes that operation n is durable as a fact.
func (c *client) became(n, seq uint64) {
	c.last = lastDone{N: n, Seq: seq}
	c.settled = max(c.settled, n)
	c.decided = max(c.decided, n)
}

// refuse notes a final refusal.
func (c *client) refuse(r wire.Refused) {
	if len(c.refused) == refusedMost {
		c.refused = slices.Delete(c.refused, 0, 1)
	}
	c.refused = append(c.refused, r)
}

// again is the first answer to operation n, which is settled. Seq is 0 for what
// changed nothing, and for facts so old that only the log holds them: no device
// waits for those.
func (o *owner) again(id uint64, c *client, n uint64) wire.Down {
	if i := slices.IndexFunc(c.refused, func(r wire.Refused) bool { return r.N == n }); i >= 0 {
		return wire.Down{Refused: c.refused[i : i+1]}
	}
	a := wire.Ack{N: n, Epoch: o.epoch}
	if n == c.last.N {
		a.Seq = c.last.Seq
	}
	for _, f := range slices.Backward(o.recent) {
		if a.Seq == 0 && f.by == id && f.n == n {
			a.Seq = f.Seq
		}
	}
	return wire.Down{Acks: []wire.Ack{a}}
}

// forgetClient drops what is known of a device that has changed nothing yet, so
// that making up ids fills no memory: it begins anew when it comes back.
func (o *owner) forgetClient(id uint64) {
	if c := o.clients[id]; c != nil && c.last.N == 0 && c.decided == c.settled {
		delete(o.clients, id)
	}
}

// op decides a device's operation. Each counts once: a repeat gets its first
// answer, a jump ahead is refused (D4).
func (o *owner) op(l *Link, up wire.OpUp) {
	if l.gone {
		return
	}
	c := o.clientOf(l.client)
	switch {
	case up.N == 0:
		l.refuse(wire.Refused{Code: wire.CodeBadFrame, Detail: "op.n: counts from 1"})
		return
	case up.N <= c.settled:
		l.send(o.again(l.client, c, up.N), "")
		return
	case up.N <= c.decided:
		return // its answer is on the way
	case up.N > c.decided+1:
		l.refuse(wire.Refused{N: up.N, Code: wire.CodeGap})
		return
	case o.trouble:
		l.refuse(wire.Refused{N: up.N, Code: wire.CodeStorage, RetryMS: retryMS})
		return
	}
	who := o.actor(l.member)
	who.Other = o.people[up.Op.Member].Number
	change, r := session.Decide(&o.head, o.book, who, up.Op)
	c.decided = up.N
	if r == nil && !change.Empty() {
		if up.Op.Do == "place" {
			o.placing(up.Op.Who, *up.Op.At)
		}
		o.submit(up.Op.Do, change, l.client, up.N, func(seq uint64, err error) {
			o.answer(l, wire.Down{Acks: []wire.Ack{{N: up.N, Seq: seq, Epoch: o.epoch}}}, up.N, err)
		})
		return
	}
	o.whenDurable(func(err error) {
		d := wire.Down{Acks: []wire.Ack{{N: up.N, Epoch: o.epoch}}}
		if r != nil {
			d = wire.Down{Refused: []wire.Refused{{N: up.N, Code: r.Code, Detail: r.Detail}}}
		}
		if err == nil {
			c.settled = up.N
			if r != nil {
				c.refuse(d.Refused[0])
			}
		}
		o.answer(l, d, up.N, err)
	})
}

// answer sends the answer to an operation to the device that sent it, by
// whatever connection it has when the answer is there.
func (o *owner) answer(l *Link, d wire.Down, n uint64, err error) {
	if l.gone {
		l = o.linkOf(l.client, l.member)
	}
	switch {
	case l == nil:
	case err != nil:
		l.refuse(wire.Refused{N: n, Code: wire.CodeStorage, RetryMS: retryMS})
	default:
		l.send(d, "")
	}
}

func (l *Link) refuse(r wire.Refused) { l.send(wire.Down{Refused: []wire.Refused{r}}, "") }

func (o *owner) actor(member string) session.Actor {
	return session.Actor{Member: member, Number: o.people[member].Number, Now: o.now()}
}

func (o *owner) linkOf(client uint64, member string) *Link {
	for l := range o.links {
		if l.client == client && l.member == member {
			return l
		}
	}
	return nil
}
