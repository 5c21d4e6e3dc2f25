package wire_test

import (
	"reflect"
	"strings"

	"pgregory.net/rapid"

	"halfline/internal/wire"
	"halfline/internal/wire/shape"
)

// hardTexts are texts that have broken codecs before: quotes, escapes, a
// half and a fraction sign, text outside the first plane, a line separator that
// JSON allows and JavaScript did not.
var hardTexts = []string{"", `"`, `\`, "</script>", "1½ yd", "\u2028", "🏈", "\x00\x1f", "a\tb\n", strings.Repeat("é", wire.MaxText)}

// fill draws a value of any type that travels, within what the schemas allow.
// Lists and maps are never nil unless they may be absent, because that is how
// they come back.
func fill(t *rapid.T, v reflect.Value, f *shape.Field) {
	switch v.Kind() {
	case reflect.Struct:
		fillStruct(t, v)
	case reflect.Pointer:
		if f != nil && (f.Optional || f.Null) && !rapid.Bool().Draw(t, "there") {
			return
		}
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem(), f)
	case reflect.Map:
		n := rapid.IntRange(0, 3).Draw(t, "len")
		if n == 0 && f != nil && f.Optional {
			return
		}
		v.Set(reflect.MakeMap(v.Type()))
		for range n {
			key, elem := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			fill(t, key, nil)
			if elem.Kind() != reflect.Pointer || rapid.Bool().Draw(t, "there") {
				fill(t, elem, &shape.Field{Enum: f.Enum})
			}
			v.SetMapIndex(key, elem)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 3).Draw(t, "len")
		if n == 0 && f != nil && f.Optional && f.GoName != "Committed" {
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fill(t, v.Index(i), nil)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(t, v.Index(i), nil)
		}
	case reflect.String:
		v.SetString(drawText(t, f))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "bool"))
	case reflect.Float64:
		v.SetFloat(rapid.Float64Range(-1e6, 1e6).Draw(t, "float"))
	case reflect.Uint64:
		v.SetUint(rapid.Uint64Range(0, shape.MaxInteger).Draw(t, "uint"))
	default:
		s := shape.Of(v.Type())
		v.SetInt(rapid.Int64Range(s.Min, s.Max).Draw(t, "int"))
	}
}

func fillStruct(t *rapid.T, v reflect.Value) {
	s := shape.Of(v.Type())
	for i := range s.Fields {
		fill(t, v.Field(i), &s.Fields[i])
	}
}

func drawText(t *rapid.T, f *shape.Field) string {
	switch {
	case f != nil && f.Enum != nil:
		return rapid.SampledFrom(f.Enum).Draw(t, "word")
	case f != nil && f.Hex > 0:
		return rapid.StringOfN(rapid.RuneFrom([]rune("0123456789abcdef")), f.Hex, f.Hex, -1).Draw(t, "hex")
	case rapid.Bool().Draw(t, "hard"):
		return rapid.SampledFrom(hardTexts).Draw(t, "text")
	}
	return rapid.StringN(0, 12, -1).Draw(t, "text")
}

// drawUp draws a frame with one part.
func drawUp(t *rapid.T) wire.Up {
	var u wire.Up
	v := reflect.ValueOf(&u).Elem()
	i := rapid.IntRange(0, v.NumField()-1).Draw(t, "part")
	part := reflect.New(v.Field(i).Type().Elem())
	fill(t, part.Elem(), nil)
	v.Field(i).Set(part)
	return u
}

// drawDown draws a frame of the hub with one part or more. Parts that are lists
// are absent or not empty.
func drawDown(t *rapid.T) wire.Down {
	var d wire.Down
	v := reflect.ValueOf(&d).Elem()
	fillStruct(t, v)
	if v.IsZero() {
		d.Beat = &wire.Beat{}
	}
	return d
}
