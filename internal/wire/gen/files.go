package gen

import (
	"fmt"
	"maps"
	"reflect"
	"slices"

	"halfline/internal/wire"
)

// roots are the types everything else is reached from: the two frames, then
// the bodies of the HTTP endpoints.
var roots = []reflect.Type{
	reflect.TypeFor[wire.Up](),
	reflect.TypeFor[wire.Down](),
	reflect.TypeFor[wire.CoachIn](),
	reflect.TypeFor[wire.TokenOut](),
	reflect.TypeFor[wire.JoinIn](),
	reflect.TypeFor[wire.JoinOut](),
	reflect.TypeFor[wire.SessionIn](),
	reflect.TypeFor[wire.SessionOut](),
	reflect.TypeFor[wire.SessionsOut](),
	reflect.TypeFor[wire.CodeOut](),
	reflect.TypeFor[wire.BookOut](),
	reflect.TypeFor[wire.ErrorOut](),
}

// Files prints every generated file: path below root -> content. Comments are
// read from the Go source below root; the types are those linked in, so run it
// from the tree it prints for.
func Files(root string) (map[string][]byte, error) {
	src, err := readSource(root)
	if err != nil {
		return nil, fmt.Errorf("gen: %w", err)
	}
	return map[string][]byte{
		"client/src/wire/types.ts": typeScript(src),
	}, nil
}

func sortedKeys[V any](m map[string]V) []string {
	return slices.Sorted(maps.Keys(m))
}
