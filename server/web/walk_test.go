package web_test

import (
	"net/http"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/device"
	"halfline/internal/rehearse/redisproc"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
	"halfline/server/store/boltstore"
	"halfline/server/store/redisstore"
	"halfline/server/store/storetest"
)

// TestWalk plays one practice with a coach, a wall and two players in raw
// frames, restarts the server in the middle, and does it on every store.
func TestWalk(t *testing.T) {
	for name, open := range map[string]func(t *testing.T) func() store.Store{
		"memory": func(t *testing.T) func() store.Store {
			m := storetest.NewMemory()
			return func() store.Store { return m }
		},
		"embedded": func(t *testing.T) func() store.Store {
			folder := t.TempDir()
			var last store.Store
			t.Cleanup(func() { last.Close() })
			return func() store.Store {
				if last != nil {
					require.NoError(t, last.Close())
				}
				s, err := boltstore.Open(folder)
				require.NoError(t, err)
				last = s
				return s
			}
		},
		"redis": func(t *testing.T) func() store.Store {
			p := redisproc.Start(t, "appendonly yes", "appendfsync always")
			return func() store.Store {
				s, warnings, err := redisstore.Open(background, p.URL())
				require.NoError(t, err)
				assert.Empty(t, warnings)
				t.Cleanup(func() { s.Close() })
				return s
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := &site{t: t, open: open(t)}
			s.run()
			walk(s)
		})
	}
}

// cast is who takes part.
type cast struct {
	*site
	coach, wall, one, two *device.Device
	id, code              string
	m1, m2                string // the players' members
	mine, other           string // two spots of the board
}

func walk(s *site) {
	c := &cast{site: s}
	c.arrive()
	c.take()
	c.play()
	c.restartInTheMiddle()
	c.goOn()
}

func (c *cast) all() []*device.Device { return []*device.Device{c.coach, c.wall, c.one, c.two} }

func (c *cast) arrive() {
	t := c.t
	var token string
	token, c.id = c.staff("Tuesday install")
	require.Equal(t, []wire.SessionOut{{ID: c.id, Title: "Tuesday install"}}, c.Sessions(token))
	c.coach = c.Open(wire.Hello{Token: token, Session: c.id})
	c.wall = c.Open(wire.Hello{Token: token, Session: c.id, Wall: true})
	for _, d := range []*device.Device{c.coach, c.wall} {
		v := d.Until("the code is shown", func(v *device.View) bool { return v.Roster != nil && v.Roster.Code != "" })
		assert.Equal(t, c.Base+"/#join="+v.Roster.Code, v.Roster.Link)
		c.code = c.secret(v.Roster.Code)
	}
	assert.Equal(t, session.Coach, c.coach.View().Welcome.Role)
	assert.Equal(t, session.Wall, c.wall.View().Welcome.Role)

	var j1, j2 wire.JoinOut
	c.one, j1 = c.player(c.code, "Zyxanna", "87")
	c.two, j2 = c.player(c.code, "Qwerold", "")
	c.m1, c.m2 = j1.Member, j2.Member
	for _, j := range []wire.JoinOut{j1, j2} {
		assert.True(t, j.In)
		assert.Equal(t, c.id, j.Session)
		var b wire.BookOut
		c.Ask(http.MethodGet, "/api/book?session="+c.id, j.Token, nil).Into(t, &b)
		assert.NotEmpty(t, b.Looks)
		assert.Empty(t, b.Squad, "names of others come by the roster only")
	}
	v := c.coach.Until("both are here", func(v *device.View) bool {
		p, _ := v.Person(c.m1)
		q, _ := v.Person(c.m2)
		return p.Here && q.Here
	})
	p, _ := v.Person(c.m1)
	assert.Equal(t, wire.Person{Member: c.m1, Name: "Zyxanna", Number: "87", Role: "player", In: true, Here: true}, p)
	assert.Len(t, c.Sessions(token), 1)
	assert.Equal(t, 4, c.Sessions(token)[0].Here)

	var spots []string
	for label := range v.State.Spots {
		spots = append(spots, label)
	}
	slices.Sort(spots)
	require.GreaterOrEqual(t, len(spots), 2)
	c.mine, c.other = spots[0], spots[1]
}

func (c *cast) take() {
	t := c.t
	ack := c.one.Must(session.Op{Do: "hold", Spot: c.mine})
	assert.NotZero(t, ack.Seq)
	r := c.two.Refused(session.Op{Do: "hold", Spot: c.mine})
	assert.Equal(t, session.CodeHeld, r.Code)
	assert.Equal(t, c.mine, r.Detail)
	v := c.two.Until("the roster says who holds it", func(v *device.View) bool {
		p, ok := v.Person(c.m1)
		return ok && p.Spot == c.mine
	})
	p, _ := v.Person(c.m1)
	assert.Equal(t, "Zyxanna", p.Name)
	c.two.Must(session.Op{Do: "hold", Spot: c.other})
	v = c.one.Until("his own answer comes", func(v *device.View) bool { return v.Verdicts != nil && len(v.Verdicts.Spots) > 0 })
	assert.Len(t, v.Verdicts.Spots, 1, "a player gets his own in full")
	assert.Contains(t, v.Verdicts.Spots, c.mine)
	assert.Equal(t, session.CodeNotAllowed, c.one.Refused(session.Op{Do: "title", Text: "Mine"}).Code)
	assert.Equal(t, session.CodeNotAllowed, c.wall.Refused(session.Op{Do: "thaw"}).Code)
	assert.Equal(t, session.CodeNotAllowed, c.one.Refused(session.Op{Do: "place", Who: c.other, At: &session.Place{0, 300}}).Code)
}

func (c *cast) play() {
	t := c.t
	at := c.coach.View().State.Spots[c.mine].At
	at[0] -= 30
	c.one.Send(wire.Up{Drag: &wire.Drag{Who: c.mine, At: at}})
	v := c.coach.Until("the drag is seen", func(v *device.View) bool { _, ok := v.Drags[c.mine]; return ok })
	assert.Equal(t, wire.Drag{Who: c.mine, At: at, By: c.m1}, v.Drags[c.mine])
	at[0] -= 6
	c.one.Must(session.Op{Do: "place", Who: c.mine, At: &at})
	c.agree("the place", func(s *session.State) bool { return s.Spots[c.mine].At == at })

	c.coach.Send(wire.Up{Point: &wire.Point{Who: c.mine}})
	c.wall.Until("the point is seen", func(v *device.View) bool { return len(v.Points) > 0 })

	book := c.book()
	c.coach.Must(session.Op{Do: "look", Look: book.Looks[1].ID})
	c.agree("the look", func(s *session.State) bool { return s.Look == book.Looks[1].ID })
	c.coach.Must(session.Op{Do: "look", Look: book.Looks[0].ID})
	c.coach.Must(session.Op{Do: "call", Call: book.Calls[1].ID})
	c.coach.Must(session.Op{Do: "call", Call: book.Calls[0].ID})
	c.coach.Must(session.Op{Do: "freeze", Play: book.Looks[0].Menu[0]})
	frozen := c.agree("the frozen moment", func(s *session.State) bool { return s.Moment.Play == book.Looks[0].Menu[0] })
	assert.NotEmpty(t, frozen.Moment.Places)
	assert.Equal(t, session.CodeNotAllowed, c.one.Refused(session.Op{Do: "thaw"}).Code)

	c.one.Raw(`{"boat":{}}`)
	v = c.one.Until("the unknown part is refused", func(v *device.View) bool { _, ok := v.Refused[0]; return ok })
	assert.Equal(t, wire.CodeBadFrame, v.Refused[0].Code)
	c.one.Must(session.Op{Do: "letgo"})
	c.one.Must(session.Op{Do: "hold", Spot: c.mine})
}

func (c *cast) book() (b wire.BookOut) {
	c.t.Helper()
	c.Ask(http.MethodGet, "/api/book?session="+c.id, c.coachToken(), nil).Into(c.t, &b)
	require.GreaterOrEqual(c.t, len(b.Looks), 2)
	require.GreaterOrEqual(c.t, len(b.Calls), 2)
	assert.NotEmpty(c.t, b.Squad, "a coach sees his squad")
	assert.NotEmpty(c.t, b.Caution)
	return b
}

func (c *cast) coachToken() string { return c.secrets[0] }

// agree waits until a thing is so for everybody, and requires that all have
// the same then.
func (c *cast) agree(what string, so func(*session.State) bool) session.State {
	c.t.Helper()
	want := c.coach.Until(what, func(v *device.View) bool { return so(v.State) })
	for _, d := range c.all() {
		v := d.Until(what, func(v *device.View) bool { return v.Seq >= want.Seq })
		if v.Seq == want.Seq {
			require.Equal(c.t, want.State, v.State)
			require.Equal(c.t, want.Chain, v.Chain)
		}
	}
	return *want.State
}

func (c *cast) restartInTheMiddle() {
	t := c.t
	before := c.agree("all is calm", func(s *session.State) bool { return s.SpotOf(c.m1) == c.mine })
	epoch := c.coach.View().Welcome.Epoch
	c.restart()
	for _, d := range c.all() {
		v := d.Over()
		assert.Equal(t, wire.Bye{Code: "restart", WaitMS: 5000}, v.Bye)
		assert.Equal(t, wire.CloseRestart, v.Code)
	}
	for _, d := range c.all() {
		d.Again(c.Browser)
		v := d.View()
		assert.Nil(t, v.Welcome.State, "goes on from what it has")
		assert.Equal(t, epoch, v.Welcome.Epoch)
	}
	after := c.agree("all are back", func(*session.State) bool { return true })
	require.Equal(t, before, after, "look, call, moment, places, holders, members")
	for _, d := range c.all() {
		v := d.Until("names are back", func(v *device.View) bool { p, _ := v.Person(c.m2); return p.Here })
		p, _ := v.Person(c.m2)
		assert.Equal(t, "Qwerold", p.Name)
		assert.Equal(t, c.other, p.Spot)
	}
}

func (c *cast) goOn() {
	t := c.t
	late := c.Join(c.code, c.secret("Latecomer"), "9")
	c.secret(late.Token)
	v := c.coach.Until("a code is shown again", func(v *device.View) bool { return v.Roster != nil && v.Roster.Code != "" })
	assert.NotEqual(t, c.code, v.Roster.Code, "only the old one's hash is known; it still opens the door")
	c.secret(v.Roster.Code)

	c.coach.Must(session.Op{Do: "thaw"})
	c.coach.Must(session.Op{Do: "hide", On: true})
	v = c.two.Until("answers are hidden", func(v *device.View) bool {
		return v.State.Hidden && v.Verdicts != nil && len(v.Verdicts.Spots) == 0 && len(v.Verdicts.Signs) == 0
	})
	assert.True(t, v.State.Hidden)
	c.two.Must(session.Op{Do: "commit"})
	c.two.Until("his own answer is shown", func(v *device.View) bool { return v.Verdicts != nil && len(v.Verdicts.Spots) == 1 })

	c.coach.Must(session.Op{Do: "remove", Member: c.m2})
	v = c.two.Over()
	assert.Equal(t, "removed", v.Bye.Code)
	assert.Equal(t, wire.CloseRemoved, v.Code)
	v = c.one.Until("he is off the roster", func(v *device.View) bool { _, ok := v.Person(c.m2); return !ok })
	assert.Empty(t, v.State.Spots[c.other].By)
}
