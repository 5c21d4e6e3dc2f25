// Package field knows the ground: rulebook measures in whole inches, hash
// marks, sides and mirroring. It knows nothing of football beyond the rulebook
// and imports nothing of this project.
//
// Frame. The origin is the ball on the line of scrimmage. X runs to the
// offense's right, Y beyond the line towards the defense:
//
//	        y > 0  (defense)
//	            |
//	left -------o------- right     o = ball, line of scrimmage
//	            |
//	        y <= 0 (offense)
//
// "Out" is away from the ball on a Side; every rule of the game is written
// once in out-terms and mirrored by the Side.
//
// Places that people set, and places that travel or are kept, are whole
// inches ([Offset]). Motion is computed in float64 yards ([Vec]). The two types
// do not mix without an explicit conversion.
package field
