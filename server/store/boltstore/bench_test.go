package boltstore

import (
	"testing"

	"halfline/server/store/storetest"
)

// One append is one record of 100 bytes, acknowledged after its sync.
func BenchmarkAppendEmbedded(b *testing.B) {
	storetest.BenchmarkAppend(b, open(b, b.TempDir()))
}
