package web

import (
	"net/http"

	"halfline/internal/book"
	"halfline/internal/call"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/gate"
)

func (s *Server) book(w http.ResponseWriter, r *http.Request, p gate.Pass) {
	id := r.URL.Query().Get("session")
	if p.Role != session.Coach && id != p.Session {
		refuse(w, http.StatusForbidden, session.CodeNotAllowed, "This is not your session.")
		return
	}
	b, in, err := s.o.Hub.Book(r.Context(), id, p.Member)
	if err != nil {
		s.fault(w, "book", err)
		return
	}
	if p.Role != session.Coach && !in {
		refuse(w, http.StatusForbidden, session.CodeWaiting, "The coach has not let you in yet.")
		return
	}
	out := bookOut(b)
	if p.Role != session.Coach {
		out.Squad = []wire.BookMan{} // names of others reach players by the roster only
	}
	answer(w, http.StatusOK, out)
}

func bookOut(b *book.Book) wire.BookOut {
	out := wire.BookOut{Name: b.Name, Caution: b.Caution, Looks: []wire.BookLook{}, Calls: []wire.BookCall{}, Plays: []wire.BookPlay{}, Squad: []wire.BookMan{}}
	for i := range b.Looks {
		l := &b.Looks[i]
		bl := wire.BookLook{ID: l.ID, Name: l.Name, Side: l.Side.String(), Menu: l.Menu, Men: map[string]session.Man{},
			Ball: session.Ball{Rules: string(l.Shown.Ball.Rules), Hash: string(l.Shown.Ball.Hash), Yard: l.Shown.Ball.Yard}}
		if len(bl.Menu) == 0 {
			bl.Menu = b.Menu
		}
		for _, m := range l.Shown.Men {
			bl.Men[m.Tag] = session.Man{At: session.PlaceOf(m.At), Line: m.Line}
		}
		out.Looks = append(out.Looks, bl)
	}
	for _, c := range b.Calls {
		bc := wire.BookCall{ID: c.ID, Name: c.Name, Spots: []wire.BookSpot{}}
		for _, sp := range c.Spots {
			if sp.Half == call.This && sp.Stand != nil {
				bc.Spots = append(bc.Spots, wire.BookSpot{Spot: sp.Label, Label: sp.Label, Name: sp.Name})
			}
		}
		out.Calls = append(out.Calls, bc)
	}
	for _, p := range b.Plays {
		out.Plays = append(out.Plays, wire.BookPlay{ID: p.ID, Name: p.Name, Kind: string(p.Kind)})
	}
	for _, p := range b.Squad {
		out.Squad = append(out.Squad, wire.BookMan{Number: p.Number, Name: p.Name, Spot: p.Spot})
	}
	return out
}
