package wire

import (
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"halfline/internal/wire/shape"
)

// entries checks an object with free keys, such as men by tag.
func (c *checker) entries(s *shape.Shape, depth int) error {
	if err := c.open(depth); err != nil {
		return err
	}
	for n := 0; c.dec.PeekKind() != '}'; n++ {
		if n == MaxList {
			return c.refuse("longer than %d", MaxList)
		}
		raw, err := c.dec.ReadValue()
		if err != nil {
			return syntaxError(err)
		}
		key, err := jsontext.AppendUnquote(c.key[:0], raw)
		if err != nil {
			return syntaxError(err)
		}
		if utf8.RuneCount(key) > MaxText {
			return c.refuse("a key longer than %d characters", MaxText)
		}
		if err := c.value(s.Elem, nil, depth+1, false); err != nil {
			return err
		}
	}
	return c.close()
}
