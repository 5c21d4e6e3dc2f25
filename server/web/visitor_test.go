package web_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/device"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
	"halfline/server/store/storetest"
)

// bubble runs a test with a whole server in fake time.
func bubble(t *testing.T, f func(t *testing.T, s *site)) {
	synctest.Test(t, func(t *testing.T) {
		memory := storetest.NewMemory()
		s := &site{t: t, open: func() store.Store { return memory }, pipes: newPipes()}
		s.run()
		f(t, s)
	})
}

func wait(d time.Duration) { <-time.After(d) }

// TestTokenTakenBackEndsItsConnection: looked at again every five minutes, by
// what the store said at most a minute ago.
func TestTokenTakenBackEndsItsConnection(t *testing.T) {
	bubble(t, func(t *testing.T, s *site) {
		token, id := s.staff("Long day")
		coach := s.Open(wire.Hello{Token: token, Session: id})
		one, join := s.player(s.draw(token, id), "Goes", "1")
		two, _ := s.player(s.draw(token, id), "Stays", "2")
		wait(7 * time.Minute)
		sum := sha256.Sum256([]byte(join.Token))
		require.NoError(t, s.st.DeleteItem(background, "", "token:"+hex.EncodeToString(sum[:])))
		wait(6 * time.Minute)
		v := one.Over()
		assert.Equal(t, "no-token", v.Bye.Code)
		assert.Equal(t, wire.CloseNoToken, v.Code)
		assert.False(t, two.View().Over)
		assert.False(t, coach.View().Over)
		again := s.Dial(wire.Hello{Token: join.Token})
		assert.Equal(t, wire.CloseNoToken, again.Over().Code)
	})
}

// TestPageThatStaysOpenAllDay: its token is in use, and the code it shows opens
// the door at any time, without anybody touching anything.
func TestPageThatStaysOpenAllDay(t *testing.T) {
	bubble(t, func(t *testing.T, s *site) {
		token, id := s.staff("Long day")
		coach := s.Open(wire.Hello{Token: token, Session: id})
		player, join := s.player(s.draw(token, id), "Stays", "2")
		codes := map[string]bool{}
		for range 13 {
			v := coach.Until("a code is shown", func(v *view) bool { return v.Roster != nil && v.Roster.Code != "" })
			codes[v.Roster.Code] = true
			s.Join(v.Roster.Code, "Comes", "")
			wait(time.Hour)
		}
		assert.Len(t, codes, 2, "a new one after eleven hours")
		assert.False(t, player.View().Over)
		player.Again(s.Browser)
		assert.Equal(t, join.Member, player.View().Welcome.Member)
	})
}

// TestFloodOfFrames: ten times the rate is only slowed down, for ten seconds;
// then it is the end.
func TestFloodOfFrames(t *testing.T) {
	for name, c := range map[string]struct {
		per  int
		send func(d *device.Device)
	}{
		"operations": {wire.PlayerOps, func(d *device.Device) { d.Ask(session.Op{Do: "letgo"}) }},
		"drags":      {wire.PlayerHints, func(d *device.Device) { d.Send(wire.Up{Drag: &wire.Drag{Who: "N"}}) }},
		"points":     {wire.PlayerHints, func(d *device.Device) { d.Send(wire.Up{Point: &wire.Point{}}) }},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T, s *site) {
				token, id := s.staff("Flood")
				player, _ := s.player(s.draw(token, id), "Floods", "2")
				second := func(times int) {
					for range 10 {
						for range times * c.per / 10 {
							c.send(player)
						}
						wait(100 * time.Millisecond)
					}
				}
				for range 20 {
					second(10)
				}
				require.False(t, player.View().Over)
				began := time.Now()
				for !player.View().Over {
					second(20)
					require.Less(t, time.Since(began), time.Minute)
				}
				assert.Equal(t, 1008, player.View().Code)
				assert.InDelta(t, 10, time.Since(began).Seconds(), 2)
			})
		})
	}
}

func TestSeventhConnectionOfATokenIsRefused(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Six")
	var open []*device.Device
	for range 6 {
		open = append(open, s.Open(wire.Hello{Token: token, Session: id}))
	}
	assert.Equal(t, 1008, s.Dial(wire.Hello{Token: token, Session: id}).Over().Code)
	open[0].Close()
	open[1].Do(session.Op{Do: "thaw"}) // the others are served
	require.Eventually(t, func() bool { return s.Sessions(token)[0].Here == 5 }, 20*time.Second, 5*time.Millisecond)
	s.Open(wire.Hello{Token: token, Session: id})
}

func TestHellosThatAreRefused(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Hello")
	player := s.Join(s.draw(token, id), "Ty", "21")
	for name, c := range map[string]struct {
		hello wire.Hello
		code  int
	}{
		"no token":              {wire.Hello{Token: ""}, wire.CloseNoToken},
		"a made-up token":       {wire.Hello{Token: "5f0c2b7a9d1e4c3886aa01f27d5be94410c3d672"}, wire.CloseNoToken},
		"the coach's key":       {wire.Hello{Token: s.key, Session: id}, wire.CloseNoToken},
		"coach without session": {wire.Hello{Token: token}, wire.CloseNoSession},
		"coach of nobody":       {wire.Hello{Token: token, Session: "nobody"}, wire.CloseNoSession},
		"coach of nonsense":     {wire.Hello{Token: token, Session: "../x y"}, wire.CloseNoSession},
		"client of zeros":       {wire.Hello{Token: token, Session: id, Client: "0000000000000000"}, wire.CloseBadHello},
	} {
		t.Run(name, func(t *testing.T) {
			v := s.Dial(c.hello).Over()
			assert.Equal(t, c.code, v.Code)
			assert.Equal(t, wire.ByeCode(c.code), v.Bye.Code)
			assert.Zero(t, v.Welcomes)
		})
	}
	other, otherID := s.staff("Other")
	_ = other
	v := s.Open(wire.Hello{Token: player.Token, Session: otherID, Wall: true}).View()
	assert.Equal(t, id, v.Welcome.Session, "a player's token is good for his session, whatever he says")
	assert.Equal(t, session.Player, v.Welcome.Role)
}

// TestSamePageTwice: the newer page of a device takes over.
func TestSamePageTwice(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Twice")
	join := s.Join(s.draw(token, id), "Ty", "21")
	const client = "9a41c07e55d2f318"
	first := s.Open(wire.Hello{Token: join.Token, Client: client})
	second := s.Open(wire.Hello{Token: join.Token, Client: client})
	assert.Equal(t, wire.CloseReplaced, first.Over().Code)
	assert.False(t, second.View().Over)
}
