// Package rep is one run, screen or pass from the snap on.
//
// Commit takes a run to the moment when the carrier commits to a lane: each block
// goes the way its race goes, each free man is as far on the way to his fit as his
// speed allows. Run plays the whole rep in steps of 1/60 s: the offense by its
// play, the carrier by the lanes as he sees them, each defender by his call, key,
// then fit or cover. Many plays it often with spread, right and wrong on the same
// seeds.
//
// Everything is the movement law of package athlete; hats are settled by the race
// of package leverage, so what is told before the snap and what the rep does are
// one. The same board, play and seed give the same rep. How men steer was chosen
// so that outcomes come out as a trial of the model found them, in sign and order:
// nobody measured it. There is no strength, no technique, no missed tackle and no
// pursuit from the far side.
package rep
