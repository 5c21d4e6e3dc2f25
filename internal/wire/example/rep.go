package example

import (
	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// rolling is a rep that begins to roll a quarter of a second after its fact.
func rolling() session.Rep {
	return session.Rep{Play: "toss", Errors: map[string]string{"N": "over-the-top"}, Lane: -1, Seed: 7, Until: 2700, Speed: "full", Since: 1793700095460}
}

func stopped() session.Rep {
	r := rolling()
	r.At, r.Since = 1150, 0
	return r
}

// bareTrack is what can be seen of a rep without knowing who was to do what.
func bareTrack() wire.Track {
	return wire.Track{
		Play: "toss", From: 0, Step: 900,
		Men: []string{"Z", "H", "B", "Q", "SN"}, Spots: []string{"C", "N", "FS"},
		Keys: [][]field.Inches{
			{612, -18, 4, 80, 3, 70, 0, 20}, {288, -36, -20, 90, -10, 60, 0, 10}, {54, -180, 150, 20, 110, 130, 30, 210},
			{0, -180, 0, 0, 0, 0, 0, 0}, {0, 0, 0, 0, 0, 0, 0, 0},
			{648, 252, -10, -90, -15, -60, -5, -10}, {252, 180, 60, -50, 30, -20, 0, 5}, {252, 378, 30, -40, 20, -120, 12, -60},
		},
		Ball: []field.Inches{0, -180, 150, 10, 164, 140, 30, 210},
		Events: []wire.TrackEvent{
			{T: 0, What: "snap"}, {T: 700, What: "ball", Who: "Q", To: "B"}, {T: 1150, What: "catch", Who: "B"}, {T: 2700, What: "tackle", Who: "FS", To: "B"},
		},
		Lanes: []wire.TrackLanes{}, Owners: []wire.TrackOwners{}, Faults: []wire.FaultAnswer{}, Free: []wire.TrackFree{}, Breaks: map[string][]string{},
		End: wire.TrackEnd{T: 2700, GainYd: 6.2, How: "tackled", By: "FS", Hip: "near", At: [2]field.Inches{344, 180}, Lane: -1},
	}
}

// track is the whole of it.
func track() wire.Track {
	t := bareTrack()
	t.Events = []wire.TrackEvent{
		{T: 0, What: "snap"},
		{T: 350, What: "key", Who: "N", To: "H", Say: "N reads H block"},
		{T: 700, What: "ball", Who: "Q", To: "B", Say: "pitched to B"},
		{T: 1150, What: "catch", Who: "B"},
		{T: 1250, What: "block", Who: "H", To: "N", Say: "H has N, hat outside"},
		{T: 1550, What: "commit", Who: "B", Lane: ptr(0), Say: "B takes lane 0"},
		{T: 2700, What: "tackle", Who: "FS", To: "B", Say: "FS tackles"},
	}
	t.Lanes = []wire.TrackLanes{{T: 1550, Takes: 0, Lanes: []wire.LaneAnswer{
		{N: 0, Inside: "box", Outside: "H on N", GainYd: ptr(6.2), Span: [2]int{144, 252}},
		{N: 1, Inside: "H on N", Outside: "Z on C", ShutBy: "N", Span: [2]int{252, 648}},
	}}}
	t.Owners = []wire.TrackOwners{{T: 0, Of: map[string]string{"C": "Z", "N": "H"}, Unowned: []string{}}}
	t.Faults = []wire.FaultAnswer{{Who: "N", Kind: "over-the-top", Opens: ptr(0), SavedBy: "FS", CostYd: ptr(4.1)}}
	t.Breaks = map[string][]string{"C": {"edge-lost", "late"}, "N": {"over-the-top", "late"}, "FS": {"late", "wrong-lane"}}
	t.End.Lane = 0
	return t
}
