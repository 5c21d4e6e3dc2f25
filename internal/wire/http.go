package wire

import "halfline/internal/session"

// Bodies of the HTTP endpoints (OpenAPI document in this folder).
//
//	POST /api/coach     CoachIn     -> TokenOut      key of the coach's link -> token
//	POST /api/join      JoinIn      -> JoinOut       code -> token and place in the session
//	GET  /api/sessions              -> SessionsOut   (coach)
//	POST /api/sessions  SessionIn   -> SessionOut    (coach)
//	GET  /api/book?session=ID       -> BookOut       (anybody let in)
//	POST /api/code?session=ID       -> CodeOut       draw a new code (coach)
//	GET  /api/qr?session=ID         -> QROut         the link of CodeOut as a picture (coach)
//	GET  /api/cost?session=ID       -> CostOut       what the errors of the rep that is shown cost (coach)
//	GET  /api/rests?session=ID&spot=LABEL -> RestsOut  what a man's answer rests on (whoever may see the answer)
//	GET  /live                      -> websocket, subprotocol halfline.1
//	GET  /healthz, /readyz
//
// Tokens travel in "Authorization: Bearer ...", never in a URL. Errors are an
// ErrorOut with a fitting status.

// CoachIn carries the key from the coach's link (the part after #coach=).
type CoachIn struct {
	Key string `json:"key"`
}

// TokenOut carries a new token.
type TokenOut struct {
	Token string `json:"token" hex:"40"`
}

// JoinIn asks to join by code. Name is a short name (1-12 characters), Number a
// jersey (0-3 digits).
type JoinIn struct {
	Code   string `json:"code"`
	Name   string `json:"name"`
	Number string `json:"number"`
}

// JoinOut says who the device is now. If In is false the coach must let him
// in; the live connection works meanwhile and tells when he is.
type JoinOut struct {
	Token   string `json:"token" hex:"40"`
	Session string `json:"session"`
	Member  string `json:"member"`
	In      bool   `json:"in"`
}

// SessionIn starts a session.
type SessionIn struct {
	Title string `json:"title"`
	Book  string `json:"book,omitempty"` // default: the demo book
}

// SessionOut is one session in a list.
type SessionOut struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Here  int    `json:"here"` // live connections
}

// SessionsOut lists sessions, newest last.
type SessionsOut struct {
	Sessions []SessionOut `json:"sessions"`
}

// CodeOut is a fresh join code and the link a QR code carries.
type CodeOut struct {
	Code string `json:"code"`
	Link string `json:"link"`
}

// QROut is a QR code drawn as squares of side 1.
type QROut struct {
	Size int    `json:"size"` // modules along one side, the quiet border not counted
	Path string `json:"path"` // SVG path of the dark modules
}

// BookOut is what the client needs of a book.
type BookOut struct {
	Name  string     `json:"name"`
	Looks []BookLook `json:"looks"`
	Calls []BookCall `json:"calls"`
	Plays []BookPlay `json:"plays"`
	Squad []BookMan  `json:"squad"`
	// Caution is shown wherever contact is.
	Caution string `json:"caution"`
}

// BookLook is one look.
type BookLook struct {
	ID   string                 `json:"id"`
	Name string                 `json:"name"`
	Side string                 `json:"side" enum:"left,right"`
	Ball session.Ball           `json:"ball"`
	Men  map[string]session.Man `json:"men"`
	Menu []string               `json:"menu"` // play ids
}

// BookCall is one call.
type BookCall struct {
	ID    string     `json:"id"`
	Name  string     `json:"name"`
	Spots []BookSpot `json:"spots"`
}

// BookSpot is one spot of a call with its label.
type BookSpot struct {
	Spot  string `json:"spot"`
	Label string `json:"label"`
	Name  string `json:"name"`
}

// BookPlay is one play.
type BookPlay struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Kind string `json:"kind" enum:"toss,swing,bubble,now,pass"` // a pass has no lanes to freeze
}

// BookMan is one man of the squad: whom a spot usually goes to.
type BookMan struct {
	Number string `json:"number"`
	Name   string `json:"name"`
	Spot   string `json:"spot"`
}

// ErrorOut is the body of every refusal over HTTP.
type ErrorOut struct {
	Code string `json:"code"`
	Say  string `json:"say"` // one plain sentence
}
