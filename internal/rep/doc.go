// Package rep is one run from the snap on. Commit takes it to the moment when
// the carrier commits to a lane: each block goes the way its race goes, each
// free man is as far on the way to his fit as his speed allows.
//
// Everything is best effort of the movement model; the same board gives the
// same moment.
package rep
