package gen

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
)

// tree reads a document as a schema checker wants it.
func tree(t *testing.T, b []byte) map[string]any {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	require.NoError(t, err)
	return v.(map[string]any)
}

// yamlTree reads YAML with somebody else's reader.
func yamlTree(t *testing.T, text string) map[string]any {
	var v any
	require.NoError(t, yaml.Load([]byte(text), &v))
	b, err := json.Marshal(v)
	require.NoError(t, err)
	return tree(t, b)
}

// The schema is the AsyncAPI Initiative's own for 3.0.0: schemas/3.0.0.json of the
// package @asyncapi/specs 6.11.1 (Apache-2.0), see testdata/README.md.
func TestAsyncAPIDocumentIsValid(t *testing.T) {
	packed, err := os.Open("testdata/asyncapi-3.0.0.schema.json.gz")
	require.NoError(t, err)
	defer packed.Close()
	r, err := gzip.NewReader(packed)
	require.NoError(t, err)
	schema, err := jsonschema.UnmarshalJSON(r)
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:asyncapi", schema))
	sch, err := c.Compile("urn:asyncapi")
	require.NoError(t, err)

	doc := yamlTree(t, wire.AsyncAPI)
	require.NoError(t, sch.Validate(doc))

	delete(doc["channels"].(map[string]any)["live"].(map[string]any), "address")
	doc["channels"].(map[string]any)["live"].(map[string]any)["adress"] = "/live"
	assert.Error(t, sch.Validate(doc), "the schema must notice a slip")
}

func TestOpenAPIDocumentIsValid(t *testing.T) {
	doc, err := openapi3.NewLoader().LoadFromData([]byte(wire.OpenAPI))
	require.NoError(t, err)
	require.NoError(t, doc.Validate(context.Background(), openapi3.EnableExamplesValidation(), openapi3.IsOpenAPI31OrLater()))
	assert.Len(t, doc.Paths.Map(), 11)
}

// http.go has a table of the endpoints for people: it lists the same.
func TestOpenAPIHasTheEndpointsOfTheTable(t *testing.T) {
	text, err := os.ReadFile("../http.go")
	require.NoError(t, err)
	doc, err := openapi3.NewLoader().LoadFromData([]byte(wire.OpenAPI))
	require.NoError(t, err)
	rows := 0
	for _, line := range strings.Split(string(text), "\n") {
		row, ok := strings.CutPrefix(line, "//\t")
		if !ok {
			continue
		}
		method, rest, _ := strings.Cut(row, " ")
		for _, word := range strings.Fields(rest) {
			if !strings.HasPrefix(word, "/") {
				continue
			}
			rows++
			path, query, _ := strings.Cut(strings.TrimSuffix(word, ","), "?")
			op := doc.Paths.Value(path)
			require.NotNil(t, op, path)
			require.NotNil(t, op.GetOperation(method), "%s %s", method, path)
			assert.Len(t, op.GetOperation(method).Parameters, strings.Count(query, "="), path)
		}
	}
	assert.Equal(t, 12, rows)
}

// All three documents carry the same schemas.
func TestDocumentsAgree(t *testing.T) {
	bundle := tree(t, []byte(wire.Schema))["$defs"].(map[string]any)
	seen := map[string]bool{}
	for _, doc := range []map[string]any{yamlTree(t, wire.AsyncAPI), yamlTree(t, wire.OpenAPI)} {
		schemas := doc["components"].(map[string]any)["schemas"].(map[string]any)
		for name, s := range schemas {
			b, err := json.Marshal(s)
			require.NoError(t, err)
			same := tree(t, bytes.ReplaceAll(b, []byte("#/components/schemas/"), []byte("#/$defs/")))
			assert.Equal(t, bundle[name], any(same), name)
			seen[name] = true
		}
	}
	assert.Len(t, seen, len(bundle))
}

// The bundle is a schema by the rules of its own dialect, and every part of it
// compiles.
func TestBundleCompiles(t *testing.T) {
	bundle := tree(t, []byte(wire.Schema))
	meta, err := jsonschema.NewCompiler().Compile(dialect)
	require.NoError(t, err)
	require.NoError(t, meta.Validate(bundle))
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:b", bundle))
	for name := range bundle["$defs"].(map[string]any) {
		_, err := c.Compile("urn:b#/$defs/" + name)
		assert.NoError(t, err, name)
	}
}

// Every example of the AsyncAPI document is valid against the payload of its
// message, and every message has one.
func TestExamplesAreValid(t *testing.T) {
	doc := yamlTree(t, wire.AsyncAPI)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft7)
	require.NoError(t, c.AddResource("urn:a", doc))
	n := 0
	for name, m := range doc["components"].(map[string]any)["messages"].(map[string]any) {
		payload, err := c.Compile("urn:a#/components/messages/" + name + "/payload")
		require.NoError(t, err, name)
		examples := m.(map[string]any)["examples"].([]any)
		assert.NotEmpty(t, examples, name)
		for _, e := range examples {
			n++
			assert.NoError(t, payload.Validate(e.(map[string]any)["payload"]), "%v", e)
		}
		assert.Error(t, payload.Validate(map[string]any{}), "%s: an empty frame says nothing", name)
	}
	assert.Equal(t, len(example.Frames()), n)
}

// Every operation of the enum has its example, sent with what its row names.
func TestEveryOperationHasItsExample(t *testing.T) {
	src, err := readSource(root)
	require.NoError(t, err)
	var want, got []string
	for _, o := range operations(src) {
		want = append(want, o.Do)
	}
	for _, e := range example.Frames() {
		if e.Up != nil && e.Up.Op != nil {
			got = append(got, e.Up.Op.Op.Do)
		}
	}
	assert.Equal(t, want, got)
}

func TestYAMLSaysWhatTheTreeSays(t *testing.T) {
	nasty := obj{
		{"on", "off"}, {"n", "y"}, {"a: b", "x # y"}, {"empty", obj{}}, {"none", []any{}}, {"null", "null"}, {"num", "012"},
		{"list", []any{"a, b", "- c", "[d]", true, 5}}, {"deep", []any{[]any{1, []any{}}, obj{{"k", "two\nlines\n\n  in"}, {"l", []any{obj{{"m", 1}}}}}}},
		{"quote", `"it's"`}, {"colon", "a: b"}, {"tab", "a\tb"}, {"trail", "a "}, {"umlaut", "1½ yd"}, {"tilde", "~"}, {"long", strings.Repeat("word, ", 40)},
	}
	text := yamlText("comment", nasty)
	assert.Equal(t, tree(t, jsonText(nasty)), yamlTree(t, string(text)), "%s", text)
}
