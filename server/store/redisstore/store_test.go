package redisstore

import (
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/internal/rehearse/redisproc"
	"halfline/server/store"
	"halfline/server/store/storetest"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// durable is how a Redis is to be run.
var durable = []string{"appendonly yes", "appendfsync always"}

// connect opens a store; the test closes it.
func connect(t testing.TB, url string) *Store {
	t.Helper()
	s, _, err := Open(t.Context(), url)
	require.NoError(t, err)
	return s
}

// suite runs the contract on one Redis, emptied before each case.
func suite(t *testing.T, url string) {
	storetest.Run(t,
		func(t testing.TB) store.Store {
			s := connect(t, url)
			require.NoError(t, s.client.FlushAll(t.Context()).Err())
			return s
		},
		func(t testing.TB, s store.Store) store.Store {
			require.NoError(t, s.Close())
			return connect(t, url)
		})
}

func TestContract(t *testing.T) {
	suite(t, redisproc.Start(t).URL())
}
