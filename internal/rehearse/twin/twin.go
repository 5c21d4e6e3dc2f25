package twin

import (
	"fmt"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// Twin is one device.
type Twin struct {
	// fixed at construction
	client string

	// What the hub has confirmed.
	Session, Member, Role string
	Epoch, Chain          string
	Seq                   uint64
	State                 *session.State // nil: not let in yet, or new
	// What passes.
	Drags    map[string]wire.Drag
	Verdicts *wire.Verdicts
	Track    *wire.Track // of the rep that is shown
	Roster   wire.Roster
	Points   []wire.Point

	out outbox
}

// New is a device with its own random id, 16 hex digits.
func New(client string) *Twin {
	return &Twin{client: client, Drags: map[string]wire.Drag{}, out: outbox{next: 1}}
}

// News is what a frame asks of whoever drives the twin.
type News struct {
	Welcomed bool
	Send     []wire.OpUp    // to be sent now, in order
	RetryMS  int            // send Waiting again after so long; 0: no need
	Gap      bool           // counts differ: unless a retry is due, connect again
	Refused  []wire.Refused // final
	Beat     *wire.Beat     // to be answered
	Bye      string
}

// Hello is the first frame of the next connection, but for its token.
func (t *Twin) Hello() wire.Hello {
	h := wire.Hello{V: wire.Version, Client: t.client}
	if t.State != nil {
		h.Resume = &wire.Resume{Epoch: t.Epoch, Have: t.Seq, Chain: t.Chain}
	}
	return h
}

// Do numbers an operation and keeps it.
func (t *Twin) Do(op session.Op) wire.OpUp { return t.out.add(op, t.Seq).up() }

// Waiting lists the operations that the hub has not answered, in order.
func (t *Twin) Waiting() []wire.OpUp {
	var out []wire.OpUp
	for _, e := range t.out.waiting() {
		out = append(out, e.up())
	}
	return out
}

// Entries lists all operations that are remembered, in order.
func (t *Twin) Entries() []Entry { return append([]Entry(nil), t.out.kept...) }

// Take applies a frame of the hub, parts in the order of W26. An error means
// that the hub broke the protocol; the twin is as far as it got.
func (t *Twin) Take(frame []byte) (News, error) {
	var n News
	d, err := wire.DecodeDown(frame)
	if err != nil {
		return n, err
	}
	if d.Welcome != nil {
		if err := t.welcome(*d.Welcome); err != nil {
			return n, err
		}
		n.Welcomed = true
		for _, e := range t.out.welcomed(d.Welcome.Counter, d.Welcome.Epoch) {
			n.Send = append(n.Send, e.up())
		}
	}
	for _, f := range d.Facts {
		if err := t.fact(f); err != nil {
			return n, err
		}
	}
	for _, g := range d.Drags {
		if t.State == nil {
			return n, fmt.Errorf("drag of %s before the state", g.Who)
		}
		t.Drags[g.Who] = g
	}
	if v := d.Verdicts; v != nil {
		if t.State == nil || v.On > t.Seq {
			return n, fmt.Errorf("verdicts on fact %d, have %d", v.On, t.Seq)
		}
		t.Verdicts = v
	}
	if d.Rep != nil {
		if t.State == nil || t.State.Rep.Play != d.Rep.Play {
			return n, fmt.Errorf("track of %q, but no such rep", d.Rep.Play)
		}
		t.Track = d.Rep
	}
	if d.Roster != nil {
		t.Roster = *d.Roster
	}
	t.Points = append(t.Points, d.Points...)
	for _, a := range d.Acks {
		if a.Epoch != t.Epoch || a.Seq > t.Seq {
			return n, fmt.Errorf("ack of %d as fact %d of %s, have %d of %s", a.N, a.Seq, a.Epoch, t.Seq, t.Epoch)
		}
		t.out.acked(a.N, a.Seq)
	}
	for _, r := range d.Refused {
		t.refused(r, &n)
	}
	n.Beat = d.Beat
	if d.Bye != nil {
		n.Bye = d.Bye.Code
	}
	return n, nil
}

func (t *Twin) welcome(w wire.Welcome) error {
	goesOn := w.State == nil && t.State != nil
	if goesOn && (w.Epoch != t.Epoch || w.Seq != t.Seq || w.Chain != t.Chain) {
		return fmt.Errorf("welcome goes on from %d %s of %s, have %d %s of %s", w.Seq, w.Chain, w.Epoch, t.Seq, t.Chain, t.Epoch)
	}
	t.Session, t.Member, t.Role = w.Session, w.Member, w.Role
	t.Epoch, t.Seq, t.Chain = w.Epoch, w.Seq, w.Chain
	t.Drags, t.Verdicts, t.Track = map[string]wire.Drag{}, nil, nil
	if !goesOn {
		t.State = w.State
	}
	return nil
}

func (t *Twin) fact(f wire.Fact) error {
	if t.State == nil || f.Seq != t.Seq+1 {
		return fmt.Errorf("fact %d, have %d: a gap or a repeat", f.Seq, t.Seq)
	}
	if f.Client != "" && f.Client != t.client {
		return fmt.Errorf("fact %d shows the id of another device", f.Seq)
	}
	t.State.Apply(f.Set)
	t.Seq, t.Chain = f.Seq, f.Chain
	t.settle(f.Set)
	if t.State.Rep.Play == "" {
		t.Track = nil
	}
	if f.Client != "" {
		t.out.acked(f.N, f.Seq)
	}
	return nil
}

// settle drops the drags that a fact has overtaken, as the browser does.
func (t *Twin) settle(c session.Change) {
	if c.Moment != nil || c.Look != nil || c.Rep != nil && c.Rep.Play != "" {
		clear(t.Drags)
	}
	for who := range c.Men {
		delete(t.Drags, who)
	}
	for who := range c.Spots {
		delete(t.Drags, who)
	}
}

func (t *Twin) refused(r wire.Refused, n *News) {
	switch r.Code {
	case wire.CodeStorage, wire.CodeSlowDown:
		n.RetryMS = max(r.RetryMS, 1)
	case wire.CodeGap:
		n.Gap = true
	default:
		if r.N == 0 || t.out.refused(r.N) {
			n.Refused = append(n.Refused, r)
		}
	}
}
