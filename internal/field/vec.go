package field

import "math"

// Vec is a place, a displacement (yards) or a velocity (yards per second).
type Vec struct{ X, Y float64 }

func (a Vec) Add(b Vec) Vec      { return Vec{a.X + b.X, a.Y + b.Y} }
func (a Vec) Sub(b Vec) Vec      { return Vec{a.X - b.X, a.Y - b.Y} }
func (a Vec) Mul(k float64) Vec  { return Vec{a.X * k, a.Y * k} }
func (a Vec) Dot(b Vec) float64  { return a.X*b.X + a.Y*b.Y }
func (a Vec) Norm() float64      { return math.Sqrt(a.X*a.X + a.Y*a.Y) }
func (a Vec) Dist(b Vec) float64 { return a.Sub(b).Norm() }
func (a Vec) Finite() bool       { return finite(a.X) && finite(a.Y) }
func (a Vec) Offset() Offset     { return At(a.X, a.Y) }
func finite(v float64) bool      { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Unit is the direction of a, or zero for a zero vector.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if n == 0 {
		return Vec{}
	}
	return a.Mul(1 / n)
}
