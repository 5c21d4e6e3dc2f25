// Package call is what the defense is told, as data: for each spot where he
// lines up, whom he reads, what he fits, how he takes on a block, what he does
// against the pass. A call is written once in out-terms and holds for both
// sides, every hash and every look.
//
// Nothing here is computed from a look; that is package assign's work. Once the
// receivers have been numbered, pass rules answer who has whom. A new call, or a
// staff's other way of playing a known one, is data in a book file and needs no
// code.
package call
