package rep

// What is a kind of event in a rep.
type What string

// What happens in a rep. Motion and Bump come before the snap.
const (
	Motion   What = "motion"    // a man of the offense starts in motion
	Bump     What = "bump"      // a spot moves to where the new numbers want him
	Snap     What = "snap"      //
	Keys     What = "key"       // a spot's key has shown and he acts
	Gives    What = "ball"      // the ball leaves the passer for a man
	Catch    What = "catch"     // he has it
	Meets    What = "block"     // a blocker and a spot are together
	Commits  What = "commit"    // the carrier takes a lane
	Cuts     What = "cut"       // and changes it
	Declares What = "declare"   // the ball has declared, as a spot sees it
	Sheds    What = "shed"      // a spot leaves his block
	Replaces What = "replace"   // a spot takes over the edge of a cracked man
	Matches  What = "match"     // a spot takes a receiver by his release
	Breaks   What = "too early" // a spot breaks on a fake
	Open     What = "free"      // the ball would be at a receiver before any spot
	Tackles  What = "tackle"
	Out      What = "out of bounds"
	Gone     What = "broke" // beyond the model's last yard
	Dead     What = "no throw"
	Broken   What = "broken up"
)

// Ending is how a rep ended.
type Ending string

const (
	Tackled    Ending = "tackled"
	OutOf      Ending = "out of bounds"
	BrokeAway  Ending = "broke"
	NoThrow    Ending = "no throw"  // nobody was free when the time was up
	BrokenUp   Ending = "broken up" // a defender was at the ball in time
	WhistleEnd Ending = "whistle"
)

// Hip is where the tackler is at contact: inside-out on the near hip, or on the
// far or front hip, where force belongs.
type Hip string

const (
	NoHip   Hip = ""
	NearHip Hip = "near"
	FarHip  Hip = "far"
	Front   Hip = "front"
)
