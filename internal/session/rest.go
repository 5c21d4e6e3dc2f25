package session

import "halfline/internal/book"

// Where is where a man or spot stands now, in a frozen moment if there is one;
// false if nobody of that name is on the board.
func (s *State) Where(who string) (Place, bool) {
	at, ok := s.Spots[who]
	before := at.At
	if !ok {
		var m Man
		if m, ok = s.Men[who]; !ok {
			return Place{}, false
		}
		before = m.At
	}
	if p, moved := s.Moment.Places[who]; moved && s.Moment.Play != "" {
		return p, true
	}
	return before, true
}

// Rest is the change when a drag ends without a word, at the last place that
// was heard of it. Whoever dragged was allowed to then, so the floor is not
// asked again; a man who has left the board meanwhile is refused. So is a rep's
// end by a finger that has gone: only a hand that is there moves men out of it.
func Rest(s *State, b *book.Book, who string, at Place) (Change, *Refusal) {
	if s.Rep.Play != "" {
		return refuse(CodeFloor, "")
	}
	d := decider{s: s, b: b, role: Coach, op: Op{Do: "place", Who: who, At: &at}}
	return d.place()
}
