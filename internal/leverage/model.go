package leverage

// Model holds the numbers that are nobody's own. All are seconds or yards, and
// all can be changed by a book.
type Model struct {
	Band     float64 // contested within this either way; about one standard deviation of a rep's spread
	Cap      float64 // margins are shown up to this
	Set      float64 // a block needs hands and feet: given to the defender
	StalkSet float64 // more, when a receiver must break down to stalk a corner
	Limit    float64 // yards: a fitter must meet the ball no deeper than this
	Blocked  float64 // hold: a beaten man is out of the play for so long after contact
	Loose    float64 // and this long on the side where his hat is
	Ball     float64 // ball reaction of a free man
	Tackle   float64 // yards between centres at a tackle
	Broke    float64 // yards: beyond it there is nobody on a half-line; gains are cut there
	// Match is how far beyond the line a receiver must be before a man who takes
	// "vertical" takes him, yd: staffs say 5 to 12.
	Match float64
}

// Default is the model as tried: the band is derived, set and stalk were chosen
// because reps came out right, the others are common practice, no source.
func Default() Model {
	return Model{Band: 0.1, Cap: 0.5, Set: 0.1, StalkSet: 0.2, Limit: 4, Blocked: 1.5, Loose: 0.25, Ball: 0.25, Tackle: 1, Broke: 15, Match: 8}
}
