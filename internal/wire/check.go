package wire

import (
	"bytes"
	"fmt"
	"io"
	"math/bits"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"halfline/internal/wire/shape"
)

var upShape = shapeOf[Up]()

func shapeOf[T any]() *shape.Shape { return shape.Of(reflect.TypeFor[T]()) }

// check walks over JSON once and holds it against a shape. The JSON library
// sees to syntax, UTF-8 and repeated keys; everything else that can be wrong is
// found here, so that a value which passes can be unmarshalled as it stands.
//
// A frame has exactly one part, and no part that is not known; in bodies
// and inside parts an unknown key is passed over, for later versions.
func check(b []byte, s *shape.Shape, frame bool) error {
	c := checkers.Get().(*checker)
	defer checkers.Put(c)
	c.in.Reset(b)
	c.dec.Reset(&c.in)
	if err := c.value(s, nil, 1, frame); err != nil {
		return err
	}
	if _, err := c.dec.ReadToken(); err == nil {
		return &FrameError{What: "more than one JSON value: send one object in one frame"}
	} else if err != io.EOF {
		return syntaxError(err)
	}
	return nil
}

// checkers are used again: every drag of every finger passes through one.
var checkers = sync.Pool{New: func() any { return &checker{dec: new(jsontext.Decoder)} }}

type checker struct {
	in  bytes.Reader
	dec *jsontext.Decoder
	key [64]byte // room to unquote short keys without garbage
}

// refuse says where the decoder stands and what is wrong there.
func (c *checker) refuse(format string, args ...any) error {
	return &FrameError{Where: dotted(string(c.dec.StackPointer())), What: fmt.Sprintf(format, args...)}
}

// value checks the next value. f is the field it belongs to, nil for an element;
// depth counts the arrays and objects around it, itself included.
func (c *checker) value(s *shape.Shape, f *shape.Field, depth int, frame bool) error {
	kind := c.dec.PeekKind()
	if want := jsonKind(s.Kind); kind != want && !(want == 't' && kind == 'f') {
		return c.wrongKind(want)
	}
	switch s.Kind {
	case shape.Object:
		return c.object(s, depth, frame)
	case shape.Map:
		return c.entries(s, depth)
	case shape.List, shape.Tuple:
		return c.list(s, depth)
	case shape.String:
		return c.text(f)
	case shape.Integer:
		return c.integer(s)
	case shape.Boolean, shape.Number:
		if _, err := c.dec.ReadToken(); err != nil {
			return syntaxError(err)
		}
		return nil
	}
	return c.refuse("a %s does not travel this way", s.Kind)
}

// wrongKind steps over the next value, so that the error names its place and
// bad JSON is told before a bad kind.
func (c *checker) wrongKind(want jsontext.Kind) error {
	tok, err := c.dec.ReadToken()
	if err != nil {
		return syntaxError(err)
	}
	return c.refuse("want %s, not %s", kindName(want), kindName(tok.Kind()))
}

func (c *checker) object(s *shape.Shape, depth int, frame bool) error {
	if err := c.open(depth); err != nil {
		return err
	}
	var seen uint64 // bit i: s.Fields[i] was there
	for c.dec.PeekKind() != '}' {
		raw, err := c.dec.ReadValue()
		if err != nil {
			return syntaxError(err)
		}
		key, err := jsontext.AppendUnquote(c.key[:0], raw)
		if err != nil {
			return syntaxError(err)
		}
		i := find(s, key)
		if i < 0 {
			if err := c.unknown(s, key, depth, frame); err != nil {
				return err
			}
			continue
		}
		seen |= 1 << i
		if err := c.value(s.Fields[i].Shape, &s.Fields[i], depth+1, false); err != nil {
			return err
		}
	}
	if err := c.close(); err != nil {
		return err
	}
	if frame {
		if n := bits.OnesCount64(seen); n != 1 {
			return c.refuse("%d parts: a frame has exactly one of %s", n, keys(s))
		}
	}
	for i := range s.Fields {
		if seen&(1<<i) == 0 && !s.Fields[i].Optional {
			return c.refuse("%s is missing", s.Fields[i].Key)
		}
	}
	return nil
}

// find gives the index of a known key, or -1.
func find(s *shape.Shape, key []byte) int {
	for i := range s.Fields {
		if s.Fields[i].Key == string(key) {
			return i
		}
	}
	return -1
}

// unknown refuses a key that looks like a slip and passes over any other.
func (c *checker) unknown(s *shape.Shape, key []byte, depth int, frame bool) error {
	if frame {
		return c.refuse("no such part: want one of %s", keys(s))
	}
	for i := range s.Fields {
		if strings.EqualFold(s.Fields[i].Key, string(key)) {
			return c.refuse("keys are case-sensitive: write %s", s.Fields[i].Key)
		}
	}
	if utf8.RuneCount(key) > MaxText {
		return c.refuse("a key longer than %d characters", MaxText)
	}
	return c.skip(depth + 1)
}

// skip passes over a value nobody knows, within the limits.
func (c *checker) skip(depth int) error {
	kind := c.dec.PeekKind()
	switch kind {
	case '"':
		return c.text(nil)
	case '{', '[':
	default:
		if _, err := c.dec.ReadToken(); err != nil {
			return syntaxError(err)
		}
		return nil
	}
	if err := c.open(depth); err != nil {
		return err
	}
	limit := MaxList
	if kind == '{' {
		limit *= 2 // keys and values alternate
	}
	for n := 0; ; n++ {
		switch c.dec.PeekKind() {
		case '}', ']':
			return c.close()
		}
		if n == limit {
			return c.refuse("longer than %d", MaxList)
		}
		if err := c.skip(depth + 1); err != nil {
			return err
		}
	}
}

// open steps into an object or array.
func (c *checker) open(depth int) error {
	if _, err := c.dec.ReadToken(); err != nil {
		return syntaxError(err)
	}
	if depth > MaxDepth {
		return c.refuse("nested deeper than %d", MaxDepth)
	}
	return nil
}

// close steps out of an object or array.
func (c *checker) close() error {
	if _, err := c.dec.ReadToken(); err != nil {
		return syntaxError(err)
	}
	return nil
}

func (c *checker) list(s *shape.Shape, depth int) error {
	if err := c.open(depth); err != nil {
		return err
	}
	n := 0
	for ; c.dec.PeekKind() != ']'; n++ {
		if n == MaxList {
			return c.refuse("longer than %d", MaxList)
		}
		if err := c.value(s.Elem, nil, depth+1, false); err != nil {
			return err
		}
	}
	if err := c.close(); err != nil {
		return err
	}
	if s.Kind == shape.Tuple && n != s.Len {
		return c.refuse("%d elements: want exactly %d", n, s.Len)
	}
	return nil
}

func (c *checker) text(f *shape.Field) error {
	raw, err := c.dec.ReadValue()
	if err != nil {
		return syntaxError(err)
	}
	// Escapes only make a text longer in bytes, so a short one needs no
	// second look; one that is long is counted as it will be read.
	if len(raw)-2 > MaxText {
		long, err := jsontext.AppendUnquote(nil, raw)
		if err != nil {
			return syntaxError(err)
		}
		if utf8.RuneCount(long) > MaxText {
			return c.refuse("longer than %d characters", MaxText)
		}
	}
	if f != nil && f.Hex > 0 && !isHex(raw[1:len(raw)-1], f.Hex) {
		return c.refuse("want %d hex digits 0-9 a-f", f.Hex)
	}
	return nil
}

func isHex(b []byte, n int) bool {
	for _, c := range b {
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return len(b) == n
}

func (c *checker) integer(s *shape.Shape) error {
	raw, err := c.dec.ReadValue()
	if err != nil {
		return syntaxError(err)
	}
	n, err := strconv.ParseInt(string(raw), 10, 64)
	switch {
	case bytes.ContainsAny(raw, ".eE") || string(raw) == "-0":
		return c.refuse("want a whole number in plain digits")
	case err != nil || n < s.Min || n > s.Max:
		return c.refuse("out of range: want %d to %d", s.Min, s.Max)
	}
	return nil
}

func keys(s *shape.Shape) string {
	names := make([]string, len(s.Fields))
	for i, f := range s.Fields {
		names[i] = f.Key
	}
	return strings.Join(names, ", ")
}

func jsonKind(k shape.Kind) jsontext.Kind {
	switch k {
	case shape.Object, shape.Map:
		return '{'
	case shape.List, shape.Tuple:
		return '['
	case shape.String:
		return '"'
	case shape.Boolean:
		return 't'
	}
	return '0'
}
