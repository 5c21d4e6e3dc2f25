package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
)

// certificate is one for this machine, made for a test.
type certificate struct {
	cert, key string // files
	trust     *tls.Config
}

func newCertificate(t testing.TB) certificate {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "board"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	require.NoError(t, err)
	raw, err := x509.MarshalPKCS8PrivateKey(key)
	require.NoError(t, err)
	dir := t.TempDir()
	c := certificate{cert: filepath.Join(dir, "cert.pem"), key: filepath.Join(dir, "key.pem")}
	require.NoError(t, os.WriteFile(c.cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	require.NoError(t, os.WriteFile(c.key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw}), 0o600))
	parsed, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	pool := x509.NewCertPool()
	pool.AddCert(parsed)
	c.trust = &tls.Config{RootCAs: pool}
	return c
}

func TestServeWithTLS(t *testing.T) {
	cert := newCertificate(t)
	r := inside(t, nil, "--addr", "127.0.0.1:0", "--data", t.TempDir(), "--tls-cert", cert.cert, "--tls-key", cert.key)
	r.TLS = cert.trust
	assert.Regexp(t, `^https://127\.0\.0\.1:\d+$`, r.Base)
	assert.NotContains(t, r.out.String(), "Plain http")
	page := r.Ask("GET", "/", "", nil)
	assert.NotEmpty(t, page.Header.Get("Strict-Transport-Security"))
	assert.Contains(t, page.Header.Get("Content-Security-Policy"), "wss://")
	coach, _ := only(r)
	coach.Must(session.Op{Do: "title", Text: "Behind a lock"})
	assert.True(t, strings.HasPrefix(coach.Until("a link is shown", func(v *view) bool { return v.Roster != nil && v.Roster.Link != "" }).Roster.Link, r.Base))

	old := &tls.Config{RootCAs: cert.trust.RootCAs, MinVersion: tls.VersionTLS10, MaxVersion: tls.VersionTLS11}
	client := http.Client{Transport: &http.Transport{TLSClientConfig: old, DisableKeepAlives: true}}
	_, err := client.Get(r.Base)
	assert.ErrorContains(t, err, "protocol version")
	plain := http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	resp, err := plain.Get("http" + strings.TrimPrefix(r.Base, "https"))
	if err == nil {
		resp.Body.Close()
		assert.Equal(t, http.StatusBadRequest, resp.StatusCode)
	}
	r.stop()
	assert.Equal(t, wire.CloseRestart, coach.Over().Code)
	assert.Equal(t, exitDone, r.code(t))
	assert.Empty(t, r.err.String(), "a failed handshake is not worth a line, and names an address")
}
