package gen

import (
	"reflect"
	"strconv"
	"strings"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
	"halfline/internal/wire/shape"
)

// asyncAPI prints the description of the live protocol: AsyncAPI 3.0.
//
// Every part is a message. The hub may put several of its messages into one
// frame, one key each, so the payload of each is a whole frame that has at least
// that key.
func asyncAPI(src *source) []byte {
	up, down := reflect.TypeFor[wire.Up](), reflect.TypeFor[wire.Down]()
	upNames, upMessages := messages(src, up, "up")
	downNames, downMessages := messages(src, down, "down")
	version := src.value("wire", "Version")
	return yamlText(header, obj{
		{"asyncapi", "3.0.0"},
		{"info", obj{
			{"title", "Halfline live protocol"},
			{"version", version + ".0.0"},
			{"description", asyncIntro},
		}},
		{"defaultContentType", "application/json"},
		{"servers", obj{
			{"meeting-room", obj{
				{"host", "{address}"}, {"protocol", "ws"},
				{"description", "A hub on the local network. It prints its addresses when it starts."},
				{"variables", obj{{"address", obj{{"default", "localhost:8080"}, {"description", "host and port"}}}}},
			}},
			{"public", obj{
				{"host", "{name}"}, {"protocol", "wss"},
				{"description", "A hub that can be reached from outside speaks TLS only."},
				{"variables", obj{{"name", obj{{"default", "hub.example"}, {"description", "its host name"}}}}},
			}},
		}},
		{"channels", obj{{"live", obj{
			{"address", "/live"},
			{"title", "The live connection"},
			{"description", "One websocket for each device. Frames are text frames in UTF-8; each holds one JSON object whose keys are parts."},
			{"messages", references(append(append([]string{}, upNames...), downNames...), "#/components/messages/")},
			{"bindings", obj{{"ws", obj{
				{"method", "GET"},
				{"headers", obj{
					{"type", "object"},
					{"properties", obj{{"Sec-WebSocket-Protocol", obj{{"type", "string"}, {"const", src.value("wire", "Subprotocol")}}}}},
					{"required", []any{"Sec-WebSocket-Protocol"}},
				}},
				{"bindingVersion", "0.1.0"},
			}}}},
		}}}},
		{"operations", obj{
			{"fromDevice", obj{
				{"action", "receive"},
				{"channel", obj{{"$ref", "#/channels/live"}}},
				{"summary", "A device sends a frame with exactly one part."},
				{"messages", operationMessages(upNames)},
			}},
			{"toDevice", obj{
				{"action", "send"},
				{"channel", obj{{"$ref", "#/channels/live"}}},
				{"summary", "The hub sends a frame with one part or more, to be applied in the order listed here."},
				{"messages", operationMessages(downNames)},
			}},
		}},
		{"components", obj{
			{"messages", append(upMessages, downMessages...)},
			{"schemas", newSchemas(src, "#/components/schemas/").defs(up, down)},
		}},
		{"x-operations", operationTable(src)},
		{"x-refusal-codes", codeTable(append(src.codes("session", "Code"), src.codes("wire", "Code")...))},
		{"x-close-codes", closeTable(src)},
		{"x-limits", limitTable()},
	})
}

const asyncIntro = `Everything a client needs: a device opens a websocket, says hello, is welcomed, sends operations and gets facts, hints and verdicts.
The flow is told in PROTOCOL.md beside this file; how a device gets its token, in openapi.yaml.
Unknown keys in a frame from the hub are to be passed over. The tables x-operations, x-refusal-codes, x-close-codes and x-limits below belong to the description.`

// messages prints one message for each part of a frame.
func messages(src *source, frame reflect.Type, way string) ([]string, obj) {
	var names []string
	var out obj
	for _, f := range shape.Of(frame).Fields {
		part := f.Shape
		if part.Kind == shape.List {
			part = part.Elem
		}
		name := way + strings.ToUpper(f.Key[:1]) + f.Key[1:]
		names = append(names, name)
		m := obj{
			{"name", f.Key},
			{"title", part.Name},
			{"summary", firstSentence(src.docs[part.Package+"."+part.Name])},
			{"payload", obj{
				{"allOf", []any{obj{{"$ref", "#/components/schemas/" + frame.Name()}}}},
				{"required", []any{f.Key}},
			}},
		}
		var examples []any
		for _, e := range example.Frames() {
			if strings.HasPrefix(e.Name, way+"-") && e.Part == f.Key {
				examples = append(examples, obj{{"name", e.Name}, {"summary", e.Say}, {"payload", parse(e.JSON())}})
			}
		}
		out = append(out, member{name, append(m, member{"examples", examples})})
	}
	return names, out
}

// firstSentence cuts a comment down to a summary on one line.
func firstSentence(doc string) string {
	doc = strings.Join(strings.Fields(doc), " ")
	if i := strings.Index(doc, ". "); i >= 0 {
		return doc[:i+1]
	}
	return doc
}

func references(names []string, prefix string) obj {
	var out obj
	for _, n := range names {
		out = append(out, member{n, obj{{"$ref", prefix + n}}})
	}
	return out
}

func operationMessages(names []string) []any {
	var out []any
	for _, n := range names {
		out = append(out, obj{{"$ref", "#/channels/live/messages/" + n}})
	}
	return out
}

// operation is one row of the table above session.Op.
type operation struct {
	Do     string
	Fields []string
	Does   string
}

// operations reads that table. A row is "do  fields  what it does", the columns
// at least two blanks apart.
func operations(src *source) []operation {
	var out []operation
	for _, line := range strings.Split(src.docs["session.Op"], "\n") {
		row, ok := strings.CutPrefix(line, "\t")
		if !ok {
			continue
		}
		var columns []string
		for _, c := range strings.Split(row, "  ") {
			if c = strings.TrimSpace(c); c != "" {
				columns = append(columns, c)
			}
		}
		o := operation{Do: columns[0], Does: columns[len(columns)-1]}
		if len(columns) > 2 {
			o.Fields = strings.Split(columns[1], ", ")
		}
		out = append(out, o)
	}
	return out
}

func operationTable(src *source) []any {
	var out []any
	for _, o := range operations(src) {
		out = append(out, obj{{"do", o.Do}, {"fields", strs(o.Fields)}, {"does", o.Does}})
	}
	return out
}

func codeTable(codes []named) []any {
	var out []any
	for _, c := range codes {
		out = append(out, obj{{"code", c.Value}, {"means", c.Doc}})
	}
	return out
}

// standardCloses are the codes of RFC 6455, section 7.4.1, that the hub uses.
var standardCloses = []obj{
	{{"code", 1003}, {"device", "mend it"}, {"means", "a binary frame"}},
	{{"code", 1007}, {"device", "mend it"}, {"means", "bytes that are not UTF-8"}},
	{{"code", 1008}, {"device", "come back later"}, {"means", "far too many frames"}},
	{{"code", 1009}, {"device", "mend it"}, {"means", "a frame over the limit"}},
}

func closeTable(src *source) []any {
	var out []any
	for _, c := range src.codes("wire", "Close") {
		code, err := strconv.Atoi(c.Value)
		if err != nil {
			panic("gen: " + c.Name + ": a close code is a number")
		}
		device := "stop and say why"
		if wire.Resumable(code) {
			device = "come back and resume"
		}
		out = append(out, obj{{"code", code}, {"bye", wire.ByeCode(code)}, {"device", device}, {"means", c.Doc}})
	}
	for _, o := range standardCloses {
		out = append(out, o)
	}
	return out
}

func limitTable() []any {
	var out []any
	for _, l := range limits() {
		out = append(out, obj{{"what", l.What}, {"limit", l.Value}, {"over", l.Over}})
	}
	return out
}
