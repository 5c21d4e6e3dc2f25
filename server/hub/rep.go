package hub

import (
	"bytes"
	"maps"
	"slices"

	"halfline/internal/rep"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// film is the track of the rep that is shown, run once and encoded once for each
// sight.
type film struct {
	run   bool // it has been tried
	track *wire.Track
	by    map[session.Sight][]byte // whole frames
}

// filmOver throws the film away, and its cost, if a change runs another rep or none.
func (o *owner) filmOver(c session.Change) {
	if was := o.shown.Rep; c.Rep != nil && (c.Rep.Play != was.Play || c.Rep.Lane != was.Lane || c.Rep.Seed != was.Seed ||
		!maps.Equal(c.Rep.Errors, was.Errors)) {
		o.film = film{}
		o.costOver()
	}
}

// reel is the track as a member of one sight gets it; nil: there is no rep.
func (o *owner) reel(s session.Sight) []byte {
	if o.shown.Rep.Play == "" || o.book == nil {
		return nil
	}
	f := &o.film
	if !f.run {
		*f = film{run: true, by: map[session.Sight][]byte{}}
		t, err := o.shown.Track(o.book)
		if err != nil { // made by an engine that ran what this one does not
			o.log.Error("rep not run", "err", err)
			return nil
		}
		w := wire.TrackOf(t)
		w.Breaks = o.shown.Breakable(o.book)
		f.track = &w
	}
	if f.track == nil {
		return nil
	}
	b := f.by[s]
	if b == nil {
		b = o.write(seenBy(*f.track, s))
		f.by[s] = b
	}
	return b
}

// write makes the frame of a track, with as much of the lanes as fits.
func (o *owner) write(t wire.Track) []byte {
	b := encoded(wire.Down{Rep: &t})
	for len(b) > wire.MaxDown && len(t.Lanes) > 1 {
		var fewer []wire.TrackLanes
		for i := 0; i < len(t.Lanes); i += 2 {
			fewer = append(fewer, t.Lanes[i])
		}
		t.Lanes = fewer
		b = encoded(wire.Down{Rep: &t})
	}
	if len(b) > wire.MaxDown {
		o.log.Error("track too big for a frame", "bytes", len(b))
		return nil
	}
	return b
}

// plain are the events that everybody in the stands sees: where the ball is.
var plain = []rep.What{rep.Motion, rep.Snap, rep.Gives, rep.Catch, rep.Tackles, rep.Out, rep.Gone, rep.Dead, rep.Broken}

// seenBy leaves out of a track what a sight may not see (W38): what was
// somebody's job, and whether he has done it.
func seenBy(t wire.Track, s session.Sight) wire.Track {
	if !s.All {
		t.Breaks = map[string][]string{}
	}
	if s.All || s.Others {
		return t
	}
	his := func(who string) bool { return s.Own != "" && who == s.Own }
	events := t.Events
	t.Events = []wire.TrackEvent{}
	for _, e := range events {
		if !his(e.Who) && !his(e.To) {
			if !slices.Contains(plain, rep.What(e.What)) {
				continue
			}
			e.Say = ""
		}
		e.Lane = nil
		t.Events = append(t.Events, e)
	}
	t.Faults = slices.DeleteFunc(slices.Clone(t.Faults), func(f wire.FaultAnswer) bool { return !his(f.Who) })
	t.Lanes, t.Owners, t.Free = []wire.TrackLanes{}, []wire.TrackOwners{}, []wire.TrackFree{}
	t.End.Lane = -1
	return t
}

const reelKey = "rep"

// sendRep sends a link the track of the rep that is shown, if it has not the
// same already. It is a frame of its own: with the facts before it it would not
// fit, and it may come a moment later.
func (o *owner) sendRep(l *Link) {
	if !l.let {
		return
	}
	b := o.reel(o.shown.SightOf(l.member))
	if b == nil || bytes.Equal(b, l.reel) {
		return
	}
	l.reel = b
	l.sendRaw(b, reelKey)
}

// futureMost is how far ahead of the hub's time a rep may be about to roll, ms.
const futureMost = 1000

// mendRep stops a rep that was to begin long after now: the clock that it was
// begun by has gone back since, and it would stand for so long without a word.
func (o *owner) mendRep() {
	if r := o.shown.Rep; r.Play != "" && r.Since > o.now()+futureMost {
		r.Since = 0
		o.submit("stop", session.Change{Rep: &r}, 0, 0, nil)
	}
}
