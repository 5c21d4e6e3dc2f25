package gen

import (
	"fmt"
	"reflect"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
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
	reflect.TypeFor[wire.QROut](),
	reflect.TypeFor[wire.BookOut](),
	reflect.TypeFor[wire.CostOut](),
	reflect.TypeFor[wire.RestsOut](),
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
		"client/src/wire/types.ts":       typeScript(src),
		"internal/wire/schema/wire.json": bundle(src),
		"internal/wire/asyncapi.yaml":    asyncAPI(src),
		"internal/wire/openapi.yaml":     openAPI(src),
	}, nil
}

// Golden prints the example frames as files of the version they belong to:
// path below the root -> content. Once published such a file never changes, so
// whoever writes them must leave those alone that are there.
func Golden() map[string][]byte {
	out := map[string][]byte{}
	for _, f := range example.Frames() {
		out[fmt.Sprintf("testdata/wire/v%d/%s.json", wire.Version, f.Name)] = append(f.JSON(), '\n')
	}
	return out
}
