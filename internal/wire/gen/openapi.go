package gen

import (
	"reflect"
	"strconv"

	"halfline/internal/wire"
)

// endpoint is one row of the table in wire/http.go with what its handler may
// answer.
type endpoint struct {
	method, path, id, say string
	in, out               reflect.Type
	token                 string // whose token it needs: "", "coach", "member"
	session               bool   // names its session in the query
	spot                  bool   // and a spot
	errors                []int
}

var endpoints = []endpoint{
	{method: "post", path: "/api/coach", id: "coach", say: "Change the key of the coach's link for a token.",
		in: reflect.TypeFor[wire.CoachIn](), out: reflect.TypeFor[wire.TokenOut](), errors: []int{400, 401, 429}},
	{method: "post", path: "/api/join", id: "join", say: "Change a join code for a token and a place in the session, or in its waiting list.",
		in: reflect.TypeFor[wire.JoinIn](), out: reflect.TypeFor[wire.JoinOut](), errors: []int{400, 404, 409, 429, 503}},
	{method: "get", path: "/api/sessions", id: "sessions", say: "List the sessions.",
		out: reflect.TypeFor[wire.SessionsOut](), token: "coach", errors: []int{401, 403}},
	{method: "post", path: "/api/sessions", id: "startSession", say: "Start a session.",
		in: reflect.TypeFor[wire.SessionIn](), out: reflect.TypeFor[wire.SessionOut](), token: "coach", errors: []int{400, 401, 403, 429, 503}},
	{method: "get", path: "/api/book", id: "book", say: "Get what a client needs of the session's book.",
		out: reflect.TypeFor[wire.BookOut](), token: "member", session: true, errors: []int{401, 403, 404}},
	{method: "post", path: "/api/code", id: "drawCode", say: "Draw a new join code; the old one ends.",
		out: reflect.TypeFor[wire.CodeOut](), token: "coach", session: true, errors: []int{401, 403, 404, 429, 503}},
	{method: "get", path: "/api/qr", id: "qr", say: "Get the join link as a QR code.",
		out: reflect.TypeFor[wire.QROut](), token: "coach", session: true, errors: []int{401, 403, 404}},
	{method: "get", path: "/api/cost", id: "cost", say: "Tell what the errors of the rep that is shown cost: its play run many times, right and with them.",
		out: reflect.TypeFor[wire.CostOut](), token: "coach", session: true, errors: []int{401, 403, 404, 409, 503}},
	{method: "get", path: "/api/rests", id: "rests", say: "Tell what numbers the answer of a spot rests on: a coach any, a player his own as soon as he sees the answer.",
		out: reflect.TypeFor[wire.RestsOut](), token: "member", session: true, spot: true, errors: []int{401, 403, 404}},
}

// errorSays describes each status of a refusal; the body is always an ErrorOut.
var errorSays = map[int]string{
	400: "The body or the query cannot be read; say tells where.",
	401: "The key or token is missing, unknown or has ended.",
	403: "This token may not do it.",
	404: "No such session, no session with that code, or no such spot in it.",
	409: "Not as things stand: the session is full, its door is closed, no rep with an error is shown; code says which.",
	429: "Too many tries: wait as long as Retry-After says.",
	503: "The store cannot take it now: try again.",
}

// openAPI prints the description of the HTTP endpoints: OpenAPI 3.1.
func openAPI(src *source) []byte {
	return yamlText(header, obj{
		{"openapi", "3.1.0"},
		{"info", obj{
			{"title", "Halfline HTTP endpoints"},
			{"version", src.value("wire", "Version") + ".0.0"},
			{"description", "How a device gets its token, and what it fetches outside the live connection. The live protocol is described in asyncapi.yaml."},
		}},
		{"servers", []any{obj{{"url", "/"}}}},
		{"paths", paths()},
		{"components", obj{
			{"securitySchemes", obj{{"token", obj{
				{"type", "http"}, {"scheme", "bearer"},
				{"description", "The token from /api/coach or /api/join, 40 hex digits. It never travels in a URL."},
			}}}},
			{"responses", obj{{"Error", obj{
				{"description", "Any other refusal."}, {"content", jsonContent(reflect.TypeFor[wire.ErrorOut]())},
			}}}},
			{"schemas", newSchemas(src, "#/components/schemas/").defs(httpRoots()...)},
		}},
	})
}

// httpRoots are the bodies among the roots.
func httpRoots() []reflect.Type { return roots[2:] }

func paths() obj {
	var out obj
	for _, e := range endpoints {
		if len(out) > 0 && out[len(out)-1].Key == e.path {
			last := &out[len(out)-1]
			last.Value = append(last.Value.(obj), member{e.method, e.operation()})
			continue
		}
		out = append(out, member{e.path, obj{{e.method, e.operation()}}})
	}
	return append(out,
		member{"/live", obj{{"get", obj{
			{"operationId", "live"},
			{"summary", "Open the live connection: a websocket, subprotocol " + wire.Subprotocol + ", described in asyncapi.yaml."},
			{"security", []any{}},
			{"responses", obj{
				{"101", obj{{"description", "Switched to the websocket protocol. The token goes into the first frame."}}},
				{"400", errorResponse("Not a websocket handshake, or no subprotocol of this family.")},
				{"403", errorResponse("This page may not connect here.")},
				{"503", errorResponse("No room for another connection: try again.")},
				{"default", obj{{"$ref", "#/components/responses/Error"}}},
			}},
		}}}},
		member{"/healthz", probe("health", "Say that the process runs.", "It runs.")},
		member{"/readyz", probe("ready", "Say whether sessions can be changed.", "Operations are taken.")},
	)
}

func (e endpoint) operation() obj {
	o := obj{{"operationId", e.id}, {"summary", e.say}}
	switch e.token {
	case "":
		o = append(o, member{"security", []any{}})
	case "coach":
		o = append(o, member{"description", "With a coach's token."}, member{"security", []any{obj{{"token", []any{}}}}})
	default:
		o = append(o, member{"description", "With the token of anybody who has been let in."}, member{"security", []any{obj{{"token", []any{}}}}})
	}
	if e.session {
		asks := []any{inQuery("session", "id of the session")}
		if e.spot {
			asks = append(asks, inQuery("spot", "label of a spot on the board"))
		}
		o = append(o, member{"parameters", asks})
	}
	if e.in != nil {
		o = append(o, member{"requestBody", obj{{"required", true}, {"content", jsonContent(e.in)}}})
	}
	responses := obj{{"200", obj{{"description", "Done."}, {"content", jsonContent(e.out)}}}}
	for _, status := range e.errors {
		responses = append(responses, member{strconv.Itoa(status), errorResponse(errorSays[status])})
	}
	responses = append(responses, member{"default", obj{{"$ref", "#/components/responses/Error"}}})
	return append(o, member{"responses", responses})
}

func inQuery(name, say string) obj {
	return obj{{"name", name}, {"in", "query"}, {"required", true}, {"description", say}, {"schema", obj{{"type", "string"}}}}
}

func probe(id, say, good string) obj {
	text := obj{{"text/plain", obj{{"schema", obj{{"type", "string"}}}}}}
	return obj{{"get", obj{
		{"operationId", id}, {"summary", say}, {"security", []any{}},
		{"responses", obj{
			{"200", obj{{"description", good}, {"content", text}}},
			{"503", obj{{"description", "Not now; the text says why."}, {"content", text}}},
		}},
	}}}
}

func errorResponse(say string) obj {
	return obj{{"description", say}, {"content", jsonContent(reflect.TypeFor[wire.ErrorOut]())}}
}

func jsonContent(t reflect.Type) obj {
	return obj{{"application/json", obj{{"schema", obj{{"$ref", "#/components/schemas/" + t.Name()}}}}}}
}
