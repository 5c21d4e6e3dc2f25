package wire_test

import (
	"errors"
	"testing"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
	"halfline/internal/wire/wiretest"
)

// FuzzDecodeUp: no input panics; what is refused can be told; what is taken is
// valid by the published schema, has one part, and survives another round.
func FuzzDecodeUp(f *testing.F) {
	for _, e := range example.Frames() {
		f.Add(e.JSON())
	}
	for _, s := range []string{`{"drag":{"At":[1,2]}}`, `{"beat":{"t":1e400}}`, `{"hello":[[[[[[[[[[]]]]]]]]]]}`, `{"\u0062eat":{"t":0}}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, frame []byte) {
		u, err := wire.DecodeUp(frame)
		if err != nil {
			var fe *wire.FrameError
			if !errors.As(err, &fe) {
				t.Fatalf("%T: %v: want a *FrameError", err, err)
			}
			refused(t, err)
			return
		}
		b, err := wire.EncodeUp(u)
		if err != nil {
			t.Fatalf("taken, but cannot be written: %v: %q", err, frame)
		}
		if u.Op == nil { // an unknown operation is the session's to refuse
			if len(frame) <= wire.MaxFirst {
				wiretest.Validator().Up(t, frame)
			}
		}
		again, err := wire.DecodeUp(b)
		if err != nil {
			t.Fatalf("written by us, refused by us: %v: %s", err, b)
		}
		b2, err := wire.EncodeUp(again)
		if err != nil || string(b) != string(b2) {
			t.Fatalf("%s became %s (%v)", b, b2, err)
		}
	})
}
