package hub

import (
	"bytes"
	"strconv"
	"time"

	"halfline/internal/judge"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// judged is what the engine says of the board as it stands, men under a finger
// included. Its parts are encoded once, whoever may see them.
type judged struct {
	stale  bool // the board has changed since
	rested bool // nothing has changed for a while: pockets are in it
	board  judge.Board
	result judge.Result
	by     map[session.Sight]*seen
	drags  []byte            // all drags, as a part of a frame; empty if there are none
	look   []byte            // the look's answer
	spots  map[string][]byte // full answers by label, as far as somebody asked
	others []byte            // signs, lanes and faults, as far as somebody asked
}

// seen is what members of one sight get of a judgement: made once, sent to many.
type seen struct {
	frame []byte // a frame with the verdicts and all drags
	raw   []byte // in it: the verdicts from their second field on
}

// judge brings the judgement up to date.
func (o *owner) judge() {
	if !o.judged.stale && o.judged.by != nil {
		return
	}
	live := map[string]session.Place{}
	for who, d := range o.drags {
		live[who] = d.at
	}
	j := judged{board: o.shown.Board(o.book, live), by: map[session.Sight]*seen{}, spots: map[string][]byte{}}
	j.result = judge.Run(&j.board)
	j.look = encoded(wire.LookOn(&j.board, &j.result))
	if len(o.drags) > 0 {
		j.drags = drags(o.dragged(nil))
	}
	o.judged = j
	o.pockets.Reset(pocketsAfter)
}

// pocketsAfter is how long the board must be at rest before the men who hold a
// spot get their pockets. A pocket takes a millisecond and moves with every
// man: with each fact at once it would hold up the fact itself, for everybody.
const pocketsAfter = 150 * time.Millisecond

// boardRests adds the pockets to a judgement. Only the answers that have one are not
// the same as before, so nobody else is sent anything.
func (o *owner) boardRests() {
	if o.book == nil || o.judged.stale || len(o.drags) > 0 || o.judged.rested {
		return
	}
	o.judged.rested = true
	clear(o.judged.by)
	o.each(o.sendVerdicts)
}

// dragged lists the men under a finger, but for one link's own.
func (o *owner) dragged(but *Link) []wire.Drag {
	var out []wire.Drag
	for _, who := range sortedKeys(o.drags) {
		if d := o.drags[who]; d.from != but || but == nil {
			out = append(out, wire.Drag{Who: who, At: d.at, By: d.by})
		}
	}
	return out
}

func drags(d []wire.Drag) []byte { return append([]byte(`"drags":`), encoded(d)...) }

// sight gives the verdicts for what one link may see, made once per judgement.
func (o *owner) sight(l *Link) *seen {
	o.judge()
	j := &o.judged
	s := o.shown.SightOf(l.member)
	if v := j.by[s]; v != nil {
		return v
	}
	v := j.write(s, o.mark, len(o.drags) > 0)
	j.by[s] = v
	return v
}

const (
	verdictsOn = `"verdicts":{"on":`
	nothing    = `,"signs":{},"lanes":[],"sound":false,"faults":[]`
)

// write puts together a wire.Verdicts for one sight, in a frame with the drags.
// All but its first field is kept as raw: those that say the same are the same
// bytes, whatever fact they were made on.
func (j *judged) write(s session.Sight, on uint64, live bool) *seen {
	rest := []byte(nothing)
	if s.All || s.Others {
		rest = j.rest()
	}
	size := len(j.drags) + len(j.look) + len(rest) + 128
	var spots [][]byte
	for i := range j.result.Spots {
		if s.All || s.Own == j.result.Spots[i].Label {
			sp := j.spot(i, !s.All && j.rested)
			spots = append(spots, sp)
			size += len(sp) + 1
		}
	}
	b := append(make([]byte, 0, size), '{')
	if len(j.drags) > 0 {
		b = append(append(b, j.drags...), ',')
	}
	b = strconv.AppendUint(append(b, verdictsOn...), on, 10)
	at := len(b)
	b = strconv.AppendBool(append(b, `,"live":`...), live)
	b = append(append(b, `,"look":`...), j.look...)
	b = append(b, `,"spots":{`...)
	for i, sp := range spots {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, sp...)
	}
	b = append(append(b, '}'), rest...)
	b = append(b, '}', '}')
	return &seen{frame: b, raw: b[at : len(b)-1]}
}

// spot is one full answer behind its label, with the man's pocket or without.
func (j *judged) spot(i int, pocket bool) []byte {
	label := j.result.Spots[i].Label
	key := label
	if pocket {
		key += " pocket"
	}
	b := j.spots[key]
	if b == nil {
		a := wire.SpotOf(&j.board, &j.result, i)
		if pocket {
			a.Pocket = wire.PocketOf(&j.board, label)
		}
		b = encoded(map[string]wire.SpotAnswer{label: a})
		b = b[1 : len(b)-1]
		j.spots[key] = b
	}
	return b
}

// rest is what is not one man's own: signs, lanes and faults.
func (j *judged) rest() []byte {
	if j.others == nil {
		r := struct {
			Signs  map[string]string  `json:"signs"`
			Lanes  []wire.LaneAnswer  `json:"lanes"`
			Sound  bool               `json:"sound"`
			Faults []wire.FaultAnswer `json:"faults"`
		}{map[string]string{}, wire.LanesOf(&j.result), j.result.Sound, wire.FaultsOf(&j.result)}
		for _, s := range j.result.Spots {
			r.Signs[s.Label] = string(s.Keeps)
		}
		b := encoded(r)
		b[0] = ','
		j.others = b[:len(b)-1]
	}
	return j.others
}

// part is the verdicts as a part of a frame.
func (o *owner) part(s *seen) []byte {
	b := make([]byte, 0, len(verdictsOn)+20+len(s.raw))
	b = strconv.AppendUint(append(b, verdictsOn...), o.mark, 10)
	return append(b, s.raw...)
}

// fresh gives the verdicts for a link, or nil if it has the same already.
func (o *owner) fresh(l *Link) *seen {
	if o.book == nil || !l.let {
		return nil
	}
	if s := o.sight(l); !bytes.Equal(l.seen, s.raw) {
		return s
	}
	return nil
}

// verdictsKey is for frames that replace the verdicts and all drags. One that
// replaces another unsent must hold whatever the other held, so a frame with
// verdicts never goes under a single drag's key.
const verdictsKey = "verdicts"

// sendVerdicts sends a link the verdicts if it has not the same already, and
// with them all drags but its own.
func (o *owner) sendVerdicts(l *Link) {
	s := o.fresh(l)
	if s == nil {
		return
	}
	l.seen = s.raw
	own := false
	for _, d := range o.drags {
		own = own || d.from == l
	}
	if !own {
		l.sendRaw(s.frame, verdictsKey)
		return
	}
	if rest := o.dragged(l); len(rest) > 0 {
		l.sendRaw(framed(drags(rest), o.part(s)), verdictsKey)
		return
	}
	l.sendRaw(framed(o.part(s)), verdictsKey)
}

// withVerdicts sends a part of a frame, and with it the verdicts if the link has
// not the same already and both fit.
func (o *owner) withVerdicts(l *Link, part []byte) {
	s := o.fresh(l)
	if s == nil {
		l.sendRaw(framed(part), "")
		return
	}
	l.seen = s.raw
	v := o.part(s)
	if len(part)+len(v)+len("{,}") <= wire.MaxDown {
		l.sendRaw(framed(part, v), "")
		return
	}
	l.sendRaw(framed(part), "")
	l.sendRaw(framed(v), "")
}
