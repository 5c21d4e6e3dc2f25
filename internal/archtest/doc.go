// Package archtest holds the tree to the rules that a machine can hold: which
// package may import which, which packages stay pure, where a technology may
// be named, one comment per package, what may stand at the top of the tree and
// what no committed text may say. It has tests only and knows nothing of
// football.
//
// A rule here is changed on purpose, with its reason beside it; a test that
// names a violation is mended by moving the code, not the rule.
package archtest
