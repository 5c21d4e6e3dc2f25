package wiretest

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
	"halfline/internal/wire/example"
)

// notes is a T that only writes down what it is told.
type notes []string

func (*notes) Helper() {}
func (n *notes) Errorf(format string, args ...any) {
	*n = append(*n, fmt.Sprintf(format, args...))
}

func TestGoodFramesPass(t *testing.T) {
	for _, f := range example.Frames() {
		if f.Up != nil {
			Validator().Up(t, f.JSON())
		} else {
			Validator().Down(t, f.JSON())
		}
	}
	Validator().Down(t, []byte(`{"beat":{"t":1,"later":2},"later":{}}`))
	Validator().Up(t, []byte(`{"beat":{"t":1,"later":2}}`))
}

func TestBadFramesAreCaught(t *testing.T) {
	for name, c := range map[string]struct{ up, down, want string }{
		"unknown part up":     {up: `{"boat":{"t":1}}`, want: "boat"},
		"two parts up":        {up: `{"beat":{"t":1},"point":{}}`, want: "maxProperties"},
		"not JSON":            {up: `{`, want: "not JSON"},
		"not UTF-8":           {down: "{\"bye\":{\"code\":\"\xff\"}}", want: "not UTF-8"},
		"no part down":        {down: `{}`, want: "minProperties"},
		"missing key down":    {down: `{"acks":[{"n":1,"seq":1}]}`, want: "epoch"},
		"null list":           {down: `{"roster":{"people":null}}`, want: "people"},
		"short chain":         {down: `{"facts":[{"seq":1,"chain":"7","do":"x","set":{}}]}`, want: "chain"},
		"wrong word":          {down: `{"facts":[{"seq":1,"chain":"0b7d44e1f29a6c05","do":"x","set":{"floor":"wet"}}]}`, want: "floor"},
		"place of one":        {up: `{"drag":{"who":"H","at":[1]}}`, want: "at"},
		"operation not known": {up: `{"op":{"n":1,"op":{"do":"sing"}}}`, want: "do"},
		"long text":           {up: `{"point":{"who":"` + strings.Repeat("x", wire.MaxText+1) + `"}}`, want: "maxLength"},
		"a big hello": {up: `{"hello":{"v":1,"token":"t","client":"9a41c07e55d2f318","x":"` + strings.Repeat("x", 500) + `"}}`,
			want: "over the limit of 512"},
		"a big frame down": {down: `{"bye":{"code":"x","x":"` + strings.Repeat("x", wire.MaxDown) + `"}}`, want: "over the limit of 32768"},
	} {
		t.Run(name, func(t *testing.T) {
			var n notes
			if c.up != "" {
				Validator().Up(&n, []byte(c.up))
			} else {
				Validator().Down(&n, []byte(c.down))
			}
			require.NotEmpty(t, n)
			assert.Contains(t, strings.Join(n, "\n"), c.want)
		})
	}
}

// answer is a handler that says one thing.
func answer(status int, contentType, body string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", contentType)
		w.WriteHeader(status)
		io.WriteString(w, body)
	})
}

const (
	jsonType = "application/json"
	token    = "5f0c2b7a9d1e4c3886aa01f27d5be94410c3d672"
	errorOut = `{"code":"no-session","say":"There is no such session."}`
	joinIn   = `{"code":"7K2M4P","name":"Ty","number":"21"}`
	joinOut  = `{"token":"` + token + `","session":"w7d2","member":"m2","in":false}`
)

func TestExchanges(t *testing.T) {
	for name, c := range map[string]struct {
		method, path, token, sent string
		handler                   http.Handler
		want                      string // empty: all is well
	}{
		"a join":                 {"POST", "/api/join", "", joinIn, answer(200, jsonType, joinOut), ""},
		"charset is said":        {"POST", "/api/join", "", joinIn, answer(200, jsonType+"; charset=utf-8", joinOut), ""},
		"a refused join":         {"POST", "/api/join", "", `nonsense`, answer(400, jsonType, errorOut), ""},
		"a status not foreseen":  {"POST", "/api/join", "", joinIn, answer(500, jsonType, errorOut), ""},
		"nonsense granted":       {"POST", "/api/join", "", `{"code":7}`, answer(200, jsonType, joinOut), "a wrong request was granted"},
		"answer without a key":   {"POST", "/api/join", "", joinIn, answer(200, jsonType, `{"token":"`+token+`"}`), "the answer: "},
		"answer of another type": {"POST", "/api/join", "", joinIn, answer(200, "text/html", joinOut), "content type text/html"},
		"answer not JSON":        {"POST", "/api/join", "", joinIn, answer(200, jsonType, "x"), "not JSON"},
		"error as plain text":    {"POST", "/api/join", "", joinIn, answer(400, "text/plain", "no"), "content type text/plain"},
		"success not foreseen":   {"POST", "/api/join", "", joinIn, answer(204, jsonType, ""), "the status is not in openapi.yaml"},
		"a list with a token":    {"GET", "/api/sessions", token, "", answer(200, jsonType, `{"sessions":[]}`), ""},
		"a list without a token": {"GET", "/api/sessions", "", "", answer(200, jsonType, `{"sessions":[]}`), "it has no token"},
		"null for a list":        {"GET", "/api/sessions", token, "", answer(200, jsonType, `{"sessions":null}`), "sessions"},
		"a picture":              {"GET", "/api/qr?session=w7d2", token, "", answer(200, jsonType, `{"size":29,"path":"M0 0h7v1h-7z"}`), ""},
		"a picture of nothing":   {"GET", "/api/qr", token, "", answer(200, jsonType, `{"size":29,"path":""}`), "its query has no session"},
		"a probe":                {"GET", "/healthz", "", "", answer(200, "text/plain; charset=utf-8", "ok"), ""},
		"a page":                 {"GET", "/index.html", "", "", answer(200, "text/html", "<p>"), ""},
		"an unknown endpoint":    {"GET", "/api/secret", "", "", answer(200, jsonType, `{}`), "the path is not in openapi.yaml"},
		"an unknown method":      {"DELETE", "/api/sessions", token, "", answer(200, jsonType, `{}`), "want status 405"},
		"an unknown path, told":  {"GET", "/api/secret", "", "", answer(404, "text/plain", "no"), ""},
		"a wrong method, told":   {"DELETE", "/api/sessions", "", "", answer(405, "text/plain", "no"), ""},
	} {
		t.Run(name, func(t *testing.T) {
			srv := httptest.NewServer(c.handler)
			defer srv.Close()
			var n notes
			client := &http.Client{Transport: Validator().Transport(&n, nil)}
			req, err := http.NewRequest(c.method, srv.URL+c.path, strings.NewReader(c.sent))
			require.NoError(t, err)
			if c.sent != "" {
				req.Header.Set("Content-Type", jsonType)
			}
			if c.token != "" {
				req.Header.Set("Authorization", "Bearer "+c.token)
			}
			resp, err := client.Do(req)
			require.NoError(t, err)
			defer resp.Body.Close()
			_, err = io.ReadAll(resp.Body)
			require.NoError(t, err, "the answer is still there to be read")
			if c.want == "" {
				assert.Empty(t, n)
				return
			}
			require.Len(t, n, 1)
			assert.Contains(t, n[0], c.want)
		})
	}
}
