package session_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/session"
)

// BenchmarkApply decides and applies the place of a receiver, the commonest
// operation of a walkthrough, in a room of 26 members.
func BenchmarkApply(b *testing.B) {
	book := herons(b)
	st := session.New("Tuesday", book)
	for i, role := range append([]string{session.Coach, session.Wall}, make([]string, 24)...) {
		if role == "" {
			role = session.Player
		}
		c, refused := session.Join(&st, string(rune('a'+i)), role)
		require.Nil(b, refused)
		st.Apply(c)
	}
	b.ReportAllocs()
	x := field.Inches(0)
	for b.Loop() {
		x = (x + 1) % 120
		at := session.Place{324 + x, -36}
		c, refused := session.Decide(&st, book, session.Actor{Member: "a"}, session.Op{Do: "place", Who: "H", At: &at})
		if refused != nil {
			b.Fatal(refused)
		}
		st.Apply(c)
	}
}
