// Package session is one walkthrough as a state machine: what a session
// holds, who may do what, and how an operation turns into a change. It is
// pure: no I/O, no clock, no goroutine. One owner calls it; the hub is that
// owner.
//
//	op ──Decide──▶ Change ──Apply──▶ State'      (or a Refusal, State unchanged)
//
// A Change says what is now so, never how it came about: replaying a log
// applies changes and runs no rule again, so an old log means the same under
// new rules. The JSON form of State and Change is both the record kept in the
// store and what travels to the devices; it is the one place in the inner
// packages that has JSON tags.
//
// It must not know of sockets, stores, people's names (they live in a side
// table, so that one can be forgotten) or join codes.
package session
