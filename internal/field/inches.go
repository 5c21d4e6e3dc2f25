package field

import (
	"fmt"
	"math"
)

// Inches is a length in whole inches. Rulebook marks are exact in inches.
type Inches int32

// Yard is one yard in inches.
const Yard Inches = 36

// Yards converts to yards.
func (i Inches) Yards() float64 { return float64(i) / 36 }

// FromYards rounds yards to the nearest inch, halves away from zero so that a
// mirrored place stays the mirror image.
func FromYards(y float64) Inches { return Inches(math.Round(y * 36)) }

// Abs is the length without sign.
func (i Inches) Abs() Inches {
	if i < 0 {
		return -i
	}
	return i
}

// Offset is a place on the field in whole inches from the ball.
type Offset struct {
	X Inches // to the offense's right
	Y Inches // beyond the line of scrimmage
}

// At makes an Offset from yards.
func At(x, y float64) Offset { return Offset{FromYards(x), FromYards(y)} }

// Vec gives the same place in yards.
func (o Offset) Vec() Vec { return Vec{o.X.Yards(), o.Y.Yards()} }

func (o Offset) String() string {
	return fmt.Sprintf("(%g, %g)", Round2(o.X.Yards()), Round2(o.Y.Yards()))
}

// Add moves o by d.
func (o Offset) Add(d Offset) Offset { return Offset{o.X + d.X, o.Y + d.Y} }

// Sub is the move that leads from p to o.
func (o Offset) Sub(p Offset) Offset { return Offset{o.X - p.X, o.Y - p.Y} }

// Round2 rounds to two decimals, for output only.
func Round2(v float64) float64 {
	r := math.Round(v*100) / 100
	if r == 0 {
		return 0 // no negative zero in output
	}
	return r
}
