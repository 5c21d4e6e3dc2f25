package wiretest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// HTTP fails the test if an exchange breaks the OpenAPI document. sent is the
// body of the request. The body of the answer is read and put back.
//
// A request that was refused may have been as wrong as it likes; one that was
// granted must have been right. Paths outside /api, which the document does not
// describe, are passed over.
func (d *Documents) HTTP(t T, req *http.Request, sent []byte, resp *http.Response) {
	t.Helper()
	got, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Errorf("%s %s: read the answer: %v", req.Method, req.URL.Path, err)
	}
	resp.Body.Close()
	resp.Body = io.NopCloser(bytes.NewReader(got))
	if err := d.exchange(req, sent, resp, got); err != nil {
		t.Errorf("%s %s: %d: %v", req.Method, req.URL.Path, resp.StatusCode, err)
	}
}

// Transport checks everything that an http.Client sends and gets through base
// (nil: the default transport).
func (d *Documents) Transport(t T, base http.RoundTripper) http.RoundTripper {
	if base == nil {
		base = http.DefaultTransport
	}
	return roundTripper(func(req *http.Request) (*http.Response, error) {
		var sent []byte
		if req.Body != nil {
			var err error
			if sent, err = io.ReadAll(req.Body); err != nil {
				return nil, fmt.Errorf("read the request: %w", err)
			}
			req.Body.Close()
			req = req.Clone(req.Context())
			req.Body = io.NopCloser(bytes.NewReader(sent))
		}
		resp, err := base.RoundTrip(req)
		if err == nil && resp.StatusCode != http.StatusSwitchingProtocols {
			d.HTTP(t, req, sent, resp)
		}
		return resp, err
	})
}

type roundTripper func(*http.Request) (*http.Response, error)

func (r roundTripper) RoundTrip(req *http.Request) (*http.Response, error) { return r(req) }

func (d *Documents) exchange(req *http.Request, sent []byte, resp *http.Response, got []byte) error {
	path := d.api.Paths.Value(req.URL.Path)
	if path == nil {
		if strings.HasPrefix(req.URL.Path, "/api/") && resp.StatusCode != http.StatusNotFound {
			return fmt.Errorf("the path is not in openapi.yaml")
		}
		return nil
	}
	op := path.GetOperation(req.Method)
	if op == nil {
		if resp.StatusCode != http.StatusMethodNotAllowed {
			return fmt.Errorf("the method is not in openapi.yaml: want status 405")
		}
		return nil
	}
	if resp.StatusCode < 300 {
		if err := granted(op, req, sent); err != nil {
			return fmt.Errorf("a wrong request was granted: %w", err)
		}
	}
	return answered(op, resp, got)
}

// granted says what is wrong with a request.
func granted(op *openapi3.Operation, req *http.Request, sent []byte) error {
	if op.Security != nil && len(*op.Security) > 0 && !strings.HasPrefix(req.Header.Get("Authorization"), "Bearer ") {
		return fmt.Errorf("it has no token")
	}
	for _, p := range op.Parameters {
		if p.Value.Required && p.Value.In == openapi3.ParameterInQuery && !req.URL.Query().Has(p.Value.Name) {
			return fmt.Errorf("its query has no %s", p.Value.Name)
		}
	}
	if op.RequestBody == nil {
		return nil
	}
	return body(op.RequestBody.Value.Content, req.Header.Get("Content-Type"), sent)
}

// answered says what is wrong with an answer.
func answered(op *openapi3.Operation, resp *http.Response, got []byte) error {
	want := op.Responses.Value(strconv.Itoa(resp.StatusCode))
	if want == nil && resp.StatusCode >= 400 {
		want = op.Responses.Default()
	}
	if want == nil {
		return fmt.Errorf("the status is not in openapi.yaml")
	}
	if len(want.Value.Content) == 0 {
		return nil
	}
	if err := body(want.Value.Content, resp.Header.Get("Content-Type"), got); err != nil {
		return fmt.Errorf("the answer: %w", err)
	}
	return nil
}

func body(content openapi3.Content, contentType string, b []byte) error {
	kind, _, err := mime.ParseMediaType(contentType)
	if err != nil {
		return fmt.Errorf("content type %q: %w", contentType, err)
	}
	media := content[kind]
	if media == nil {
		return fmt.Errorf("content type %s is not in openapi.yaml", kind)
	}
	if kind != "application/json" {
		return nil
	}
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		return fmt.Errorf("not JSON: %w", err)
	}
	return media.Schema.Value.VisitJSON(v, openapi3.EnableJSONSchema2020())
}
