package example

import (
	"halfline/internal/session"
	"halfline/internal/wire"
)

func helloFrames() []Frame {
	hello := func(name, say string, h wire.Hello) Frame {
		h.V, h.Token, h.Client = wire.Version, token, client
		return Frame{Name: "up-hello" + name, Part: "hello", Say: say, Up: &wire.Up{Hello: &h}}
	}
	return []Frame{
		hello("", "A player's phone comes for the first time.", wire.Hello{}),
		hello("-coach", "The coach's tablet opens one of his sessions.", wire.Hello{Session: id}),
		hello("-wall", "The projector opens a session to look on.", wire.Hello{Session: id, Wall: true}),
		hello("-resume", "A phone comes back and says what it has.", wire.Hello{
			Resume: &wire.Resume{Epoch: epoch, Have: 41, Chain: "0b7d44e1f29a6c05"},
		}),
	}
}

// opFrames has one frame for each row of the table above session.Op, in its
// order, sent by one client one after the other.
func opFrames() []Frame {
	at := func(x, y int) *session.Place {
		p := place(x, y)
		return &p
	}
	rows := []struct {
		say string
		op  session.Op
	}{
		{"The coach names the session.", session.Op{Do: "title", Text: "Tuesday walk-through"}},
		{"He puts up a look.", session.Op{Do: "look", Look: "twins-right"}},
		{"He calls a coverage.", session.Op{Do: "call", Call: "two-read"}},
		{"He studies the other side of the ball.", session.Op{Do: "side", Side: "left"}},
		{"He puts the ball on the right hash at his own 42.",
			session.Op{Do: "ball", Ball: &session.Ball{Rules: "nfhs", Hash: "right", Yard: 42}}},
		{"He lets go of the slot: 9 yards outside the ball, 1 behind the line.", session.Op{Do: "place", Who: "H", At: at(324, -36)}},
		{"He puts the slot on the line of scrimmage.", session.Op{Do: "line", Who: "H", On: true}},
		{"He puts the linebacker on the board.", session.Op{Do: "spot", Spot: "LB", On: true}},
		{"He sends the nickel where his rule wants him.", session.Op{Do: "lineup", Who: "N"}},
		{"He sends the back in motion: a push to 9 yards right, by a place of the coach's.",
			session.Op{Do: "motion", Who: "B", At: at(324, -180), Kind: "push", Via: []session.Place{place(162, -162)}}},
		{"He freezes the moment when the carrier of the toss commits.", session.Op{Do: "freeze", Play: "toss"}},
		{"He goes back to the alignment.", session.Op{Do: "thaw"}},
		{"He runs a rep of the toss, with the nickel over the top, as if the men were real ones.", session.Op{Do: "snap", Play: "toss", Mode: "full", Seed: 7,
			Errors: []session.Broken{{Spot: "N", Rule: "over-the-top"}}}},
		{"He walks it from a second after the snap.", session.Op{Do: "roll", Mode: "walk", Ms: ptr(1000)}},
		{"He stops it where the pitch is caught.", session.Op{Do: "stop", Ms: ptr(1150)}},
		{"He has everybody set again.", session.Op{Do: "set"}},
		{"He calls the free safety too late to count.", session.Op{Do: "late", Who: "FS", On: true}},
		{"He says who blocks whom.", session.Op{Do: "blocks", Blocks: []session.Block{{By: "H", On: "N"}, {By: "Z", On: "C"}}}},
		{"He lets every player move his own man.", session.Op{Do: "floor", Mode: "own"}},
		{"He hides the answers until each player commits.", session.Op{Do: "hide", On: true}},
		{"A player says: this is my answer.", session.Op{Do: "commit"}},
		{"The coach lets newcomers wait until he lets them in.", session.Op{Do: "door", Mode: "knock"}},
		{"He lets one in.", session.Op{Do: "admit", Member: "m3"}},
		{"He takes one out.", session.Op{Do: "remove", Member: "m3"}},
		{"A player takes the free safety's spot.", session.Op{Do: "hold", Spot: "FS"}},
		{"A player lets his spot go.", session.Op{Do: "letgo"}},
		{"The coach gives the free safety's spot to a member.", session.Op{Do: "give", Spot: "FS", Member: "m2"}},
		{"He takes a look back: the picture that was there before it, in one change.",
			session.Op{Do: "board", Picture: ptr(before())}},
	}
	out := make([]Frame, len(rows))
	for i, r := range rows {
		out[i] = Frame{Name: "up-op-" + r.op.Do, Part: "op", Say: r.say,
			Up: &wire.Up{Op: &wire.OpUp{N: uint64(i + 1), Base: 41, Op: r.op}}}
	}
	return out
}

// before is a whole picture: what a look, a call or the other side is undone by.
func before() session.Picture {
	s := ptr(State()).Clone()
	return session.Picture{Ball: &s.Ball, Side: s.Side, Look: s.Look, Call: s.Call, Men: s.Men, Spots: s.Spots, Motion: &s.Motion, Moment: &s.Moment}
}

func passingFrames() []Frame {
	there := place(612, 36)
	return []Frame{
		{Name: "up-drag", Part: "drag", Say: "A finger has the slot and passes here.",
			Up: &wire.Up{Drag: &wire.Drag{Who: "H", At: place(312, -36)}}},
		{Name: "up-point", Part: "point", Say: "The coach points at a man.", Up: &wire.Up{Point: &wire.Point{Who: "N"}}},
		{Name: "up-point-place", Part: "point", Say: "The coach points at the grass.", Up: &wire.Up{Point: &wire.Point{At: &there}}},
		{Name: "up-beat", Part: "beat", Say: "The device answers a beat.", Up: &wire.Up{Beat: &wire.Beat{T: 1793700092210}}},
	}
}
