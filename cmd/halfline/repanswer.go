package main

import (
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
	"halfline/internal/wire"
)

// repOut is the answer of rep. Places in yards from the ball, x to the offense's
// right, y beyond the line; times in seconds after the snap.
type repOut struct {
	Play   string            `json:"play"`
	GainYd float64           `json:"gain_yd"`
	Broke  bool              `json:"broke"` // 10 yd or more
	How    string            `json:"how"`
	Tackle string            `json:"tackle"`
	With   string            `json:"with"` // who was on the other hip
	Hip    string            `json:"hip"`
	Lane   int               `json:"lane"` // -1: none was taken
	TimeS  float64           `json:"time_s"`
	Caught string            `json:"caught"` // of a pass
	Say    string            `json:"say"`
	Hats   map[string]string `json:"hats"`
	Events []eventOut        `json:"events"`
	Faults []repFaultOut     `json:"faults"` // first cause first
	Owners []ownersOut       `json:"owners"`
	Free   []freeOut         `json:"free"`
	Lanes  []lanesOut        `json:"lanes,omitempty"` // of a trace
	Trace  []frameOut        `json:"trace,omitempty"`
}

type eventOut struct {
	TS   float64 `json:"t_s"`
	What string  `json:"what"`
	Who  string  `json:"who"`
	To   string  `json:"to"`
	Lane *int    `json:"lane"` // of a commit or a cut
	Say  string  `json:"say"`
}

type repFaultOut struct {
	Who     string  `json:"who"`
	Kind    string  `json:"kind"`
	Opens   *int    `json:"opens"`
	SavedBy string  `json:"saved_by"`
	CostYd  float64 `json:"cost_yd"`
	Man     string  `json:"man"` // the receiver who is free by it
	TS      float64 `json:"t_s"`
	Because string  `json:"because"`
}

type ownersOut struct {
	TS      float64           `json:"t_s"`
	Of      map[string]string `json:"of"`
	Unowned []string          `json:"unowned"`
}

type freeOut struct {
	Who     string  `json:"who"`
	ThrownS float64 `json:"thrown_s"`
	MarginS float64 `json:"margin_s"`
	Free    bool    `json:"free"`
}

type lanesOut struct {
	TS    float64           `json:"t_s"`
	Takes int               `json:"takes"`
	Lanes []wire.LaneAnswer `json:"lanes"`
}

type frameOut struct {
	T    float64               `json:"t"`
	Ball [2]float64            `json:"ball"`
	Men  map[string][2]float64 `json:"men"`
}

func repAnswer(t *judge.Track, trace bool) repOut {
	e := &t.End
	out := repOut{Play: t.Play.ID, GainYd: field.Round2(e.Gain), Broke: e.Broke, How: string(e.How), Tackle: e.By, With: e.With, Hip: string(e.Hip),
		Lane: e.Lane, TimeS: field.Round2(e.T), Caught: e.Caught, Say: e.Say, Hats: map[string]string{},
		Events: []eventOut{}, Faults: []repFaultOut{}, Owners: []ownersOut{}, Free: []freeOut{}}
	for spot, h := range t.Hats {
		out.Hats[spot] = string(h)
	}
	for _, x := range t.Events {
		o := eventOut{TS: field.Round2(x.T), What: string(x.What), Who: x.Who, To: x.To, Say: x.Say}
		if x.What == rep.Commits || x.What == rep.Cuts {
			o.Lane = &x.Lane
		}
		out.Events = append(out.Events, o)
	}
	for i, f := range t.Faults {
		o := repFaultOut{Who: f.Who, Kind: f.Kind, SavedBy: f.SavedBy, CostYd: field.Round2(f.Cost), Man: f.Man, TS: field.Round2(f.T), Because: t.Because(i)}
		if f.Opens >= 0 {
			o.Opens = &f.Opens
		}
		out.Faults = append(out.Faults, o)
	}
	for _, o := range t.Owners {
		out.Owners = append(out.Owners, ownersOut{field.Round2(o.T), o.Of, append([]string{}, o.Unowned...)})
	}
	for _, f := range t.Free {
		out.Free = append(out.Free, freeOut{f.Who, field.Round2(f.Thrown), field.Round2(f.Margin), f.Free})
	}
	if trace {
		out.traceOf(t)
	}
	return out
}

// traceOf adds where everybody was, and the lanes over time.
func (out *repOut) traceOf(t *judge.Track) {
	at := func(o field.Offset) [2]float64 {
		return [2]float64{field.Round2(o.X.Yards()), field.Round2(o.Y.Yards())}
	}
	for k, key := range t.Keys {
		f := frameOut{T: field.Round2(t.From + float64(k)*t.Step), Ball: at(t.Ball[k]), Men: map[string][2]float64{}}
		for i, tag := range t.Men {
			f.Men[tag] = at(key[i])
		}
		for i, label := range t.Spots {
			f.Men[label] = at(key[len(t.Men)+i])
		}
		out.Trace = append(out.Trace, f)
	}
	for _, l := range t.Lanes {
		out.Lanes = append(out.Lanes, lanesOut{field.Round2(l.T), l.Takes, wire.LanesOf(&judge.Result{Lanes: l.Lanes})})
	}
}
