// Package twin is the sync part of the web client once more, in Go: confirmed
// state, own operations, resume. Tests of the hub and the simulator use it as a
// device, and it holds the hub to the protocol more strictly than a browser
// does: what a browser would mend by connecting again is an error here.
//
//	Hello ──▶ Take(welcome) ──▶ Take(facts, drags, verdicts, acks, refused) ...
//	Do(op) ──▶ OpUp, kept until it is answered
//
// It is pure: no socket, no clock. Whoever drives it carries the frames and
// decides when to send again.
package twin
