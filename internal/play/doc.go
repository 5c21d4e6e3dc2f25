// Package play is what the offense does after the snap, as data: who carries
// the ball, who blocks whom, when the ball is thrown, caught, and when the
// carrier commits to a lane. Every number belongs to the book and can be
// changed there.
//
// It must not know of the defense beyond the roles that blocks are aimed at.
package play
