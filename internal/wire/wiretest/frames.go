package wiretest

import (
	"bytes"
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"halfline/internal/wire"
)

// T is what is needed of a *testing.T, *testing.B or *rapid.T.
type T interface {
	Helper()
	Errorf(format string, args ...any)
}

// Documents are the compiled documents. They may be used by many goroutines.
type Documents struct {
	up, down *jsonschema.Schema
	api      *openapi3.T
}

// Validator gives the documents, compiled once for all tests of a program. It
// panics if they cannot be compiled.
var Validator = sync.OnceValue(func() *Documents {
	schema, err := jsonschema.UnmarshalJSON(strings.NewReader(wire.Schema))
	if err != nil {
		panic(fmt.Sprintf("wiretest: schema/wire.json: %v", err))
	}
	const url = "urn:halfline:wire"
	c := jsonschema.NewCompiler()
	if err := c.AddResource(url, schema); err != nil {
		panic(fmt.Sprintf("wiretest: schema/wire.json: %v", err))
	}
	api, err := openapi3.NewLoader().LoadFromData([]byte(wire.OpenAPI))
	if err != nil {
		panic(fmt.Sprintf("wiretest: openapi.yaml: %v", err))
	}
	return &Documents{up: c.MustCompile(url + "#/$defs/Up"), down: c.MustCompile(url + "#/$defs/Down"), api: api}
})

// Up fails the test if a frame of a device breaks the protocol. Don't pass it
// frames that are sent to be refused.
func (d *Documents) Up(t T, frame []byte) {
	t.Helper()
	limit := wire.MaxUp
	if v, err := jsonschema.UnmarshalJSON(bytes.NewReader(frame)); err == nil {
		if parts, ok := v.(map[string]any); ok && parts["hello"] != nil {
			limit = wire.MaxFirst
		}
	}
	checkFrame(t, "up", d.up, frame, limit)
}

// Down fails the test if a frame of the hub breaks the protocol.
func (d *Documents) Down(t T, frame []byte) {
	t.Helper()
	checkFrame(t, "down", d.down, frame, wire.MaxDown)
}

func checkFrame(t T, way string, schema *jsonschema.Schema, frame []byte, limit int) {
	t.Helper()
	if len(frame) > limit {
		t.Errorf("frame %s: %d bytes, over the limit of %d", way, len(frame), limit)
	}
	if !utf8.Valid(frame) {
		t.Errorf("frame %s: not UTF-8: %q", way, frame)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(frame))
	if err != nil {
		t.Errorf("frame %s: not JSON: %v: %s", way, err, frame)
		return
	}
	if err := schema.Validate(v); err != nil {
		t.Errorf("frame %s: breaks the schema: %v: %s", way, err, frame)
	}
}
