package rep

import (
	"cmp"
	"math"
	"slices"

	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// offBy is how much a man may act before or after his time without a fault, s:
// about twice the spread of a reaction.
const offBy = 0.2

// fault notes a rule broken now.
func (s *sim) fault(who int, k lane.Kind) {
	if s.log != nil {
		s.log.faults = append(s.log.faults, Fault{T: s.t, Who: who, Kind: k, Opens: -1, SavedBy: -1, Man: -1})
	}
}

// timing notes a man who acts before or after he should.
func (s *sim) timing(i int) {
	m := &s.men[i]
	switch {
	case s.t < m.due-offBy:
		s.fault(i, lane.TriggerEarly)
	case s.t > m.due+offBy && m.block < 0 && s.pic.Play.Kind != play.Pass:
		s.fault(i, lane.LateAlley)
	}
}

// byLanes notes what the lane rule finds when the carrier commits. A man who is
// late already is at fault once.
func (s *sim) byLanes(fs []lane.Fault) {
	for _, f := range fs {
		at := slices.IndexFunc(s.log.faults, func(o Fault) bool { return o.Who == f.Who })
		if at < 0 {
			kind := f.Kind
			if kind == lane.WrongLane && s.men[f.Who].err != WrongSideOfApex {
				if r := s.b.Against(s.pic, f.Who); r.Kind != leverage.Alley || r.Margin > -s.b.Model.Band {
					continue // he is on the way to his own lane, as soon as anybody could be
				}
				kind = lane.LateAlley
			}
			s.log.faults = append(s.log.faults, Fault{Who: f.Who, Kind: kind, Man: -1})
			at = len(s.log.faults) - 1
			s.log.faults[at].T = s.t
		}
		o := &s.log.faults[at]
		o.Opens, o.SavedBy, o.Cost = f.Opens, f.SavedBy, f.Cost
	}
}

// freeMen notes, once a pass is over, the receivers who could be thrown to, and
// who answers for each; the deeper one first.
func (s *sim) freeMen() {
	if len(s.pic.Stages) == 0 || len(s.out.Best) == 0 {
		return
	}
	last := &s.pic.Stages[len(s.pic.Stages)-1]
	best := slices.Clone(s.out.Best)
	slices.SortStableFunc(best, func(a, b Ball) int { return cmp.Compare(b.At.Y, a.At.Y) })
	for _, b := range best {
		if b.Margin <= FreeBy || math.IsInf(b.Margin, 0) {
			continue
		}
		given := b.At.Y < s.b.Model.Match // the short throw is given
		by := s.pic.Routes[b.Route].By
		s.log.events = append(s.log.events, Event{T: b.Thrown, What: Open, Spot: -1, Man: by, Lane: -1})
		tag := s.b.Men[by].Man.Tag
		for i := range last.Own {
			if given {
				break
			}
			if last.Own[i].Tag == tag || last.Own[i].Then == tag {
				s.log.faults = append(s.log.faults, Fault{T: b.Thrown, Who: i, Kind: lane.ReceiverFree, Opens: -1, SavedBy: -1, Man: by})
				break
			}
		}
	}
	slices.SortStableFunc(s.log.events, func(a, b Event) int { return cmp.Compare(a.T, b.T) })
}

// ordered is the faults in order of time. Who tackles no deeper than the limit has
// saved what a fault opened; where the ball went further, nobody has.
func (s *sim) ordered() []Fault {
	fs := s.log.faults
	slices.SortStableFunc(fs, func(a, b Fault) int { return cmp.Compare(a.T, b.T) })
	for i := range fs {
		f := &fs[i]
		switch saved := s.out.How == Tackled && s.out.Gain <= s.b.Model.Limit; {
		case f.Opens < 0:
		case saved && f.SavedBy < 0 && s.out.By != f.Who:
			f.SavedBy = s.out.By
		case !saved && f.Opens == s.out.Lane:
			f.SavedBy = -1 // who was to save it has not
		}
	}
	return fs
}
