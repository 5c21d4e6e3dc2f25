// Package gate knows who may come in: tokens of devices, join codes, and how
// many wrong tries an address has left. Tokens and codes are kept hashed; what
// the gate hands out in plain it forgets at once.
//
// It decides nothing about what a member may do: that is the session's.
package gate
