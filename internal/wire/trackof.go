package wire

import (
	"math"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
)

const (
	// lanesMoved is how far an edge of a lane must have moved to be news, and
	// gainMoved how many yards its gain must have changed.
	lanesMoved = int(field.Yard / 2)
	gainMoved  = 1.0
	// lanesEvery keeps such news rare, ms; a change of hands always is news.
	lanesEvery = 300
)

// TrackOf puts the engine's track into the form that travels.
func TrackOf(t *judge.Track) Track {
	out := Track{
		Play: t.Play.ID, From: ms(t.From), Step: ms(t.Step), Men: full(t.Men), Spots: full(t.Spots),
		Keys: [][]field.Inches{}, Ball: deltas(t.Ball), Events: []TrackEvent{}, Lanes: []TrackLanes{}, Owners: []TrackOwners{},
		Faults: []FaultAnswer{}, Free: []TrackFree{}, Breaks: map[string][]string{}, End: endOf(&t.End),
	}
	for i := range len(t.Men) + len(t.Spots) {
		way := make([]field.Offset, len(t.Keys))
		for k := range t.Keys {
			way[k] = t.Keys[k][i]
		}
		out.Keys = append(out.Keys, deltas(way))
	}
	for _, e := range t.Events {
		out.Events = append(out.Events, eventOf(e))
	}
	for _, l := range t.Lanes {
		next := TrackLanes{T: ms(l.T), Lanes: LanesOf(&judge.Result{Lanes: l.Lanes}), Takes: l.Takes}
		if n := len(out.Lanes); n == 0 || lanesNew(&out.Lanes[n-1], &next) {
			out.Lanes = append(out.Lanes, next)
		}
	}
	for _, o := range t.Owners {
		of := o.Of
		if of == nil {
			of = map[string]string{}
		}
		out.Owners = append(out.Owners, TrackOwners{T: ms(o.T), Of: of, Unowned: full(o.Unowned)})
	}
	for i, f := range t.Faults {
		out.Faults = append(out.Faults, faultOf(f, t.Because(i)))
	}
	for _, f := range t.Free {
		out.Free = append(out.Free, TrackFree{Who: f.Who, Thrown: ms(f.Thrown), MarginS: field.Round2(f.Margin), Free: f.Free})
	}
	return out
}

// ms is a time of the engine in whole milliseconds.
func ms(s float64) int { return int(math.Round(s * 1000)) }

// deltas writes a way as its first place and the changes after it.
func deltas(way []field.Offset) []field.Inches {
	out := make([]field.Inches, 0, 2*len(way))
	var last field.Offset
	for _, at := range way {
		out = append(out, at.X-last.X, at.Y-last.Y)
		last = at
	}
	return out
}

func eventOf(e judge.Event) TrackEvent {
	out := TrackEvent{T: ms(e.T), What: string(e.What), Who: e.Who, To: e.To, Say: e.Say}
	if e.What == rep.Commits || e.What == rep.Cuts {
		out.Lane = &e.Lane
	}
	return out
}

func endOf(e *judge.End) TrackEnd {
	return TrackEnd{T: ms(e.T), GainYd: field.Round2(e.Gain), Broke: e.Broke, How: string(e.How), By: e.By, With: e.With,
		Hip: string(e.Hip), At: [2]field.Inches{e.At.X, e.At.Y}, Lane: e.Lane, Caught: e.Caught}
}

func faultOf(f judge.FaultResult, because string) FaultAnswer {
	a := FaultAnswer{Who: f.Who, Kind: f.Kind, SavedBy: f.SavedBy, Because: because}
	if f.Opens >= 0 {
		n, c := f.Opens, field.Round2(f.Cost)
		a.Opens, a.CostYd = &n, &c
	}
	return a
}

// lanesNew says whether lanes are worth sending after others: another man shuts
// or fits one, or its edges or its gain have moved since a while.
func lanesNew(was, now *TrackLanes) bool {
	if len(was.Lanes) != len(now.Lanes) || was.Takes != now.Takes {
		return true
	}
	moved := false
	for i := range now.Lanes {
		a, b := &was.Lanes[i], &now.Lanes[i]
		if a.N != b.N || a.ShutBy != b.ShutBy || a.FitBy != b.FitBy || a.Inside != b.Inside || a.Outside != b.Outside {
			return true
		}
		far := func(x, y int) bool { return x-y >= lanesMoved || y-x >= lanesMoved }
		moved = moved || far(a.Span[0], b.Span[0]) || far(a.Span[1], b.Span[1]) || (a.GainYd == nil) != (b.GainYd == nil) ||
			a.GainYd != nil && math.Abs(*a.GainYd-*b.GainYd) >= gainMoved
	}
	return moved && now.T-was.T >= lanesEvery
}
