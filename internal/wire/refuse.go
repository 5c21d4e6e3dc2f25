package wire

import (
	"errors"
	"fmt"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// FrameError says why a frame or a body cannot be read. It never quotes a
// value: a token could be one.
type FrameError struct {
	Where string // "op.op.at[1]"; empty: the frame as a whole
	What  string // what is wrong and what would be right
}

func (e *FrameError) Error() string {
	if e.Where == "" {
		return e.What
	}
	return e.Where + ": " + e.What
}

// syntaxError turns the library's error on bad JSON into one of ours.
func syntaxError(err error) error {
	var se *jsontext.SyntacticError
	if !errors.As(err, &se) {
		return &FrameError{What: "not JSON"}
	}
	what := "not JSON at byte %d"
	switch {
	case errors.Is(se.Err, jsontext.ErrDuplicateName):
		what = "the same key twice, at byte %d"
	case strings.Contains(se.Err.Error(), "UTF-8"):
		what = "not UTF-8 at byte %d"
	}
	return &FrameError{Where: dotted(string(se.JSONPointer)), What: fmt.Sprintf(what, se.ByteOffset)}
}

// dotted rewrites a JSON pointer (RFC 6901) the way the documents write places:
// "/op/op/at/1" is "op.op.at[1]".
func dotted(pointer string) string {
	var b strings.Builder
	for token := range jsontext.Pointer(pointer).Tokens() {
		switch {
		case token != "" && strings.Trim(token, "0123456789") == "":
			b.WriteString("[" + token + "]")
		case b.Len() > 0:
			b.WriteString("." + token)
		default:
			b.WriteString(token)
		}
	}
	if b.Len() > MaxText {
		return strings.ToValidUTF8(b.String()[:MaxText], "") + "..."
	}
	return b.String()
}

// kindName is the plain name of a kind of JSON value.
func kindName(k jsontext.Kind) string {
	switch k {
	case 'n':
		return "null"
	case 't', 'f':
		return "boolean"
	case '"':
		return "text"
	case '0':
		return "number"
	case '{':
		return "object"
	case '[':
		return "list"
	}
	return "value"
}
