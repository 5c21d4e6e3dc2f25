// Package judge puts the engine together: it takes a board as it stands (the
// offense, the defense, the call, the menu of plays; perhaps a frozen moment)
// and answers for every man and every lane at once. The live board, `check`
// and the tests all ask here, so that they cannot differ.
//
// It is pure: the same board gives the same answer, bit for bit, on one
// architecture. It knows nothing of sessions or devices.
package judge
