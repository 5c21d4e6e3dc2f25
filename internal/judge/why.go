package judge

import (
	"fmt"
	"strings"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// Why tells rule, race and fix of spot i.
func (r *Result) Why(i int) Why {
	if r.words.frozen {
		return r.whyMoment(i)
	}
	s := &r.Spots[i]
	return Why{Rule: r.whyRule(s), Leverage: r.whyRace(s), Fix: whyFix(s)}
}

// Because tells fault i.
func (r *Result) Because(i int) string {
	if f := &r.Faults[i]; !r.words.frozen {
		return r.whyRule(&r.Spots[f.spot])
	}
	return r.faultWords(i)
}

func (r *Result) whyRule(s *SpotResult) string {
	d := &s.Duty
	switch {
	case d.Spot.Stand == nil:
		return "the call gives him no landmark on the perimeter"
	case !d.Placed:
		return fmt.Sprintf("nobody is out on his side to line up off (%s)", d.Spot.Stand.Best.Off)
	}
	rule := named(rangeWords(d.Stand, depth(d)), r.words.numbers.Numbers(d.Half))
	o := d.Half.FlipOffset(s.At)
	off := o.X - d.KeepX
	who := string(d.Stand.Keep.Off)
	if d.KeepTag != "" {
		who = d.KeepTag
	}
	stands := "head up on " + who
	if off >= field.Yard/2 {
		stands = Length(off) + " outside " + who
	} else if off <= -field.Yard/2 {
		stands = Length(-off) + " inside " + who
	}
	if s.Landmark == string(call.OffBall) {
		stands = "over the ball's side"
	}
	return fmt.Sprintf("rule: %s; he stands %s, %s deep: %s", rule, stands, strings.TrimSuffix(Length(max(o.Y, 0)), " yd"), verdictWords(s))
}

func depth(d *assign.Duty) call.Depth {
	return call.Depth{Best: d.Best.Y, Least: d.Box.Least, Most: d.Box.Most}
}

func verdictWords(s *SpotResult) string {
	switch s.Rule.Verdict {
	case assign.WrongSide:
		return "that is the wrong side, his is " + string(s.Side)
	case assign.TooTight:
		return "too tight to the ball"
	case assign.TooWide:
		return "too wide"
	case assign.TooDeep:
		return "too deep"
	case assign.TooShallow:
		return "too shallow"
	}
	if s.Rule.Near {
		return "at the very edge of his rule"
	}
	return "right"
}

func (res *Result) whyRace(s *SpotResult) string {
	r, model := &s.Race, &res.words.model
	if r.Kind == leverage.NoRace {
		if res.words.plays == 0 {
			return "no play of the menu can be run from this look"
		}
		return "his job here has no race of its own: he helps"
	}
	end := fmt.Sprintf("%s to spare", Seconds(r.Margin))
	switch {
	case r.Margin < 0:
		end = fmt.Sprintf("%s short", Seconds(r.Margin))
	case r.Margin > model.Cap:
		end = fmt.Sprintf("more than %s to spare", Seconds(model.Cap))
	}
	if r.Margin > -model.Band && r.Margin < model.Band {
		end += fmt.Sprintf(", within %s nobody can tell", Seconds(model.Band))
	}
	at := fmt.Sprintf("(%.1f, %.1f)", r.At.X, r.At.Y)
	if r.Kind == leverage.Hat {
		return fmt.Sprintf("%s: to keep his hat %s of %s he must hold %s (yards out and deep); he is there at %.2f s, %s can seal it at %.2f s with his hands on: %s",
			r.Play.Name, r.Side, s.By, at, r.Mine, s.By, r.His, end)
	}
	if r.Kind == leverage.Edge {
		return fmt.Sprintf("%s: the edge is his; he is outside and in front of it at %s (yards out and deep) at %.2f s, %s can turn it at %.2f s: %s",
			r.Play.Name, at, r.Mine, s.By, r.His, end)
	}
	if r.Kind == leverage.Top {
		return fmt.Sprintf("%s: a ball can meet %s so that he must be at %s (yards out and deep) at %.2f s; he can be there at %.2f s: %s",
			r.Play.Name, s.By, at, r.His, r.Mine, end)
	}
	return fmt.Sprintf("%s: %s can be in the mouth of his lane at %.2f s; he stands at the fit %s (yards out and deep) at %.2f s: %s",
		r.Play.Name, s.By, r.His, at, r.Mine, end)
}

func whyFix(s *SpotResult) string {
	if s.Rule.Verdict == assign.Right && s.Keeps == leverage.Yes {
		return "Stay"
	}
	m := Move(s.Fix, s.Duty.Half)
	if !s.Held && s.Fix == (field.Offset{}) {
		return "Stay: no better place in your rule"
	}
	if !s.Held {
		return m + ": the best your rule allows"
	}
	return m
}

// FaultWords tells a kind of fault.
func FaultWords(k string) string {
	switch lane.Kind(k) {
	case lane.OverTheTop:
		return "over the top"
	case lane.DucksUnder:
		return "ducks under"
	case lane.EdgeLost:
		return "edge lost"
	case lane.LateAlley:
		return "late to the alley"
	case lane.WrongLane:
		return "wrong lane"
	case lane.NotReplaced:
		return "crack not replaced"
	case lane.TwoInOne:
		return "two in one lane"
	case lane.WrongSide:
		return "wrong side"
	case lane.OffDepth:
		return "off his depth"
	}
	return strings.ReplaceAll(k, "-", " ")
}

// faultWords tells fault i of a frozen moment.
func (res *Result) faultWords(i int) string {
	m, lr, r := &res.words.moment, &res.words.lane, &res.Faults[i]
	f := &lr.Faults[i]
	var by string
	var hat lane.Hat
	if k, _ := part(lr, f.Who); k >= 0 {
		by, hat = lr.Blocks[k].By, lr.Blocks[k].Hat
	}
	d := &m.Men[f.Who]
	var s string
	switch f.Kind {
	case lane.OverTheTop, lane.WrongSide:
		s = fmt.Sprintf("his rule is the inside hat on %s; his hat is %s", by, hatWord(hat))
	case lane.DucksUnder:
		if by != "" {
			s = fmt.Sprintf("his rule is the outside hat on %s; he went inside of him", by)
		} else {
			s = "he went under his blocker, who is free to climb to the next man"
		}
	case lane.EdgeLost:
		if hat == lane.Outside {
			s = fmt.Sprintf("his hat is outside of %s but inside of the ball: that is no edge", by)
		} else {
			s = fmt.Sprintf("his rule is the outside hat on %s; his hat is %s", by, hatWord(hat))
		}
	case lane.NotReplaced:
		s = "his man cracked inside, so the edge is his; he is not there"
	case lane.LateAlley:
		s = "the lane is his; he gets there too late"
		if d.Order.Fit.Spare {
			s = "the free man in front of him is blocked, so the lane is his; he gets there too late"
		}
	case lane.WrongLane:
		s = "he fits another lane than his own"
	case lane.TwoInOne:
		s = "two men fit one lane while another is empty"
	}
	switch {
	case f.Opens < 0 && r.SavedBy != "":
		s += fmt.Sprintf("; opens nothing while %s holds", r.SavedBy)
	case f.Opens < 0:
		s += "; opens nothing"
	case r.SavedBy != "":
		s += fmt.Sprintf("; lane %d opens, %s makes it right", f.Opens, r.SavedBy)
	default:
		s += fmt.Sprintf("; lane %d is open, nobody fits it", f.Opens)
	}
	if f.Opens >= 0 && f.Cost >= 0.05 {
		s += fmt.Sprintf(" (costs %.1f yd)", f.Cost)
	}
	return s
}

func hatWord(h lane.Hat) string {
	switch h {
	case lane.In:
		return "inside"
	case lane.Outside:
		return "outside"
	}
	return "head up, which shuts nothing"
}

// whyMoment tells a man's part in a frozen moment.
func (r *Result) whyMoment(k int) Why {
	m, lr := &r.words.moment, &r.words.lane
	if k >= len(m.Men) {
		return Why{"no play tells his part in this moment", "answers for no lane here", "Stay"}
	}
	var y Why
	o := &m.Men[k].Order
	blocked, fault := part(lr, k)
	switch {
	case !o.Known:
		y.Rule = "the call gives him nothing on this side"
	case blocked >= 0:
		y.Rule = fmt.Sprintf("%s blocks him; hat %s", lr.Blocks[blocked].By, hatWord(lr.Blocks[blocked].Hat))
	default:
		y.Rule = "free: " + o.Fit.Say
	}
	var does []string
	for i := range lr.Lanes {
		l := &lr.Lanes[i]
		if l.ShutBy == k {
			does = append(does, fmt.Sprintf("shuts lane %d", l.N))
		}
		if l.FitBy == k {
			does = append(does, fmt.Sprintf("fits lane %d, meets the ball at %.1f yd", l.N, l.Gain))
		}
	}
	y.Leverage = strings.Join(does, "; ")
	if fault >= 0 {
		y.Leverage = FaultWords(string(lr.Faults[fault].Kind)) + ": " + r.faultWords(fault)
	}
	if y.Leverage == "" {
		y.Leverage = "answers for no lane here"
	}
	s := &r.Spots[k]
	y.Fix = Move(s.Fix, s.Duty.Half)
	if fault >= 0 && s.Fix == (field.Offset{}) {
		y.Fix = "Be there sooner"
	}
	return y
}
