package rep

import "halfline/internal/lane"

// Deviations is what a rep with spread is drawn with: one standard deviation of
// each, normal, cut at Cut of them either way. Chosen in a trial.
type Deviations struct {
	Place float64 // yd, across and deep, of where everybody stands
	Speed float64 // share of top speed
	React float64 // s, of a defender's reaction
	Start float64 // s, of the offense's start
	Throw float64 // s, of when the ball leaves the hand
	Hold  float64 // s, of how long a block holds
	Sight float64 // yd a lane, of the carrier's eye
	Cut   float64
}

// SpreadOf gives the deviations in use.
func SpreadOf() Deviations {
	return Deviations{Place: sdPlace, Speed: sdSpeed, React: sdReact, Start: sdStart, Throw: sdThrow, Hold: sdHold, Sight: sdSight, Cut: cutAt}
}

// Stated are the constants that what is printed of a rep hangs on, and that no
// book changes.
type Stated struct {
	FallsOn   float64 // s of his downfield speed that a tackled man falls forward
	Contact   float64 // yd between centres when a block is met
	FreeBy    float64 // s by which a ball must beat every defender
	PlaysBall float64 // yd: a man's reach for a ball in the air
	SeesThrow float64 // s before he goes for it
	LateBy    float64 // s later that a man acts by the error late
	OffBy     float64 // s off his time before that is a fault
	Broke     float64 // yd from which a gain counts as broken
	Lanes     lane.Stated
}

// BrokeFrom is the gain that counts as broken, yd (common practice, no source).
const BrokeFrom = 10.0

// StatedValues gives them.
func StatedValues() Stated {
	return Stated{FallsOn: fallsOn, Contact: contactAt, FreeBy: FreeBy, PlaysBall: playsBall, SeesThrow: seesThrow, LateBy: lateBy,
		OffBy: offBy, Broke: BrokeFrom, Lanes: lane.StatedValues()}
}
