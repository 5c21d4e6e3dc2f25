package gate

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wrong tries a code that is not there and reports whether it was looked up.
func (d *door) wrong(addr string) bool {
	d.Helper()
	_, err := d.Code(d.ctx, addr, "222222")
	if errors.Is(err, ErrTooMany) {
		return false
	}
	require.ErrorIs(d, err, ErrNoCode)
	return true
}

func TestAddressHasTwentyTriesThenTenAMinute(t *testing.T) {
	d := newDoor(t)
	for i := range 20 {
		require.True(t, d.wrong("a"), i)
	}
	require.False(t, d.wrong("a"))
	require.True(t, d.wrong("b"), "another address is not to blame")
	d.clock.pass(6 * time.Second)
	require.True(t, d.wrong("a"))
	require.False(t, d.wrong("a"))
	_, err := d.Coach(d.ctx, "a", "nonsense")
	require.ErrorIs(t, err, ErrTooMany, "codes and keys are counted together")

	tried := 0
	for range 3600 { // an hour of a try a second
		d.clock.pass(time.Second)
		if d.wrong("a") {
			tried++
		}
	}
	assert.InDelta(t, 600, tried, 1)
}

func TestRightTriesDoNotCount(t *testing.T) {
	d := newDoor(t)
	code := d.draw("s1", false)
	for range 19 {
		d.wrong("school")
	}
	for range 500 {
		_, err := d.Code(d.ctx, "school", code)
		require.NoError(t, err)
		_, err = d.Coach(d.ctx, "school", d.key)
		require.NoError(t, err)
	}
	require.True(t, d.wrong("school"))
	_, err := d.Code(d.ctx, "school", code)
	require.ErrorIs(t, err, ErrTooMany, "out of tries, a right one waits too: else the answer would tell")
}

func TestFaultsOfTheStoreDoNotCount(t *testing.T) {
	d := newDoor(t)
	done, cancel := context.WithCancel(d.ctx)
	cancel()
	for range 100 {
		_, err := d.Code(done, "a", "222222")
		require.ErrorIs(t, err, context.Canceled)
	}
	require.True(t, d.wrong("a"))
}

func TestServerHasSixtyTriesAMinute(t *testing.T) {
	d := newDoor(t)
	tried := 0
	for i := range 36_000 { // an hour of ten tries a second, each from elsewhere
		d.clock.pass(100 * time.Millisecond)
		if d.wrong(fmt.Sprint(i)) {
			tried++
		}
	}
	assert.InDelta(t, 3600+60, tried, 2)
}

func TestAddressesAreForgotten(t *testing.T) {
	c := &clock{t: time.Unix(1_800_000_000, 0)}
	l := newLimiter(c.now)
	for i := range 3 * addrMost {
		l.failed(fmt.Sprint(i))
	}
	assert.Len(t, l.by, addrMost)
	for range addrBurst {
		l.failed("new") // has no room of its own
	}
	c.pass(time.Minute) // the server's own bucket is full again
	for range addrBurst {
		l.failed("new")
	}
	assert.False(t, l.may("newer"), "those without room share one")
	assert.True(t, l.may("7"), "those with room do not")
	c.pass(forgetAfter + time.Second)
	l.failed("late")
	assert.Len(t, l.by, 1)
}

// TestManyTriesAtOnce: a thousand connections do not make more tries.
func TestManyTriesAtOnce(t *testing.T) {
	d := newDoor(t)
	code := d.draw("s1", false)
	var tried atomic.Int64
	var wg sync.WaitGroup
	for i := range 500 {
		wg.Go(func() {
			_, err := d.Code(d.ctx, "guesser", "222222")
			if errors.Is(err, ErrNoCode) {
				tried.Add(1)
			}
		})
		if i%5 == 0 {
			wg.Go(func() {
				session, err := d.Code(d.ctx, "team", code)
				assert.NoError(t, err)
				assert.Equal(t, "s1", session)
			})
		}
	}
	wg.Wait()
	assert.Equal(t, int64(addrBurst), tried.Load())
}
