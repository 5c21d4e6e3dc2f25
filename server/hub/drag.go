package hub

import (
	"time"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// drag is a man under a finger.
//
//	news ──▶ live ──▶ placing ──▶ gone, by the fact that places him
//	         │  ▲        │
//	         └──┘ news   └──▶ live again, if the store fails
//
// It is placed by the operation that ends it, or by the hub when there was no
// news for a while, when the connection is lost and when the hub stops.
type drag struct {
	at      session.Place
	by      string      // the member who drags
	from    *Link       // by which connection
	quiet   *time.Timer // tells when there was no news for DragQuiet
	passed  int         // times that it told and was overtaken by news
	placing bool        // his place is on its way to the store
}

// drag moves a man for the eyes of all, without making it durable.
func (o *owner) drag(l *Link, w wire.Drag) {
	if l.gone || o.book == nil || session.MayDrag(&o.head, o.book, o.actor(l.member), w.Who, w.At) != nil {
		return
	}
	d := o.drags[w.Who]
	switch {
	case d == nil || d.placing:
		o.undrag(w.Who)
		d = &drag{}
		o.drags[w.Who] = d
		d.quiet = time.AfterFunc(wire.DragQuiet, func() { // ends with post
			o.post(func() { o.quiet(w.Who, d) })
		})
	case !d.quiet.Reset(wire.DragQuiet):
		d.passed++ // it has told just now: the news came first all the same
	}
	d.at, d.by, d.from = w.At, l.member, l
	o.judged.stale = true
	w.By = l.member
	o.fanOutDrag(l, w)
}

// undrag takes a drag off the board.
func (o *owner) undrag(who string) {
	if d := o.drags[who]; d != nil {
		d.quiet.Stop()
		delete(o.drags, who)
		o.judged.stale = true
	}
}

// quiet places a man whom nobody has moved for a while: the finger has gone
// without a word.
func (o *owner) quiet(who string, d *drag) {
	switch {
	case o.drags[who] != d:
	case d.passed > 0:
		d.passed--
	default:
		o.rest(who, d)
	}
}

// letGo places the men of some drags where they are.
func (o *owner) letGo(which func(*drag) bool) {
	for _, who := range sortedKeys(o.drags) {
		if d := o.drags[who]; which(d) {
			o.rest(who, d)
		}
	}
}

// rest makes a drag's last place durable. While the store is in trouble he
// stays where everybody sees him, and the hub tries again.
func (o *owner) rest(who string, d *drag) {
	if d.placing {
		return
	}
	if o.trouble {
		d.quiet.Reset(wire.DragQuiet)
		return
	}
	c, r := session.Rest(&o.head, o.book, who, d.at)
	if r != nil { // he cannot stand there any more
		o.undrag(who)
		o.each(o.sendVerdicts)
		return
	}
	d.placing = true
	o.submit("place", c, 0, 0, nil)
}

// placing notes that an operation places a man: his drag ends with its fact.
func (o *owner) placing(who string, at session.Place) {
	if d := o.drags[who]; d != nil {
		d.at, d.placing = at, true
		d.quiet.Stop()
		o.judged.stale = true
	}
}

// unplace makes drags live again whose place did not get into the store.
func (o *owner) unplace() {
	for _, d := range o.drags {
		if d.placing {
			d.placing = false
			d.quiet.Reset(wire.DragQuiet)
		}
	}
}

// overtake ends drags that a change has settled or made void: the man stands
// where he was dragged to, or has been put elsewhere, or the picture is another
// one. A place given to him while he is dragged on does not end it.
func (o *owner) overtake(kind string, c session.Change, was map[string]session.Place, wasFrozen bool) {
	frozen := o.shown.Moment.Play != ""
	for who, d := range o.drags {
		at, ok := o.shown.Where(who)
		touched := c.Men[who] != nil || c.Spots[who] != nil || c.Moment != nil
		switch {
		case !ok, c.Look != nil, c.Rep != nil && c.Rep.Play != "", frozen != wasFrozen, touched && at == d.at, kind != "place" && at != was[who]:
			o.undrag(who)
		}
	}
}

// under says where the men under a finger stand without it.
func (o *owner) under() map[string]session.Place {
	if len(o.drags) == 0 {
		return nil
	}
	at := map[string]session.Place{}
	for who := range o.drags {
		at[who], _ = o.shown.Where(who)
	}
	return at
}
