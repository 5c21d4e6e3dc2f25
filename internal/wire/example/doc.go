// Package example holds one good frame of each kind: for the documents, for the
// golden frames in testdata/wire, and for tests that need a plausible frame.
// Together they tell one short walkthrough, so a reader can follow it.
//
// It knows the protocol's types only; the numbers in its verdicts are set by
// hand and prove nothing about the engine.
package example
