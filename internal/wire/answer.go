package wire

import (
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// AnswerOf puts the engine's result into the form that `check` prints.
func AnswerOf(b *judge.Board, r *judge.Result) Answer {
	a := Answer{Scene: 1, Look: SceneLook{LookAnswer: LookOf(r), Motion: MotionOf(b)}, Lanes: LanesOf(r), Sound: r.Sound, Faults: FaultsOf(r), Runner: RunnerOf(r), Defenders: []SpotAnswer{}}
	for i := range r.Spots {
		a.Defenders = append(a.Defenders, SpotOf(b, r, i))
	}
	return a
}

// LookOf is the offense's part of a result.
func LookOf(r *judge.Result) LookAnswer {
	return LookAnswer{Legal: len(r.Look.Violations) == 0, Violations: full(r.Look.Violations), Notes: full(r.Look.Notes),
		Numbers: Numbers{Right: full(r.Look.Right), Left: full(r.Look.Left)}}
}

// full makes an absent list an empty one, so that it never prints as null.
func full(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// SpotOf is one man's part of a result.
func SpotOf(b *judge.Board, r *judge.Result, i int) SpotAnswer {
	s := &r.Spots[i]
	card, why := r.Card(i), r.Why(i)
	out := SpotAnswer{
		Spot: s.Label,
		Half: s.Duty.Half.String(),
		Rule: RuleAnswer{Verdict: string(s.Rule.Verdict), Landmark: s.Landmark, Side: string(s.Side),
			Move: [2]float64{field.Round2(s.Rule.Move.X.Yards()), field.Round2(s.Rule.Move.Y.Yards())},
			Box:  [4]int{int(s.Box.MinX), int(s.Box.MinY), int(s.Box.MaxX), int(s.Box.MaxY)}, Because: why.Rule},
		Leverage: LeverageAnswer{Keeps: string(s.Keeps), Race: string(s.Race.Kind), By: s.By, Because: why.Leverage},
		Fix:      FixAnswer{Move: [2]int{int(s.Fix.X), int(s.Fix.Y)}, Say: why.Fix},
		Assignment: AssignmentAnswer{Align: card.Align, Eyes: card.Eyes, Fit: card.Fit, Block: card.Block, Pass: card.Pass, Plays: full(card.Plays), Rules: full(card.Rules),
			Hat: string(s.Hat), Key: s.Duty.KeyTag, On: s.BlockBy},
	}
	if out.Rule.Side == "" {
		out.Rule.Side = string(call.HeadUp)
	}
	if s.Race.Kind != leverage.NoRace {
		shown := min(s.Race.Margin, b.Model.Cap)
		sec, yd := field.Round2(shown), field.Round2(shown*s.Speed)
		out.Leverage.MarginS, out.Leverage.MarginYd = &sec, &yd
		out.Leverage.Against = s.Race.Play.ID
	}
	return out
}

// PocketOf is a man's pocket, nil if he has none now.
func PocketOf(b *judge.Board, label string) *PocketAnswer {
	p, ok := judge.Pocket(b, label)
	if !ok {
		return nil
	}
	return &PocketAnswer{Keeps: loopsOf(p.Keeps), Maybe: loopsOf(p.Maybe)}
}

func loopsOf(ls [][]field.Offset) [][][2]int {
	out := make([][][2]int, len(ls))
	for i, l := range ls {
		out[i] = make([][2]int, len(l))
		for k, o := range l {
			out[i][k] = [2]int{int(o.X), int(o.Y)}
		}
	}
	return out
}

// LanesOf is the lanes of a result.
func LanesOf(r *judge.Result) []LaneAnswer {
	out := []LaneAnswer{}
	for _, l := range r.Lanes {
		a := LaneAnswer{N: l.N, Inside: l.Inside.String(), Outside: l.Outside.String(), ShutBy: l.ShutBy, FitBy: l.FitBy, Span: [2]int{int(l.Inner), int(l.Outer)}}
		if l.HasGain {
			g := field.Round2(l.Gain)
			a.GainYd = &g
		}
		out = append(out, a)
	}
	return out
}

// FaultsOf is the faults of a result.
func FaultsOf(r *judge.Result) []FaultAnswer {
	out := []FaultAnswer{}
	for i, f := range r.Faults {
		a := FaultAnswer{Who: f.Who, Kind: f.Kind, SavedBy: f.SavedBy, Because: r.Because(i)}
		if f.Opens >= 0 {
			n, c := f.Opens, field.Round2(f.Cost)
			a.Opens, a.CostYd = &n, &c
		}
		out = append(out, a)
	}
	return out
}
