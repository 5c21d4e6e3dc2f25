package wire

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"
	jsonv1 "github.com/go-json-experiment/json/v1"
)

// writing makes the same bytes of the same value every time. An absent list is
// written as [], never as null; a field that may be absent is left out when it
// has its zero value, but a pointer to a zero value is kept: Change needs that to
// clear a text or a list.
var writing = json.JoinOptions(
	jsonv1.OmitEmptyWithLegacySemantics(true),
	json.Deterministic(true),
)

// DecodeUp reads a frame of a device. It takes nothing on trust: the rules are
// W25 to W31 of PROTOCOL.md, and a frame that breaks one is refused with a
// *FrameError. It does not judge what an operation means: that is the session's.
//
// The caller has applied MaxFirst or MaxUp already.
func DecodeUp(frame []byte) (Up, error) {
	var u Up
	if err := check(frame, upShape, true); err != nil {
		return Up{}, err
	}
	if err := read(frame, &u); err != nil {
		return Up{}, err
	}
	return u, nil
}

// DecodeDown reads a frame of the hub. It is for clients written in Go, which
// trust their hub: fields and parts it does not know are passed over.
func DecodeDown(frame []byte) (Down, error) {
	var d Down
	if err := read(frame, &d); err != nil {
		return Down{}, err
	}
	return d, nil
}

// EncodeUp writes a frame of a device.
func EncodeUp(u Up) ([]byte, error) { return appendJSON(nil, &u) }

// Encode writes a frame of the hub.
func Encode(d Down) ([]byte, error) { return appendJSON(nil, &d) }

// AppendDown writes a frame of the hub behind dst, whose spare room it uses. On
// an error dst is returned as it was.
func AppendDown(dst []byte, d Down) ([]byte, error) { return appendJSON(dst, &d) }

// DecodeBody reads the body of an HTTP request into *T, as strictly as
// DecodeUp reads a frame, fields of later versions passed over.
func DecodeBody[T any](body []byte) (T, error) {
	var v, none T
	if err := check(body, shapeOf[T](), false); err != nil {
		return none, err
	}
	if err := read(body, &v); err != nil {
		return none, err
	}
	return v, nil
}

// EncodeBody writes the body of an HTTP answer, one of the Out types of this
// package.
func EncodeBody(v any) ([]byte, error) { return appendJSON(nil, v) }

func appendJSON(dst []byte, v any) ([]byte, error) {
	buf := bytes.NewBuffer(dst)
	if err := json.MarshalWrite(buf, v, writing); err != nil {
		return dst, fmt.Errorf("wire: encode %T: %w", v, err)
	}
	return buf.Bytes(), nil
}

// read unmarshals into v what may have passed check already.
func read(b []byte, v any) error {
	err := json.Unmarshal(b, v)
	if err == nil {
		return nil
	}
	var se *json.SemanticError
	if errors.As(err, &se) {
		// The library's text may quote the value, and values can be secret.
		return &FrameError{Where: dotted(string(se.JSONPointer)), What: fmt.Sprintf("a %s cannot stand here", kindName(se.JSONKind))}
	}
	return syntaxError(err)
}
