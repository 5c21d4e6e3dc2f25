package judge

import (
	"halfline/internal/book"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// Rest is one assumption under a man's answer, in the staff's words.
type Rest struct {
	Say string
	Assumption
}

// Rests lists the assumptions that the answer of spot i hangs on, those that are
// his and his opponent's first: of all that a board assumes the few that would
// move this margin. A margin of another play or blocker rests on others.
func (r *Result) Rests(b *Board, bk *book.Book, i int) []Rest {
	is := map[string]Assumption{}
	for _, a := range Assumptions(b, bk) {
		is[a.Key] = a
	}
	var out []Rest
	add := func(key, say string) {
		if a, ok := is[key]; ok {
			out = append(out, Rest{say, a})
		}
	}
	s := &r.Spots[i]
	of := func(who string) {
		add("athlete."+who+".top", who+": top speed")
		add("athlete."+who+".tau", who+": time to get up to it")
		add("athlete."+who+".react", who+": reaction")
	}
	of(s.Label)
	if s.Race.Kind != leverage.NoRace {
		p := s.Race.Play
		add("key."+s.Label+"."+p.ID, "his key shows on "+p.Name)
		of(s.By)
		restsOfRace(s, p, add)
	}
	add("model.band", "contested within")
	return out
}

// restsOfRace adds what one kind of race alone hangs on.
func restsOfRace(s *SpotResult, p *play.Play, add func(key, say string)) {
	switch s.Race.Kind {
	case leverage.Hat:
		add("model.set", "a blocker sets hands and feet")
		if d := s.Duty.Spot; d != nil && d.Role == play.Corner {
			add("model.stalk_set", "more, to stalk a corner")
		}
		add("race.half_man", "half a man")
		add("race.meet_share", "they meet so far on the way")
	case leverage.Alley:
		add("play."+p.ID+".caught", "the ball is caught")
		add("play."+p.ID+".commits", "its carrier commits")
		add("athletes.carry", "his speed with the ball")
		add("model.gain_limit", "the ball is met no deeper than")
		add("race.fit_reach", "reach at the fit")
	case leverage.Edge:
		add("play."+p.ID+".caught", "the ball is caught")
		add("play."+p.ID+".commits", "its carrier commits")
		add("athletes.carry", "his speed with the ball")
		add("race.edge_front", "in front of the ball by")
		add("race.edge_reach", "reach at the corner")
	case leverage.Top:
		add("play."+p.ID+".throw_from", "the ball can be thrown from")
		add("play."+p.ID+".throw_to", "until")
		add("race.flight_share", "speed of the ball, of a pro's")
		add("race.over_by", "over his man by")
		add("race.over_reach", "reach of a deep man")
	}
}
