package wire

import (
	"halfline/internal/field"
	"halfline/internal/judge"
)

// RestsOut is what one man's answer rests on.
type RestsOut struct {
	Spot    string `json:"spot"`
	Against string `json:"against"` // the play that decides, "" if his job has no race
	By      string `json:"by"`      // the man who can beat him
	Rests   []Rest `json:"rests"`   // those that are his first
}

// Rest is one assumption: a number, how well it is founded, and where it is
// changed.
type Rest struct {
	Say    string  `json:"say"` // "N: top speed"
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"` // "" for a share
	Status string  `json:"status" enum:"published,derived,common practice,chosen"`
	Source string  `json:"source"`
	Change string  `json:"change"` // "athletes in a book", "not by a book"
}

// RestsOf tells what the answer of a spot rests on.
func RestsOf(s *judge.SpotResult, rests []judge.Rest) RestsOut {
	out := RestsOut{Spot: s.Label, By: s.By, Rests: []Rest{}}
	if s.Race.Play != nil {
		out.Against = s.Race.Play.ID
	}
	for _, a := range rests {
		out.Rests = append(out.Rests, Rest{Say: a.Say, Value: field.Round2(a.Value), Unit: a.Unit, Status: string(a.Status), Source: a.Source, Change: a.Change})
	}
	return out
}
