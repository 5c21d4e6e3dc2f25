package shape

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"halfline/internal/field"
)

// Kind is a kind of JSON value.
type Kind string

// Kinds of JSON values.
const (
	Object  Kind = "object"
	Map     Kind = "map" // an object with free keys
	List    Kind = "list"
	Tuple   Kind = "tuple" // an array of exactly Len elements
	String  Kind = "string"
	Integer Kind = "integer"
	Number  Kind = "number"
	Boolean Kind = "boolean"
)

// MaxInteger is the greatest whole number that every JSON reader holds exactly
// (RFC 8259, section 6: 2^53-1).
const MaxInteger = 1<<53 - 1

// MaxInches bounds a coordinate of a place: the field with its end zones is 120 yards
// long, and no place on it is further than that from the ball.
const MaxInches = int64(120 * field.Yard)

// Shape is what a JSON value may look like.
type Shape struct {
	Kind Kind
	// Package and Name say which Go type this is; Name is empty for a type
	// without a name of its own.
	Package, Name string
	Fields        []Field // of an Object, in the order of declaration
	Elem          *Shape  // of a Map, List or Tuple
	ElemNull      bool    // an element may be null
	Len           int     // of a Tuple
	Min, Max      int64   // of an Integer
}

// Field is one key of an Object.
type Field struct {
	Key      string // as it travels
	GoName   string
	Shape    *Shape
	Optional bool     // may be absent
	Null     bool     // may be null
	Enum     []string // all values of a String, or of a Map's or List's strings; nil: any
	Hex      int      // exact count of hex digits of a String; 0: any text
}

// Field finds a key of an Object.
func (s *Shape) Field(key string) (*Field, bool) {
	for i := range s.Fields {
		if s.Fields[i].Key == key {
			return &s.Fields[i], true
		}
	}
	return nil, false
}

var (
	mu    sync.Mutex // guards known: tests of several packages ask at once
	known = map[reflect.Type]*Shape{}
)

// Of gives the shape of t. It panics on a type that no message may have: that
// is a mistake in the program, found the first time a test runs.
func Of(t reflect.Type) *Shape {
	mu.Lock()
	defer mu.Unlock()
	return of(t)
}

func of(t reflect.Type) *Shape {
	if s, ok := known[t]; ok {
		return s
	}
	s := &Shape{}
	known[t] = s
	done := false
	defer func() {
		if !done {
			delete(known, t) // a panic: the next to ask must hear of it too
		}
	}()
	if t.PkgPath() != "" {
		s.Package, s.Name = t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:], t.Name()
	}
	switch t.Kind() {
	case reflect.Struct:
		s.Kind = Object
		for i := range t.NumField() {
			s.Fields = append(s.Fields, fieldOf(t, t.Field(i)))
		}
	case reflect.Map:
		if t.Key().Kind() != reflect.String {
			panic(fmt.Sprintf("shape: %s: a map that travels has text keys", t))
		}
		s.Kind, s.Elem, s.ElemNull = Map, of(deref(t.Elem())), t.Elem().Kind() == reflect.Pointer
	case reflect.Slice:
		s.Kind, s.Elem = List, of(t.Elem())
	case reflect.Array:
		s.Kind, s.Elem, s.Len = Tuple, of(t.Elem()), t.Len()
	case reflect.String:
		s.Kind = String
	case reflect.Bool:
		s.Kind = Boolean
	case reflect.Float64:
		s.Kind = Number
	case reflect.Int, reflect.Int64:
		s.Kind, s.Min, s.Max = Integer, -MaxInteger, MaxInteger
	case reflect.Uint64:
		s.Kind, s.Min, s.Max = Integer, 0, MaxInteger
	case reflect.Int32:
		if t != reflect.TypeFor[field.Inches]() {
			panic(fmt.Sprintf("shape: %s: of the 32-bit numbers only inches travel", t))
		}
		s.Kind, s.Min, s.Max = Integer, -MaxInches, MaxInches
	default:
		panic(fmt.Sprintf("shape: %s: a %s cannot travel", t, t.Kind()))
	}
	done = true
	return s
}

func fieldOf(owner reflect.Type, sf reflect.StructField) Field {
	key, options, _ := strings.Cut(sf.Tag.Get("json"), ",")
	if !sf.IsExported() || sf.Anonymous || key == "" || key == "-" {
		panic(fmt.Sprintf("shape: %s.%s: every field that travels is exported, named and has a json key", owner, sf.Name))
	}
	f := Field{Key: key, GoName: sf.Name, Shape: of(deref(sf.Type)), Optional: options == "omitempty"}
	f.Null = sf.Type.Kind() == reflect.Pointer && !f.Optional
	if enum, ok := sf.Tag.Lookup("enum"); ok {
		f.Enum = strings.Split(enum, ",")
	}
	if hex := sf.Tag.Get("hex"); hex != "" {
		n, err := strconv.Atoi(hex)
		if err != nil {
			panic(fmt.Sprintf("shape: %s.%s: hex tag %q: want a count of digits", owner, sf.Name, hex))
		}
		f.Hex = n
	}
	inner := f.Shape
	if f.Enum != nil && (inner.Kind == Map || inner.Kind == List) {
		inner = inner.Elem
	}
	if (f.Enum != nil || f.Hex != 0) && inner.Kind != String {
		panic(fmt.Sprintf("shape: %s.%s: only text has an enum or hex tag", owner, sf.Name))
	}
	return f
}

func deref(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Pointer {
		return t.Elem()
	}
	return t
}
