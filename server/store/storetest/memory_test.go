package storetest

import (
	"testing"

	"halfline/server/store"
)

// The model passes the suite, so the suite asks for nothing impossible.
func TestMemory(t *testing.T) {
	Run(t, func(testing.TB) store.Store { return NewMemory() },
		func(_ testing.TB, s store.Store) store.Store { return s })
}
