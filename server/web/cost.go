package web

import (
	"errors"
	"net/http"

	"halfline/internal/session"
	"halfline/server/gate"
	"halfline/server/hub"
)

// cost answers what the errors of the rep that is shown cost. It goes to the
// coach who asked and to nobody else.
func (s *Server) cost(w http.ResponseWriter, r *http.Request) {
	out, err := s.o.Hub.Cost(r.Context(), r.URL.Query().Get("session"))
	switch {
	case errors.Is(err, hub.ErrNoCost):
		refuse(w, http.StatusConflict, session.CodeNoRep, "No rep with an error is shown: snap one and have a man break a rule.")
	case err != nil:
		s.fault(w, "cost", err)
	default:
		answer(w, http.StatusOK, out)
	}
}

// rests answers what numbers the answer of a spot rests on.
func (s *Server) rests(w http.ResponseWriter, r *http.Request, p gate.Pass) {
	q := r.URL.Query()
	id := q.Get("session")
	if p.Role != session.Coach && id != p.Session {
		refuse(w, http.StatusForbidden, session.CodeNotAllowed, "This is not your session.")
		return
	}
	out, err := s.o.Hub.Rests(r.Context(), hub.Pass{Session: id, Member: p.Member, Role: p.Role}, q.Get("spot"))
	switch {
	case errors.Is(err, hub.ErrNotSeen):
		refuse(w, http.StatusForbidden, session.CodeNotAllowed, "This answer is not for you now.")
	case errors.Is(err, hub.ErrNoSpot):
		refuse(w, http.StatusNotFound, session.CodeUnknown, "There is no such spot on the board.")
	case err != nil:
		s.fault(w, "rests", err)
	default:
		answer(w, http.StatusOK, out)
	}
}
