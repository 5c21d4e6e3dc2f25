// Package leverage runs the races that decide, before the snap, whether a
// defender can hold what his job gives him to hold: the hat race against the
// man who blocks him, the edge race and the alley race against the ball, the top
// race against a receiver.
//
// All races start from the places at the snap, with the reaction served first
// and best effort on both sides; the model is package athlete's. A margin is in
// seconds, positive when the defender is first. Within the contested band
// neither side can be told the winner.
//
// What is assumed: level ground, best effort, the stated speeds, no strength
// and no technique beyond the time that hands and feet need for a block. Work
// is done in out-terms yards of the half.
package leverage
