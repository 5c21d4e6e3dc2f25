package web

import (
	"errors"
	"io"
	"mime"
	"net/http"
	"regexp"
	"strings"

	"rsc.io/qr"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/gate"
	"halfline/server/hub"
	"halfline/server/store"
)

// maxBody bounds the body of a request: a name and a code.
const maxBody = 4 << 10

func refuse(w http.ResponseWriter, status int, code, say string) {
	answer(w, status, wire.ErrorOut{Code: code, Say: say})
}

func answer(w http.ResponseWriter, status int, v any) {
	b, err := wire.EncodeBody(v)
	if err != nil {
		status, b = http.StatusInternalServerError, []byte(`{"code":"fault","say":"Something broke on the server."}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(b) // the other end may be gone; nothing to do then
}

// body reads a request's body into T; it has answered if ok is false.
func body[T any](w http.ResponseWriter, r *http.Request) (v T, ok bool) {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		refuse(w, http.StatusUnsupportedMediaType, "bad-type", "The request must be JSON and say so (Content-Type: application/json).")
		return v, false
	}
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxBody))
	var big *http.MaxBytesError
	switch {
	case errors.As(err, &big):
		refuse(w, http.StatusRequestEntityTooLarge, "too-large", "That is too much for one request.")
		return v, false
	case err != nil: // cut off, or too slow
		refuse(w, http.StatusBadRequest, "bad-body", "The request did not arrive whole.")
		return v, false
	}
	v, err = wire.DecodeBody[T](data)
	if err != nil {
		refuse(w, http.StatusBadRequest, "bad-body", "The request cannot be read: "+err.Error())
		return v, false
	}
	return v, true
}

// fault answers an error that nobody expected.
func (s *Server) fault(w http.ResponseWriter, doing string, err error) {
	switch {
	case errors.Is(err, store.ErrNotFound), errors.Is(err, store.ErrInvalid): // or no id at all
		refuse(w, http.StatusNotFound, "no-session", "There is no such session.")
	case errors.Is(err, store.ErrReadOnly), errors.Is(err, hub.ErrClosed):
		refuse(w, http.StatusServiceUnavailable, "storage", "The server cannot save just now; try again in a moment.")
	default:
		s.o.Log.Error(doing, "err", err)
		refuse(w, http.StatusInternalServerError, "fault", "Something broke on the server.")
	}
}

func (s *Server) coach(w http.ResponseWriter, r *http.Request) {
	in, ok := body[wire.CoachIn](w, r)
	if !ok {
		return
	}
	token, err := s.o.Gate.Coach(r.Context(), s.address(r), in.Key)
	switch {
	case errors.Is(err, gate.ErrTooMany):
		tooMany(w)
	case errors.Is(err, gate.ErrNoToken):
		unknown(w, "no-key", "This coach's link is not good any more; the server prints a new one at each start.")
	case err != nil:
		s.fault(w, "coach's token", err)
	default:
		answer(w, http.StatusOK, wire.TokenOut{Token: token})
	}
}

// unknown refuses whoever does not prove who he is.
func unknown(w http.ResponseWriter, code, say string) {
	w.Header().Set("WWW-Authenticate", "Bearer")
	refuse(w, http.StatusUnauthorized, code, say)
}

func tooMany(w http.ResponseWriter) {
	w.Header().Set("Retry-After", "60")
	refuse(w, http.StatusTooManyRequests, "too-many", "Too many wrong tries from here; wait a minute.")
}

var jersey = regexp.MustCompile(`^[0-9]{0,3}$`)

func (s *Server) join(w http.ResponseWriter, r *http.Request) {
	in, ok := body[wire.JoinIn](w, r)
	if !ok {
		return
	}
	name := strings.TrimSpace(in.Name)
	switch {
	case !session.PlainName(name):
		refuse(w, http.StatusBadRequest, "bad-name", "A short name, please: 1 to 12 letters or digits.")
		return
	case !jersey.MatchString(in.Number):
		refuse(w, http.StatusBadRequest, "bad-number", "A jersey number has up to 3 digits.")
		return
	}
	id, err := s.o.Gate.Code(r.Context(), s.address(r), in.Code)
	var member string
	var let bool
	if err == nil {
		member, let, err = s.o.Hub.Join(r.Context(), id, name, in.Number)
	}
	var full *session.Refusal
	switch {
	case errors.Is(err, gate.ErrTooMany):
		tooMany(w)
		return
	case errors.Is(err, gate.ErrNoCode), errors.Is(err, store.ErrNotFound):
		refuse(w, http.StatusNotFound, "no-code", "That code opens nothing. Look at the wall or ask the coach for the code of today.")
		return
	case errors.Is(err, hub.ErrDoorClosed):
		refuse(w, http.StatusConflict, "door-closed", "The coach has closed the door. Ask him to open it.")
		return
	case errors.As(err, &full):
		refuse(w, http.StatusConflict, full.Code, "This session is full.")
		return
	case err != nil:
		s.fault(w, "join", err)
		return
	}
	token, err := s.o.Gate.Player(r.Context(), id, member)
	if err != nil {
		s.fault(w, "player's token", err)
		return
	}
	answer(w, http.StatusOK, wire.JoinOut{Token: token, Session: id, Member: member, In: let})
}

// anyone wants a good token; staff wants a coach's.
func (s *Server) anyone(h func(http.ResponseWriter, *http.Request, gate.Pass)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		t, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
		if !ok {
			unknown(w, "no-token", "Join first: this needs a token.")
			return
		}
		p, err := s.o.Gate.Token(r.Context(), t)
		switch {
		case errors.Is(err, gate.ErrNoToken):
			unknown(w, "no-token", "This device's pass has ended; join again.")
		case err != nil:
			s.fault(w, "token", err)
		default:
			h(w, r, p)
		}
	}
}

func (s *Server) staff(h func(http.ResponseWriter, *http.Request)) http.HandlerFunc {
	return s.anyone(func(w http.ResponseWriter, r *http.Request, p gate.Pass) {
		if p.Role != session.Coach {
			refuse(w, http.StatusForbidden, session.CodeNotAllowed, "Only a coach may do this.")
			return
		}
		h(w, r)
	})
}

func (s *Server) sessions(w http.ResponseWriter, r *http.Request) {
	list, err := s.o.Hub.List(r.Context())
	if err != nil {
		s.fault(w, "list sessions", err)
		return
	}
	answer(w, http.StatusOK, wire.SessionsOut{Sessions: list})
}

func (s *Server) newSession(w http.ResponseWriter, r *http.Request) {
	in, ok := body[wire.SessionIn](w, r)
	if !ok {
		return
	}
	if in.Book == "" {
		in.Book = s.o.DemoBook
	}
	if !session.PlainTitle(in.Title) {
		refuse(w, http.StatusBadRequest, "bad-title", "A title has 1 to 40 plain characters.")
		return
	}
	if _, err := s.o.Books(in.Book); err != nil {
		refuse(w, http.StatusBadRequest, "bad-book", "There is no such book; leave it out for the demo book.")
		return
	}
	id, err := s.o.Hub.Create(r.Context(), in.Title, in.Book)
	if err != nil {
		s.fault(w, "start session", err)
		return
	}
	answer(w, http.StatusOK, wire.SessionOut{ID: id, Title: in.Title})
}

func (s *Server) newCode(w http.ResponseWriter, r *http.Request) {
	id := r.URL.Query().Get("session")
	// Asked first, so that no code is drawn for a session that is not there.
	_, _, err := s.o.Hub.Code(r.Context(), id)
	var out wire.CodeOut
	if err == nil {
		out, err = s.drawCode(r.Context(), id, false)
	}
	if err != nil {
		s.fault(w, "draw code", err)
		return
	}
	answer(w, http.StatusOK, out)
}

func (s *Server) qr(w http.ResponseWriter, r *http.Request) {
	id := r.URL.Query().Get("session")
	if err := s.showCode(r.Context(), id); err != nil {
		s.fault(w, "draw code", err)
		return
	}
	_, link, err := s.o.Hub.Code(r.Context(), id)
	if err != nil {
		s.fault(w, "code", err)
		return
	}
	c, err := qr.Encode(link, qr.M)
	if err != nil {
		s.fault(w, "qr", err)
		return
	}
	answer(w, http.StatusOK, wire.QROut{Size: c.Size, Path: qrPath(c)})
}
