package session_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/session"
)

// need is a *testing.T or a *rapid.T.
type need interface {
	require.TestingT
	Helper()
}

var shipped = sync.OnceValues(func() (*book.Book, error) { return book.Shipped("herons") })

func herons(t need) *book.Book {
	t.Helper()
	b, err := shipped()
	require.NoError(t, err)
	return b
}

// Members of every session here.
const (
	head = "head" // a coach
	wall = "wall"
	ty   = "ty" // players; ty wears 30 and is in the squad, bo's number is nobody's
	bo   = "bo"
	late = "late" // waits to be let in
)

var jerseys = map[string]string{ty: "30", bo: "99"}

// room is a session with its members.
type room struct {
	t  need
	b  *book.Book
	st session.State
}

func begin(t need) *room {
	b := herons(t)
	r := &room{t: t, b: b, st: session.New("Tuesday", b)}
	for who, role := range map[string]string{head: session.Coach, wall: session.Wall, ty: session.Player, bo: session.Player} {
		c, refused := session.Join(&r.st, who, role)
		require.Nil(t, refused)
		r.st.Apply(c)
	}
	r.st.Door = session.DoorKnock
	c, refused := session.Join(&r.st, late, session.Player)
	require.Nil(t, refused)
	r.st.Apply(c)
	return r
}

// hubTime is the hub's time when an operation comes.
const hubTime = 1_000_000

func actor(who string, op session.Op) session.Actor {
	return session.Actor{Member: who, Number: jerseys[who], Other: jerseys[op.Member], Now: hubTime}
}

func (r *room) decide(who string, op session.Op) (session.Change, *session.Refusal) {
	return session.Decide(&r.st, r.b, actor(who, op), op)
}

// do is an operation that is to succeed.
func (r *room) do(who string, op session.Op) session.Change {
	r.t.Helper()
	c, refused := r.decide(who, op)
	require.Nil(r.t, refused, "%s of %s", op.Do, who)
	r.st.Apply(c)
	return c
}

// refused is an operation that is to be refused, and gives code and detail.
func (r *room) refused(who string, op session.Op) string {
	r.t.Helper()
	c, refused := r.decide(who, op)
	require.NotNil(r.t, refused, "%s of %s", op.Do, who)
	require.True(r.t, c.Empty())
	return refused.Error()
}

// judge is what the engine says of the board as it stands.
func (r *room) judge() judge.Result {
	b := r.st.Board(r.b, nil)
	return judge.Run(&b)
}

func (r *room) spot(label string) judge.SpotResult {
	r.t.Helper()
	for _, s := range r.judge().Spots {
		if s.Label == label {
			return s
		}
	}
	require.Fail(r.t, "no spot "+label)
	return judge.SpotResult{}
}

// yards is a place in yards, as a coach would say it.
func yards(x, y float64) session.Place { return session.PlaceOf(field.At(x, y)) }

func put(who string, x, y float64) session.Op {
	at := yards(x, y)
	return session.Op{Do: "place", Who: who, At: &at}
}

func send(who string, x, y float64) session.Op {
	at := yards(x, y)
	return session.Op{Do: "motion", Who: who, At: &at}
}

func TestNewSessionStandsReady(t *testing.T) {
	b := herons(t)
	st := session.New("Tuesday", b)
	require.Equal(t, "twins-right", st.Look)
	require.Equal(t, b.Calls[0].ID, st.Call)
	require.Equal(t, session.FloorOwn, st.Floor)
	require.Equal(t, session.DoorOpen, st.Door)
	require.Len(t, st.Spots, 3, "three on three")
	require.Empty(t, valid(&st, b))
	for _, s := range (&room{t: t, b: b, st: st}).judge().Spots {
		require.Equal(t, "right", string(s.Rule.Verdict), s.Label)
	}
}
