package redisstore

import (
	"testing"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store/storetest"
)

// One append is one record of 100 bytes, acknowledged after Redis's sync.
func BenchmarkAppendRedis(b *testing.B) {
	storetest.BenchmarkAppend(b, connect(b, redisproc.Start(b, durable...).URL()))
}
