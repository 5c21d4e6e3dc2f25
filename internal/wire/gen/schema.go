package gen

import (
	"fmt"
	"reflect"
	"strings"

	"halfline/internal/wire"
	"halfline/internal/wire/shape"
)

// dialect is the version of JSON Schema that the bundle is written in. Only
// keywords that mean the same since draft 7 are used, because that is what
// AsyncAPI reads.
const dialect = "https://json-schema.org/draft/2020-12/schema"

// schemas prints JSON Schemas of shapes.
type schemas struct {
	src     *source
	prefix  string                // of references: "#/$defs/"
	bounded map[*shape.Shape]bool // reachable from Up: the decoder bounds its texts and lists
}

func newSchemas(src *source, prefix string) *schemas {
	s := &schemas{src: src, prefix: prefix, bounded: map[*shape.Shape]bool{}}
	for _, up := range reach(reflect.TypeFor[wire.Up]()) {
		s.bounded[up] = true
	}
	return s
}

// reach lists every shape that values of some types are made of, parents first.
func reach(types ...reflect.Type) []*shape.Shape {
	var out []*shape.Shape
	seen := map[*shape.Shape]bool{}
	var visit func(*shape.Shape)
	visit = func(s *shape.Shape) {
		if s == nil || seen[s] {
			return
		}
		seen[s] = true
		out = append(out, s)
		for _, f := range s.Fields {
			visit(f.Shape)
		}
		visit(s.Elem)
	}
	for _, t := range types {
		visit(shape.Of(t))
	}
	return out
}

// published says whether a shape has a name of its own in the documents.
func published(s *shape.Shape) bool {
	return s.Name != "" && (s.Kind == shape.Object || s.Kind == shape.Tuple)
}

// defs prints the schemas of all named types that some types are made of.
func (s *schemas) defs(types ...reflect.Type) obj {
	var out obj
	for _, sh := range reach(types...) {
		if published(sh) {
			out = append(out, member{sh.Name, s.define(sh)})
		}
	}
	return out
}

// define prints a named type itself.
func (s *schemas) define(sh *shape.Shape) obj {
	doc := s.doc(sh.Package + "." + sh.Name)
	if sh.Kind == shape.Tuple {
		return append(obj{}.with("description", doc), s.tuple(sh)...)
	}
	properties, required := obj{}, []string{}
	for _, f := range sh.Fields {
		properties = append(properties, member{f.Key, s.field(sh, f)})
		if !f.Optional {
			required = append(required, f.Key)
		}
	}
	o := obj{{"type", "object"}}.with("description", doc)
	switch sh {
	case shape.Of(reflect.TypeFor[wire.Up]()):
		return append(o, member{"minProperties", 1}, member{"maxProperties", 1},
			member{"properties", properties}, member{"additionalProperties", false})
	case shape.Of(reflect.TypeFor[wire.Down]()):
		o = append(o, member{"minProperties", 1})
	}
	o = append(o, member{"properties", properties})
	if len(required) > 0 {
		o = append(o, member{"required", strs(required)})
	}
	return append(o, member{"additionalProperties", true})
}

func (s *schemas) doc(name string) string {
	return strings.ReplaceAll(s.src.docs[name], "\t", "  ")
}

// field prints one property.
func (s *schemas) field(owner *shape.Shape, f shape.Field) obj {
	o := s.value(f.Shape, f.Enum, f.Hex, s.bounded[owner])
	if f.Null {
		o = nullable(o)
	}
	doc := s.doc(owner.Package + "." + owner.Name + "." + f.GoName)
	if doc == "" {
		return o
	}
	if o[0].Key == "$ref" {
		o = obj{{"allOf", []any{o}}} // a reference may have no sisters before draft 2019-09
	}
	return append(obj{{"description", doc}}, o...)
}

// nullable lets null stand for a value.
func nullable(o obj) obj {
	if o[0].Key != "type" {
		return obj{{"anyOf", []any{o, obj{{"type", "null"}}}}}
	}
	out := append(obj{}, o...)
	out[0].Value = []any{o[0].Value, "null"}
	return out
}

// value prints a type where it is used: a reference if it has a name.
func (s *schemas) value(sh *shape.Shape, enum []string, hex int, bounded bool) obj {
	if published(sh) {
		return obj{{"$ref", s.prefix + sh.Name}}
	}
	switch sh.Kind {
	case shape.Boolean:
		return obj{{"type", "boolean"}}
	case shape.Number:
		return obj{{"type", "number"}}
	case shape.Integer:
		return obj{{"type", "integer"}, {"minimum", sh.Min}, {"maximum", sh.Max}}
	case shape.Tuple:
		return s.tuple(sh)
	case shape.List:
		o := obj{{"type", "array"}, {"items", s.value(sh.Elem, enum, hex, bounded)}}
		if bounded {
			o = append(o, member{"maxItems", wire.MaxList})
		}
		return o
	case shape.Map:
		elem := s.value(sh.Elem, enum, hex, bounded)
		if sh.ElemNull {
			elem = nullable(elem)
		}
		return obj{{"type", "object"}, {"additionalProperties", elem}}
	case shape.String:
		o := obj{{"type", "string"}}
		switch {
		case enum != nil:
			o = append(o, member{"enum", strs(enum)})
		case hex > 0:
			o = append(o, member{"pattern", fmt.Sprintf("^[0-9a-f]{%d}$", hex)})
		case bounded:
			o = append(o, member{"maxLength", wire.MaxText})
		}
		return o
	}
	panic(fmt.Sprintf("gen: a %s has no schema", sh.Kind))
}

func (s *schemas) tuple(sh *shape.Shape) obj {
	return obj{{"type", "array"}, {"items", s.value(sh.Elem, nil, 0, false)}, {"minItems", sh.Len}, {"maxItems", sh.Len}}
}

// bundle is one file with the schema of every type that travels.
func bundle(src *source) []byte {
	return jsonText(obj{
		{"$schema", dialect},
		{"$id", "urn:halfline:wire:" + src.value("wire", "Version")},
		{"$comment", header},
		{"title", "Halfline live protocol and HTTP bodies"},
		{"description", "A frame from a device is valid against $defs/Up, a frame from the hub against $defs/Down."},
		{"$defs", newSchemas(src, "#/$defs/").defs(roots...)},
	})
}
