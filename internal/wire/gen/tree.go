package gen

import (
	"bytes"
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// obj is a JSON object that keeps the order in which it was written: documents
// are read by people too.
type obj []member

type member struct {
	Key   string
	Value any // obj, []any, string, bool, int, int64 or jsontext.Value
}

// with adds a key unless the value is empty text.
func (o obj) with(key string, v any) obj {
	if v == "" {
		return o
	}
	return append(o, member{key, v})
}

// MarshalJSONTo writes o in its order.
func (o obj) MarshalJSONTo(enc *jsontext.Encoder) error {
	if err := enc.WriteToken(jsontext.BeginObject); err != nil {
		return err
	}
	for _, m := range o {
		if err := enc.WriteToken(jsontext.String(m.Key)); err != nil {
			return err
		}
		if err := json.MarshalEncode(enc, m.Value); err != nil {
			return err
		}
	}
	return enc.WriteToken(jsontext.EndObject)
}

// jsonText prints a tree as an indented JSON file.
func jsonText(tree any) []byte {
	b, err := json.Marshal(tree, jsontext.WithIndent("  "))
	if err != nil {
		panic(fmt.Sprintf("gen: print JSON: %v", err)) // a tree holds only what can be printed
	}
	return append(b, '\n')
}

// parse reads JSON into a tree; numbers stay as they are written.
func parse(b []byte) any {
	v, err := parseValue(jsontext.NewDecoder(bytes.NewReader(b)))
	if err != nil {
		panic(fmt.Sprintf("gen: parse JSON of our own: %v", err))
	}
	return v
}

func parseValue(dec *jsontext.Decoder) (any, error) {
	switch dec.PeekKind() {
	case '{':
		return parseObject(dec)
	case '[':
		list := []any{}
		if _, err := dec.ReadToken(); err != nil {
			return nil, err
		}
		for dec.PeekKind() != ']' {
			v, err := parseValue(dec)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		_, err := dec.ReadToken()
		return list, err
	case '"':
		tok, err := dec.ReadToken()
		return tok.String(), err
	}
	raw, err := dec.ReadValue()
	return raw.Clone(), err
}

func parseObject(dec *jsontext.Decoder) (any, error) {
	o := obj{}
	if _, err := dec.ReadToken(); err != nil {
		return nil, err
	}
	for dec.PeekKind() != '}' {
		tok, err := dec.ReadToken()
		if err != nil {
			return nil, err
		}
		key := tok.String()
		v, err := parseValue(dec)
		if err != nil {
			return nil, err
		}
		o = append(o, member{key, v})
	}
	_, err := dec.ReadToken()
	return o, err
}

// strs makes a list of texts.
func strs(words []string) []any {
	list := make([]any, len(words))
	for i, w := range words {
		list[i] = w
	}
	return list
}
