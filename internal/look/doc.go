// Package look is what the offense shows before the snap: who stands where,
// which receiver is which number, where the box ends, whether the formation
// and a motion are legal.
//
// A look knows nothing of the defense. Numbers are never stored: they follow
// from where the men stand now, so they change with every move.
package look
