package gate

import (
	"encoding/json"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/server/store"
)

func TestTokensProveWhoTheyWereGivenTo(t *testing.T) {
	d := newDoor(t)
	coach, player := d.coach(), d.player()
	for _, token := range []string{coach, player} {
		assert.Regexp(t, `^[0-9a-f]{40}$`, token, "160 bits")
	}
	p, err := d.Token(d.ctx, coach)
	require.NoError(t, err)
	assert.Equal(t, "coach", p.Role)
	assert.Empty(t, p.Session, "a coach opens any session")
	assert.Regexp(t, `^[0-9a-f]{16}$`, p.Member)
	p, err = d.Token(d.ctx, player)
	require.NoError(t, err)
	assert.Equal(t, Pass{Role: "player", Member: "m1", Session: "s1", Made: d.clock.now().Unix(), Used: d.clock.now().Unix()}, p)
	assert.NotEqual(t, coach, d.coach(), "each device has its own")
}

func TestWhatIsNoTokenOpensNothing(t *testing.T) {
	d := newDoor(t)
	good := d.player()
	for _, token := range []string{"", "x", good[:39], good + "0", strings.ToUpper(good), strings.Repeat("0", 40),
		strings.Repeat("\x00", 40), "token:" + good[6:], hashed("", good)[:40]} {
		if token == good {
			continue // a token of digits only
		}
		_, err := d.Token(d.ctx, token)
		assert.ErrorIs(t, err, ErrNoToken, "%q", token)
	}
	_, err := d.Coach(d.ctx, "a", d.key[1:])
	assert.ErrorIs(t, err, ErrNoToken)
	_, err = d.Coach(d.ctx, "a", "")
	assert.ErrorIs(t, err, ErrNoToken)
}

// TestTokensEndUnused: the times are those of the reliability rules, to the
// second.
func TestTokensEndUnused(t *testing.T) {
	for _, c := range []struct {
		who   string
		lasts time.Duration
		make  func(*door) string
	}{
		{"player", 12 * time.Hour, (*door).player},
		{"coach", 7 * 24 * time.Hour, (*door).coach},
	} {
		t.Run(c.who, func(t *testing.T) {
			d := newDoor(t)
			unused, used := c.make(d), c.make(d)
			d.clock.pass(c.lasts)
			_, err := d.Token(d.ctx, used)
			require.NoError(t, err, "good to the last second")
			d.clock.pass(time.Second)
			_, err = d.Token(d.ctx, unused)
			require.ErrorIs(t, err, ErrNoToken)
			d.clock.pass(c.lasts - time.Second)
			_, err = d.Token(d.ctx, used)
			require.NoError(t, err, "each use counts anew")
			d.clock.pass(-c.lasts)
			_, err = d.Token(d.ctx, used)
			require.NoError(t, err, "a clock that is put back ends nothing")
		})
	}
}

func TestCoachesTokenEndsAfterThirtyDaysOfUse(t *testing.T) {
	d := newDoor(t)
	token := d.coach()
	for range 30 {
		d.clock.pass(24 * time.Hour)
		_, err := d.Token(d.ctx, token)
		require.NoError(t, err)
	}
	d.clock.pass(time.Second)
	_, err := d.Token(d.ctx, token)
	require.ErrorIs(t, err, ErrNoToken)
}

func TestUseIsWrittenSeldom(t *testing.T) {
	d := newDoor(t)
	token := d.player()
	stored := func() Pass {
		var p Pass
		require.NoError(t, json.Unmarshal(d.kept()[hashed(tokenPrefix, token)], &p))
		return p
	}
	made := stored().Used
	d.clock.pass(touchEvery)
	_, err := d.Token(d.ctx, token)
	require.NoError(t, err)
	assert.Equal(t, made, stored().Used)
	d.clock.pass(time.Second)
	_, err = d.Token(d.ctx, token)
	require.NoError(t, err)
	assert.Equal(t, d.clock.now().Unix(), stored().Used)
}

// TestTokenLifeAgainstModel uses tokens at random times; a plain model keeps
// what was noted.
func TestTokenLifeAgainstModel(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d := newDoor(t)
		coach := rapid.Bool().Draw(r, "coach")
		token, idle, most := "", 12*time.Hour, 10_000*time.Hour
		if coach {
			token, idle, most = d.coach(), 7*24*time.Hour, 30*24*time.Hour
		} else {
			token = d.player()
		}
		made := d.clock.now()
		noted := made
		for range rapid.IntRange(1, 40).Draw(r, "uses") {
			if rapid.Bool().Draw(r, "restart") {
				d.restart()
			}
			d.clock.pass(time.Duration(rapid.Int64Range(0, int64(idle/time.Second)*5/4).Draw(r, "wait")) * time.Second)
			now := d.clock.now()
			_, err := d.Token(d.ctx, token)
			if now.Sub(noted) > idle || now.Sub(made) > most {
				require.ErrorIs(r, err, ErrNoToken)
				return
			}
			require.NoError(r, err)
			if now.Sub(noted) > 30*time.Minute {
				noted = now
			}
		}
	})
}

func TestTokensOutliveAProcessTheCoachesKeyDoesNot(t *testing.T) {
	d := newDoor(t)
	old, coach, player := d.key, d.coach(), d.player()
	d.restart()
	for _, token := range []string{coach, player} {
		_, err := d.Token(d.ctx, token)
		require.NoError(t, err)
	}
	_, err := d.Coach(d.ctx, "a", old)
	require.ErrorIs(t, err, ErrNoToken)
	d.coach()
}

// TestStoreHoldsNoSecrets scans every byte that the gate has written.
func TestStoreHoldsNoSecrets(t *testing.T) {
	d := newDoor(t)
	secrets := []string{d.key, d.coach(), d.player(), d.draw("s1", false), d.draw("s2", true)}
	d.clock.pass(time.Hour)
	for _, token := range secrets[1:3] {
		_, err := d.Token(d.ctx, token) // writes its use
		require.NoError(t, err)
	}
	items := d.kept()
	require.Len(t, items, 4)
	for key, raw := range items {
		for _, s := range secrets {
			assert.NotContains(t, strings.ToLower(key), strings.ToLower(s))
			assert.NotContains(t, strings.ToLower(string(raw)), strings.ToLower(s))
		}
	}
}

func TestUseThatCannotBeNotedIsNoReasonToRefuse(t *testing.T) {
	d := newDoor(t)
	token := d.player()
	d.clock.pass(time.Hour)
	err := error(store.ErrReadOnly)
	d.store.noPut.Store(&err)
	_, got := d.Token(d.ctx, token)
	require.NoError(t, got, "the disk is full, the game goes on")
	d.store.noPut.Store(&errDisk)
	_, got = d.Token(d.ctx, token)
	require.ErrorIs(t, got, errDisk)
	_, got = d.Player(d.ctx, "s1", "m2")
	require.ErrorIs(t, got, errDisk)
	require.NotErrorIs(t, got, ErrNoToken)
}

func TestManyDevicesAtOnce(t *testing.T) {
	d := newDoor(t)
	tokens := make([]string, 300)
	for i := range tokens {
		tokens[i] = d.player()
	}
	d.restart()
	d.store.reads.Store(0)
	var wg sync.WaitGroup
	for _, token := range tokens {
		wg.Go(func() {
			_, err := d.Token(d.ctx, token)
			assert.NoError(t, err)
			more, err := d.Player(d.ctx, "s1", "m2")
			assert.NoError(t, err)
			_, err = d.Token(d.ctx, more)
			assert.NoError(t, err)
		})
	}
	wg.Wait()
	assert.LessOrEqual(t, d.store.reads.Load(), int64(2), "a crowd reads the store once, not each")
}
