package judge

import (
	"fmt"
	"math"
	"slices"

	"halfline/internal/call"
	"halfline/internal/lane"
	"halfline/internal/play"
	"halfline/internal/rep"
)

// tell fills in what happened, in field terms and the staff's words.
func (r *Reps) tell(t *Track, res *rep.Rep) {
	t.Events = append(t.Events, Event{What: rep.Snap, Lane: -1, Say: "snap"})
	for i := range res.Events {
		e := &res.Events[i]
		t.Events = append(t.Events, Event{T: e.T, What: e.What, Who: r.spot(e.Spot), To: r.man(e.Man), Lane: e.Lane, Say: r.say(e)})
	}
	side := r.Board.Side
	for _, l := range res.Lanes {
		at := LanesAt{T: l.T, Takes: l.Takes}
		for i := range l.Lanes {
			at.Lanes = append(at.Lanes, r.lane(&l.Lanes[i]))
		}
		t.Lanes = append(t.Lanes, at)
	}
	for _, st := range res.Stages {
		o := OwnersAt{T: st.T, Of: map[string]string{}, Unowned: st.Unowned}
		for i, m := range st.Of {
			o.Of[r.Labels[i]] = r.man(m)
		}
		t.Owners = append(t.Owners, o)
	}
	for _, b := range res.Best {
		m := FreeMan{Who: r.man(r.Picture.Routes[b.Route].By), Thrown: b.Thrown, Margin: b.Margin, Free: b.Margin > rep.FreeBy}
		if !math.IsInf(b.Margin, 0) {
			t.Free = append(t.Free, m)
		}
	}
	for i := range res.Faults {
		f := &res.Faults[i]
		t.Faults = append(t.Faults, FaultResult{Who: r.spot(f.Who), Kind: string(f.Kind), Opens: f.Opens, SavedBy: r.spot(f.SavedBy), Cost: f.Cost,
			Man: r.man(f.Man), T: f.T, spot: f.Who})
	}
	t.End = End{T: res.Time, Gain: res.Gain, Broke: res.Gain >= rep.BrokeFrom, How: res.How, By: r.spot(res.By), With: r.spot(res.With), Hip: res.Hip,
		At: side.FlipOffset(res.At.Offset()), Lane: res.Lane, Caught: r.man(res.Caught)}
	t.Hats = map[string]lane.Hat{}
	for i, h := range res.Hats {
		if h != lane.Auto {
			t.Hats[r.spot(i)] = h
		}
	}
	t.End.Say = endWords(&t.End, t.Play.Kind == play.Pass)
	for i := range t.Faults {
		t.Faults[i].say = r.repFault(&t.Faults[i], &res.Faults[i], res)
	}
}

func (r *Reps) spot(i int) string {
	if i < 0 {
		return ""
	}
	return r.Labels[i]
}

func (r *Reps) man(i int) string {
	if i < 0 {
		return ""
	}
	return r.Board.Men[i].Man.Tag
}

func (r *Reps) lane(l *lane.Lane) LaneResult {
	s := r.Board.Side
	return LaneResult{N: l.N, Inside: l.Inside, Outside: l.Outside, ShutBy: r.spot(l.ShutBy), FitBy: r.spot(l.FitBy), Gain: l.Gain,
		HasGain: l.ShutBy < 0, Inner: s.OutInches(l.Inner), Outer: s.OutInches(l.Outer)}
}

// say tells one event in a short line.
func (r *Reps) say(e *rep.Event) string {
	who, man := r.spot(e.Spot), r.man(e.Man)
	switch e.What {
	case rep.Keys:
		return who + ": " + r.keyWords(e.Spot)
	case rep.Gives:
		return "the ball is thrown to " + man
	case rep.Catch:
		return man + " has the ball"
	case rep.Meets:
		return fmt.Sprintf("%s is on %s: %s", man, who, r.takeOn(e.Spot, e.Man))
	case rep.Commits:
		return fmt.Sprintf("the ball takes lane %d", e.Lane)
	case rep.Cuts:
		return fmt.Sprintf("the ball cuts to lane %d", e.Lane)
	case rep.Declares:
		return who + ": the ball has declared, go"
	case rep.Sheds:
		return who + " comes off " + man
	case rep.Replaces:
		return who + " replaces: the edge is his"
	case rep.Matches:
		return fmt.Sprintf("%s takes %s", who, man)
	case rep.Breaks:
		return who + " breaks on the fake"
	case rep.Open:
		return man + " is free"
	case rep.Tackles:
		return who + " has him"
	case rep.Out:
		return "out of bounds"
	case rep.Gone:
		return "gone"
	}
	return string(e.What)
}

// keyWords tells what a man does when his key shows.
func (r *Reps) keyWords(spot int) string {
	d := &r.Board.Spots[spot].Duty
	if fit, ok := d.Spot.Fits[r.Picture.Play.Kind]; ok && fit.Say != "" {
		return fit.Say
	}
	return "his key shows"
}

// takeOn tells how a block is to be taken on: hands on a receiver, the shoulder
// on a man who leads; half a man, on the side of his hat.
func (r *Reps) takeOn(spot, man int) string {
	how := "hands"
	for i := range r.Picture.Blocks {
		if b := &r.Picture.Blocks[i]; b.By == man && b.On == spot && b.How.Hard() {
			how = "near shoulder, head out of it"
		}
	}
	fit := r.Board.Spots[spot].Duty.Spot.Fits[r.Picture.Play.Kind]
	switch fit.Hat {
	case call.HatInside:
		return how + ", hat inside"
	case call.HatOutside, call.HatIfOpen, call.HatOnBall:
		return how + ", hat outside"
	}
	return how
}

// endWords tells how a rep ended in one line.
func endWords(e *End, pass bool) string {
	lane := ""
	if e.Lane >= 0 && !pass {
		lane = fmt.Sprintf(", lane %d", e.Lane)
	}
	switch e.How {
	case rep.Tackled:
		s := fmt.Sprintf("%s tackles %s%s", e.By, gainWords(e.Gain), lane)
		if e.With != "" {
			s += ", " + e.With + " on the other hip"
		}
		return s
	case rep.BrokeAway:
		return "It broke" + lane
	case rep.OutOf:
		return "Out of bounds " + gainWords(e.Gain) + lane
	case rep.NoThrow:
		return "Nobody was free: no throw"
	case rep.BrokenUp:
		return e.By + " is at the ball in time"
	}
	return "Whistle"
}

func gainWords(g float64) string {
	switch n := math.Round(g); {
	case n > 0:
		return fmt.Sprintf("for a gain of %.0f", n)
	case n < 0:
		return fmt.Sprintf("for a loss of %.0f", -n)
	}
	return "for no gain"
}

// repFault tells one fault of a rep.
func (r *Reps) repFault(f *FaultResult, raw *rep.Fault, res *rep.Rep) string {
	fit := r.Board.Spots[raw.Who].Duty.Spot.Fits[r.Picture.Play.Kind]
	var s string
	switch raw.Kind {
	case lane.OverTheTop:
		s = "his rule is the inside hat; he went over the top"
	case lane.DucksUnder:
		s = "he went under his blocker"
	case lane.EdgeLost:
		s = "his rule is the outside hat; his hat is " + hatWord(res.Hats[raw.Who])
		if res.Hats[raw.Who] == lane.Outside {
			s = "his hat is outside of his blocker but not of the ball: that is no edge"
		}
	case lane.WrongSide:
		s = "his rule is the inside hat; his hat is " + hatWord(res.Hats[raw.Who])
	case lane.NotReplaced:
		s = "the man in front of him cracked, so the edge is his; he is not there"
	case lane.LateAlley:
		s = "he acts too late"
	case lane.WrongLane:
		s = "he fits another lane than his own"
		if fit.Say != "" {
			s += " (" + fit.Say + ")"
		}
	case lane.TwoInOne:
		s = "two men fit one lane while another is empty"
	case lane.TriggerEarly:
		s = "he goes before he may: on the fake, or before the ball leaves the hand"
	case lane.LeftBlock:
		s = "he leaves his block before the ball has declared"
	case lane.LateShed:
		s = "he hangs on his block after the ball has gone by"
	case lane.ReceiverFree:
		s = f.Man + " is his, and a ball would be there first"
	default:
		s = FaultWords(f.Kind)
	}
	switch {
	case raw.Kind == lane.ReceiverFree:
	case f.Opens >= 0 && f.SavedBy != "":
		s += fmt.Sprintf("; lane %d opens, %s makes it right", f.Opens, f.SavedBy)
	case f.Opens >= 0:
		s += fmt.Sprintf("; lane %d is open", f.Opens)
	}
	return s
}

// Because tells fault i of a track.
func (t *Track) Because(i int) string { return t.Faults[i].say }

func sorted[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
