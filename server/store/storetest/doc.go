// Package storetest is the suite that every store must pass. Each case carries
// the rule that it checks: D for durability and delivery, I for an invariant of
// the log. It knows the contract in package store and no implementation of it.
//
// Memory is the contract again, as plainly as it can be written: the property
// test compares a store with it, operation by operation. It forgets everything
// and is for tests only.
package storetest
