package device

import (
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
)

// patience is far above what anything takes on a busy machine.
const patience = 30 * time.Second

// Browser asks one server over HTTP, as a page of its own does.
type Browser struct {
	T    testing.TB
	Base string // http://host:port
	TLS  *tls.Config
	// Header is added to every request.
	Header http.Header
	// Conn makes connections; nil: over the network.
	Conn func() (net.Conn, error)
}

// dialContext is Conn as clients take it.
func (b Browser) dialContext() func(context.Context, string, string) (net.Conn, error) {
	if b.Conn == nil {
		return nil
	}
	return func(context.Context, string, string) (net.Conn, error) { return b.Conn() }
}

// Answer is what a request got.
type Answer struct {
	Status int
	Header http.Header
	Body   []byte
}

// Ask sends a request, checked against the OpenAPI document. body nil: none.
func (b Browser) Ask(method, path, token string, body any) Answer {
	b.T.Helper()
	var sent io.Reader
	if body != nil {
		raw, ok := body.(string)
		if !ok {
			j, err := json.Marshal(body)
			require.NoError(b.T, err)
			raw = string(j)
		}
		sent = strings.NewReader(raw)
	}
	req, err := http.NewRequest(method, b.Base+path, sent)
	require.NoError(b.T, err)
	if body != nil {
		req.Header.Set("Content-Type", "application/json")
	}
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	for k, v := range b.Header {
		req.Header[k] = v
	}
	if host := req.Header.Get("Host"); host != "" {
		req.Host = host
	}
	transport := &http.Transport{DisableKeepAlives: true, DialContext: b.dialContext(), TLSClientConfig: b.TLS, DisableCompression: true}
	client := &http.Client{
		Transport: wiretest.Validator().Transport(b.T, transport), Timeout: patience,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
	resp, err := client.Do(req)
	require.NoError(b.T, err)
	defer resp.Body.Close()
	got, err := io.ReadAll(resp.Body)
	require.NoError(b.T, err)
	return Answer{resp.StatusCode, resp.Header, got}
}

// Into requires that a request was granted, and reads its answer.
func (a Answer) Into(t testing.TB, v any) {
	t.Helper()
	require.Equal(t, http.StatusOK, a.Status, "%s", a.Body)
	require.NoError(t, json.NewDecoder(bytes.NewReader(a.Body)).Decode(v))
}

// Refusal reads the answer to a request that was refused.
func (a Answer) Refusal(t testing.TB) wire.ErrorOut {
	t.Helper()
	require.GreaterOrEqual(t, a.Status, 400)
	var e wire.ErrorOut
	require.NoError(t, json.Unmarshal(a.Body, &e), "%s", a.Body)
	return e
}

// Coach changes the key of a coach's link for a token.
func (b Browser) Coach(key string) (token string) {
	b.T.Helper()
	var out wire.TokenOut
	b.Ask(http.MethodPost, "/api/coach", "", wire.CoachIn{Key: key}).Into(b.T, &out)
	return out.Token
}

// Join joins a session by its code.
func (b Browser) Join(code, name, number string) wire.JoinOut {
	b.T.Helper()
	var out wire.JoinOut
	b.Ask(http.MethodPost, "/api/join", "", wire.JoinIn{Code: code, Name: name, Number: number}).Into(b.T, &out)
	return out
}

// Sessions lists the sessions for a coach.
func (b Browser) Sessions(token string) []wire.SessionOut {
	b.T.Helper()
	var out wire.SessionsOut
	b.Ask(http.MethodGet, "/api/sessions", token, nil).Into(b.T, &out)
	return out.Sessions
}
