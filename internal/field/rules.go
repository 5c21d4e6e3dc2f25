package field

import "fmt"

// Rules names a rulebook.
type Rules string

const (
	NFHS Rules = "nfhs" // high school
	NCAA Rules = "ncaa" // college
	Pro  Rules = "pro"
)

// AllRules lists the rulebooks in a fixed order.
var AllRules = []Rules{NFHS, NCAA, Pro}

// Rulebook measures. All three codes share the outer bounds: 360 ft x 160 ft
// with end zones 10 yd deep (NFHS 1-1-2, NCAA 1-2-1, NFL Rule 1-1-1).
const (
	Width   Inches = 1920 // 160 ft
	EndZone Inches = 360  // 10 yd
	Goals   Inches = 3600 // goal line to goal line, 100 yd
)

// HashFromSideline is the distance of either row of hash marks from its
// nearer sideline: NFHS 1-2-3 (53 ft 4 in), NCAA 2-12-7 (60 ft), NFL Rule 1-1
// (70 ft 9 in).
func (r Rules) HashFromSideline() Inches {
	switch r {
	case NCAA:
		return 720
	case Pro:
		return 849
	default:
		return 640
	}
}

// NumbersFromSideline is the edge of the yard numbers towards the middle of
// the field: 9 yd in NFHS (nine-yard marks, 7-2-1) and NCAA (1-2-1-i). The pro
// rule puts the bottoms 12 yd in; with 2 yd of height that edge is 14 yd in.
func (r Rules) NumbersFromSideline() Inches {
	if r == Pro {
		return 14 * Yard
	}
	return 9 * Yard
}

// ParseRules reads a rulebook's name.
func ParseRules(t string) (Rules, error) {
	switch r := Rules(t); r {
	case NFHS, NCAA, Pro:
		return r, nil
	}
	return "", fmt.Errorf("rules %q: want nfhs, ncaa or pro", t)
}

// Hash is where across the field the ball is put down, as the offense sees it.
type Hash string

const (
	LeftHash   Hash = "left"
	MiddleHash Hash = "middle"
	RightHash  Hash = "right"
)

// ParseHash reads a hash's name.
func ParseHash(t string) (Hash, error) {
	switch h := Hash(t); h {
	case LeftHash, MiddleHash, RightHash:
		return h, nil
	}
	return "", fmt.Errorf("hash %q: want left, middle or right", t)
}

// Mirror is the hash on the other side of the field.
func (h Hash) Mirror() Hash {
	switch h {
	case LeftHash:
		return RightHash
	case RightHash:
		return LeftHash
	}
	return MiddleHash
}

// Ball is where the ball lies: rulebook, hash and yard line.
type Ball struct {
	Rules Rules
	Hash  Hash
	Yard  int // 1..99 from the offense's own goal line
}

// Validate reports a ball that is not on the field of play.
func (b Ball) Validate() error {
	if _, err := ParseRules(string(b.Rules)); err != nil {
		return err
	}
	if _, err := ParseHash(string(b.Hash)); err != nil {
		return err
	}
	if b.Yard < 1 || b.Yard > 99 {
		return fmt.Errorf("yard %d: want 1 to 99 from the offense's own goal line", b.Yard)
	}
	return nil
}

// Sideline is the distance from the ball to the sideline on side s.
func (b Ball) Sideline(s Side) Inches {
	h := b.Rules.HashFromSideline()
	switch {
	case b.Hash == MiddleHash:
		return Width / 2
	case (b.Hash == LeftHash) == (s == Left):
		return h
	default:
		return Width - h
	}
}

// Numbers is the distance from the ball to the edge of the numbers (towards
// the middle) on side s. It is negative when the ball lies outside of them.
func (b Ball) Numbers(s Side) Inches { return b.Sideline(s) - b.Rules.NumbersFromSideline() }

// Deepest is the last playable Y ahead of the ball: the far end line.
func (b Ball) Deepest() Inches { return Goals - Inches(b.Yard)*Yard + EndZone }

// Behind is the last playable Y behind the ball: the offense's own end line.
func (b Ball) Behind() Inches { return -(Inches(b.Yard)*Yard + EndZone) }

// Inside reports whether o lies on the field, lines included.
func (b Ball) Inside(o Offset) bool {
	return o.X <= b.Sideline(Right) && -o.X <= b.Sideline(Left) && o.Y <= b.Deepest() && o.Y >= b.Behind()
}

// Clamp moves o to the nearest place on the field.
func (b Ball) Clamp(o Offset) Offset {
	return Offset{
		X: min(max(o.X, -b.Sideline(Left)), b.Sideline(Right)),
		Y: min(max(o.Y, b.Behind()), b.Deepest()),
	}
}

// FieldSide is the wide side of the ball; ok is false in the middle, where
// neither side is wide.
func (b Ball) FieldSide() (s Side, ok bool) {
	switch b.Hash {
	case LeftHash:
		return Right, true
	case RightHash:
		return Left, true
	}
	return 0, false
}
