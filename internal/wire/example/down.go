package example

import (
	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/internal/wire"
)

func place(x, y int) session.Place { return session.Place{field.Inches(x), field.Inches(y)} }

func ptr[T any](v T) *T { return &v }

func downFrames() []Frame {
	state := State()
	down := func(name, part, say string, d wire.Down) Frame {
		return Frame{Name: "down-" + name, Part: part, Say: say, Down: &d}
	}
	welcome := wire.Welcome{V: wire.Version, Session: id, Member: "m2", Role: "player", Epoch: epoch, Seq: 41, Chain: "0b7d44e1f29a6c05", Counter: 3, T: 1793700090210}
	whole := welcome
	whole.State = &state
	moved := wire.Fact{Seq: 42, Chain: "d24c9f100e83b7a6", Client: client, N: 6, Do: "place",
		Set: session.Change{Men: map[string]*session.Man{"H": {At: place(324, -36)}}}}
	return []Frame{
		down("welcome", "welcome", "A phone without anything gets the whole state.", wire.Down{Welcome: &whole}),
		down("welcome-resume", "welcome", "A phone that had facts 1 to 41 goes on from there and gets what it missed.",
			wire.Down{Welcome: &welcome, Facts: []wire.Fact{moved}}),
		down("facts", "facts", "The slot was let go somewhere; then the player let in left his spot, was taken out, and nobody has committed.",
			wire.Down{Facts: []wire.Fact{moved, {Seq: 43, Chain: "77a0c1d93f52be18", Do: "remove", Set: session.Change{
				Spots:     map[string]*session.Spot{"FS": {At: place(252, 378)}},
				Committed: &[]string{},
				Members:   map[string]*session.Member{"m3": nil},
			}}}}),
		down("drags", "drags", "Another finger has the slot.", wire.Down{Drags: []wire.Drag{{Who: "H", At: place(312, -36), By: "m1"}}}),
		down("verdicts", "verdicts", "What a player sees of the board: his own answer in full, everybody's sign.",
			wire.Down{Verdicts: ptr(verdicts())}),
		down("verdicts-hidden", "verdicts", "What he sees before he commits: no answer of his, no sign.",
			wire.Down{Verdicts: ptr(hidden())}),
		down("verdicts-motion", "verdicts", "The back pushes out beyond the slot, who is #3 from 0.6 s before the snap on; no answers yet.",
			wire.Down{Verdicts: ptr(pushed())}),
		down("rep", "rep", "A toss with the nickel over the top, as a coach gets it: four keys of it.", wire.Down{Rep: ptr(track())}),
		down("rep-hidden", "rep", "The same as a player gets it who has not committed.", wire.Down{Rep: ptr(bareTrack())}),
		down("facts-rep", "facts", "The rep begins at a time of the hub; then the coach stops it.", wire.Down{Facts: []wire.Fact{
			{Seq: 44, Chain: "3be1907ad5512c4f", Client: client, N: 8, Do: "snap", Set: session.Change{Rep: ptr(rolling())}},
			{Seq: 45, Chain: "90cc1d27be03f8a1", Client: client, N: 9, Do: "stop", Set: session.Change{Rep: ptr(stopped())}},
		}}),
		down("roster", "roster", "Who is here, as a coach gets it.", wire.Down{Roster: &wire.Roster{
			People: []wire.Person{
				{Member: "m1", Name: "Coach", Role: "coach", In: true, Here: true},
				{Member: "m2", Name: "Ty", Number: "21", Role: "player", In: true, Here: true, Spot: "FS"},
				{Member: "m3", Name: "Bo", Number: "7", Role: "player"},
			},
			Code: "7K2M4P",
			Link: "http://192.0.2.10:8080/#join=7K2M4P",
		}}),
		down("points", "points", "The coach points at a man.", wire.Down{Points: []wire.Point{{Who: "N", By: "m1"}}}),
		down("acks", "acks", "Operation 6 is durable as fact 42; operation 7 changed nothing.",
			wire.Down{Acks: []wire.Ack{{N: 6, Seq: 42, Epoch: epoch}, {N: 7, Epoch: epoch}}}),
		down("refused", "refused", "A spot that is held cannot be taken; the store is in trouble, so that one is to be sent again.",
			wire.Down{Refused: []wire.Refused{
				{N: 8, Code: session.CodeHeld, Detail: "FS"},
				{N: 9, Code: wire.CodeStorage, RetryMS: 1500},
			}}),
		down("beat", "beat", "Nothing else was sent for 2 s.", wire.Down{Beat: &wire.Beat{T: 1793700092210, RTT: 14}}),
		down("bye", "bye", "The server restarts: come back within 5 s, each at his own random moment.",
			wire.Down{Bye: &wire.Bye{Code: wire.ByeCode(wire.CloseRestart), WaitMS: 5000}}),
	}
}

// State is a session that three have joined: half a line, three on three.
func State() session.State {
	return session.State{
		Title: "Tuesday walk-through",
		Book:  "demo",
		Ball:  session.Ball{Rules: "nfhs", Hash: "right", Yard: 42},
		Side:  "right",
		Look:  "twins-right",
		Call:  "two-read",
		Men: map[string]session.Man{
			"Z":  {At: place(612, -18), Line: true},
			"H":  {At: place(288, -36)},
			"B":  {At: place(54, -180)},
			"Q":  {At: place(0, -180)},
			"SN": {At: place(0, 0), Line: true},
		},
		Spots: map[string]session.Spot{
			"C":  {At: place(648, 252)},
			"N":  {At: place(252, 180)},
			"FS": {At: place(252, 378), By: "m2"},
		},
		Moment:    session.Moment{Places: map[string]session.Place{}, Blocks: []session.Block{}, Late: []string{}},
		Rep:       session.Rep{Errors: map[string]string{}},
		Floor:     "coach",
		Committed: []string{},
		Door:      "knock",
		Members: map[string]session.Member{
			"m1": {Role: "coach", In: true},
			"m2": {Role: "player", In: true},
			"m3": {Role: "player"},
		},
	}
}

func verdicts() wire.Verdicts {
	v := hidden()
	v.Spots = map[string]wire.SpotAnswer{"FS": {
		Spot: "FS", Half: "right",
		Rule: wire.RuleAnswer{Verdict: "too-deep", Landmark: "#2", Side: "inside", Move: [2]float64{0, -1.5},
			Box: [4]int{216, 288, 252, 324}, Because: "the call wants him 8 to 9 yards deep"},
		Leverage: wire.LeverageAnswer{Keeps: "contested", MarginS: ptr(0.06), MarginYd: ptr(0.4), Against: "toss", Race: "alley", By: "B",
			Because: "he and the carrier reach the alley within a step of one another"},
		Fix: wire.FixAnswer{Move: [2]int{0, -54}, Say: "1½ yd shallower"},
		Assignment: wire.AssignmentAnswer{Align: "8 to 9 over the inside shade of #2", Eyes: "through #2 to the back", Fit: "alley",
			Block: "outside hat on #2", Pass: "deep half", Hat: "inside", Key: "H", On: "H"},
	}}
	v.Signs = map[string]string{"C": "yes", "N": "yes", "FS": "contested"}
	return v
}

func pushed() wire.Verdicts {
	v := hidden()
	v.Look.Numbers = wire.Numbers{Right: []string{"Z", "B", "H"}, Left: []string{}}
	v.Look.Way = &wire.WayAnswer{StartS: -2.34, Path: [][2]int{{54, -180}, {432, -180}},
		Changes: []wire.CountAnswer{{TS: -0.6, At: [2]int{324, -180}, Numbers: v.Look.Numbers}}}
	return v
}

func hidden() wire.Verdicts {
	return wire.Verdicts{
		On:    42,
		Look:  wire.LookAnswer{Legal: true, Violations: []string{}, Notes: []string{}, Numbers: wire.Numbers{Right: []string{"Z", "H"}, Left: []string{}}},
		Spots: map[string]wire.SpotAnswer{},
		Signs: map[string]string{},
		Lanes: []wire.LaneAnswer{
			{N: 0, Inside: "box", Outside: "H on N", ShutBy: "N", Span: [2]int{144, 252}},
			{N: 1, Inside: "H on N", Outside: "Z on C", FitBy: "FS", GainYd: ptr(1.6), Span: [2]int{252, 648}},
		},
		Sound: true,
		Faults: []wire.FaultAnswer{
			{Who: "FS", Kind: "off-depth", Opens: ptr(1), SavedBy: "N", CostYd: ptr(2.1), Because: "from 10½ he comes late to the alley"},
		},
	}
}
