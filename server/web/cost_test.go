package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// The cost of a rep is a coach's to ask, and there is none before a man breaks
// a rule.
func TestCostIsForCoaches(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Cost")
	coach := s.Open(wire.Hello{Token: token, Session: id})
	_, join := s.player(s.draw(token, id), "Ty", "21")
	path := "/api/cost?session=" + id
	for _, none := range []string{"", "x", strings.Repeat("0", 40)} {
		s.denies(s.Ask(http.MethodGet, path, none, nil), 401, "no-token")
	}
	s.denies(s.Ask(http.MethodGet, path, token, nil), 409, session.CodeNoRep)
	coach.Must(session.Op{Do: "snap", Play: "toss", Errors: []session.Broken{{Spot: "N", Rule: "over-the-top"}}})
	s.denies(s.Ask(http.MethodGet, path, join.Token, nil), 403, session.CodeNotAllowed)
	var out wire.CostOut
	s.Ask(http.MethodGet, path, token, nil).Into(t, &out)
	assert.Equal(t, 300, out.Reps)
	assert.Less(t, *out.Right.Broke, *out.Wrong.Broke)
	coach.Must(session.Op{Do: "set"})
	s.denies(s.Ask(http.MethodGet, path, token, nil), 409, session.CodeNoRep)
}

// What an answer rests on is for whom the answer is.
func TestRestsAreForWhoSeesTheAnswer(t *testing.T) {
	s := newSite(t, nil)
	token, id := s.staff("Rests")
	coach := s.Open(wire.Hello{Token: token, Session: id})
	player, join := s.player(s.draw(token, id), "Ty", "21")
	path := "/api/rests?session=" + id + "&spot="
	s.denies(s.Ask(http.MethodGet, path+"N", "", nil), 401, "no-token")
	s.denies(s.Ask(http.MethodGet, path+"N", join.Token, nil), 403, session.CodeNotAllowed)
	player.Must(session.Op{Do: "hold", Spot: "N"})
	for spot, by := range map[string]string{"N": join.Token, "FS": token} {
		var out wire.RestsOut
		s.Ask(http.MethodGet, path+spot, by, nil).Into(t, &out)
		assert.Equal(t, spot, out.Spot)
		assert.NotEmpty(t, out.Rests)
	}
	s.denies(s.Ask(http.MethodGet, path+"FS", join.Token, nil), 403, session.CodeNotAllowed)
	s.denies(s.Ask(http.MethodGet, path+"QQ", token, nil), 404, session.CodeUnknown)
	coach.Must(session.Op{Do: "hide", On: true})
	s.denies(s.Ask(http.MethodGet, path+"N", join.Token, nil), 403, session.CodeNotAllowed)
}
