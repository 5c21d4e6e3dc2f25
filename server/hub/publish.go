package hub

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"halfline/internal/session"
	"halfline/internal/wire"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// each visits links in a fixed order; f may take links off.
func (o *owner) each(f func(*Link)) {
	ls := slices.Collect(maps.Keys(o.links))
	slices.SortFunc(ls, func(a, b *Link) int {
		return cmp.Or(strings.Compare(a.member, b.member), cmp.Compare(a.client, b.client))
	})
	for _, l := range ls {
		f(l)
	}
}

// publish sends settled facts to everybody who is in, with the verdicts that
// follow from them in the same frame.
func (o *owner) publish(facts []fact) {
	for i := range facts {
		o.follow(facts[i].Set)
	}
	all := pack(facts, 0)
	o.each(func(l *Link) {
		if !l.let {
			return
		}
		parts := all
		if slices.ContainsFunc(facts, func(f fact) bool { return f.by == l.client }) {
			parts = pack(facts, l.client)
		}
		last := len(parts) - 1
		for _, p := range parts[:last] {
			l.sendRaw(framed(p), "")
		}
		o.withVerdicts(l, parts[last])
		if slices.ContainsFunc(facts, func(f fact) bool { return f.Set.Rep != nil && f.Set.Rep.Play == "" }) {
			l.reel = nil // the device has thrown its track away
		}
		o.sendRep(l)
	})
	o.admitted()
}

// follow does what a durable change asks for besides the state: a book named,
// members taken out.
func (o *owner) follow(c session.Change) {
	if c.Book != nil {
		if b, err := o.books(*c.Book); err == nil {
			o.book = b
		} else {
			o.log.Error("book of this session is not there", "err", err)
		}
	}
	for _, id := range sortedKeys(c.Members) {
		if c.Members[id] != nil {
			continue
		}
		delete(o.people, id)
		o.each(func(l *Link) {
			if l.member == id {
				o.drop(l, wire.CloseRemoved)
			}
		})
		o.forgetPerson(id)
	}
}

// admitted welcomes devices that were waiting and are in now.
func (o *owner) admitted() {
	o.each(func(l *Link) {
		if !l.let && o.shown.Members[l.member].In {
			o.welcome(l, nil)
		}
	})
}

// fanOutDrag shows a drag to all others, and the verdicts that follow from it
// in the same frame to whom they concern.
func (o *owner) fanOutDrag(from *Link, d wire.Drag) {
	only := framed(append([]byte(`"drags":`), encoded([]wire.Drag{d})...))
	o.each(func(l *Link) {
		switch {
		case !l.let:
		case o.fresh(l) != nil:
			o.sendVerdicts(l)
		case l != from:
			l.sendRaw(only, "drag "+d.Who)
		}
	})
}

// point shows a place to all others for a moment.
func (o *owner) point(l *Link, p wire.Point) {
	if l.gone || o.shown.Members[l.member].Role != session.Coach {
		return
	}
	p.By = l.member
	frame := encoded(wire.Down{Points: []wire.Point{p}})
	o.each(func(to *Link) {
		if to != l && to.let {
			to.sendRaw(frame, "point")
		}
	})
}
