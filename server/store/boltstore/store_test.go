package boltstore

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"halfline/server/store"
	"halfline/server/store/storetest"
)

func TestMain(m *testing.M) {
	if play := children[os.Getenv(childEnv)]; play != nil {
		if err := play(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	goleak.VerifyTestMain(m)
}

func TestContract(t *testing.T) {
	storetest.Run(t,
		func(t testing.TB) store.Store { return open(t, t.TempDir()) },
		func(t testing.TB, s store.Store) store.Store {
			require.NoError(t, s.Close())
			return open(t, s.(*Store).folder)
		})
}

func open(t testing.TB, folder string) *Store {
	t.Helper()
	s, err := Open(folder)
	require.NoError(t, err)
	return s
}
