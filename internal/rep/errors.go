package rep

import (
	"fmt"
	"slices"

	"halfline/internal/call"
	"halfline/internal/lane"
	"halfline/internal/play"
)

// Error is a rule broken on purpose.
type Error string

const (
	Right           Error = ""
	OverTheTop            = Error(lane.OverTheTop)
	DucksUnder            = Error(lane.DucksUnder)
	EdgeInside            = Error(lane.EdgeLost)
	Late            Error = "late"
	WrongSideOfApex       = Error(lane.WrongLane)
	// NotReplaced: he stays where he is when the man in front of him cracks.
	NotReplaced = Error(lane.NotReplaced)
	// Early: he breaks on the fake, or goes before the ball leaves the hand.
	Early = Error(lane.TriggerEarly)
	// LeavesBlock and LateShed: off the block before the ball has declared, or long
	// after.
	LeavesBlock = Error(lane.LeftBlock)
	LateShed    = Error(lane.LateShed)
)

// Errors lists them.
var Errors = []Error{OverTheTop, DucksUnder, EdgeInside, Late, WrongSideOfApex, NotReplaced, Early, LeavesBlock, LateShed}

// How wrong a wrong man is, s. Chosen.
const (
	lateBy      = 0.4 // so much later he acts
	staysFor    = 9.0 // he does not come before the ball has declared
	earlyKey    = 0.5 // the fake shows
	leavesAfter = 0.3
	staysOn     = 0.8
)

// Possible says why a man's job makes an error impossible against a play, or
// nothing. covers is true if he answers for a receiver of it.
func Possible(o lane.Order, pl *play.Play, e Error, covers bool) error {
	fit := o.Fit
	if pl.Kind == play.Pass {
		switch {
		case e != Late && e != Early && slices.Contains(Errors, e):
			return fmt.Errorf("a pass has no block or lane to break that rule on")
		case e == Early && pl.Fakes == "":
			return fmt.Errorf("the play fakes nothing to break on")
		case !covers && (e == Late || e == Early):
			return fmt.Errorf("he answers for no receiver of this play")
		case e == Late || e == Early:
			return nil
		}
		return fmt.Errorf("no such error")
	}
	switch {
	case !slices.Contains(Errors, e):
		return fmt.Errorf("no such error")
	case !o.Known:
		return fmt.Errorf("the call gives him nothing against this play")
	case e == Late:
		return nil
	case e == OverTheTop && !(o.Blocked && fit.Hat == call.HatInside):
		return fmt.Errorf("over the top is wrong only for a blocked man whose hat must be inside")
	case e == DucksUnder && !(o.Blocked && (fit.Hat == call.HatInside || fit.Job == call.Force)):
		return fmt.Errorf("only a blocked man in front of the ball can duck under")
	case e == EdgeInside && !(o.Blocked && fit.Hat != call.HatInside && fit.Hat != call.HatEither):
		return fmt.Errorf("only a blocked man whose hat must be outside can lose the edge")
	case e == WrongSideOfApex && !(fit.Job == call.Alley && !fit.Spare):
		return fmt.Errorf("only the man who fits the alley can fit the wrong lane")
	case e == NotReplaced && !(cracked(pl) && !o.Blocked && (fit.Job == call.Force || fit.Job == call.Secondary)):
		return fmt.Errorf("only an edge man in front of whom the receiver cracks has somebody to replace")
	case e == Early && !fit.OnThrow:
		return fmt.Errorf("only a man who waits for the throw can go before it")
	case (e == LeavesBlock || e == LateShed) && !o.Blocked:
		return fmt.Errorf("nobody blocks him in this play")
	}
	return nil
}
