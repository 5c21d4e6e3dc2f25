package field

import "fmt"

// Side is a side of the ball as the offense sees it.
type Side int8

const (
	Left  Side = -1
	Right Side = 1
)

func (s Side) String() string {
	if s == Left {
		return "left"
	}
	return "right"
}

// Other is the opposite side.
func (s Side) Other() Side { return -s }

// ParseSide reads "left" or "right".
func ParseSide(t string) (Side, error) {
	switch t {
	case "left":
		return Left, nil
	case "right":
		return Right, nil
	}
	return 0, fmt.Errorf("side %q: want left or right", t)
}

// Out is how far x lies outside the ball on side s: positive towards that
// sideline.
func (s Side) Out(x float64) float64 { return float64(s) * x }

// OutInches is Out for whole inches.
func (s Side) OutInches(x Inches) Inches { return Inches(s) * x }

// Flip turns a place or velocity into out-terms of side s, and back: on the
// right it is the identity, on the left it mirrors X.
func (s Side) Flip(v Vec) Vec { return Vec{float64(s) * v.X, v.Y} }

// FlipOffset is Flip for whole inches.
func (s Side) FlipOffset(o Offset) Offset { return Offset{Inches(s) * o.X, o.Y} }
