package web_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"io/fs"
	"net/http"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/client"
)

// pagePaths lists every file of the built client, and the page itself.
func pagePaths(t testing.TB) []string {
	paths := []string{"/"}
	require.NoError(t, fs.WalkDir(client.Dist, "dist", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			paths = append(paths, strings.TrimPrefix(name, "dist"))
		}
		return err
	}))
	return paths
}

func unzip(t testing.TB, b []byte) []byte {
	z, err := gzip.NewReader(bytes.NewReader(b))
	require.NoError(t, err)
	out, err := io.ReadAll(z)
	require.NoError(t, err)
	return out
}

func TestFilesOfTheClient(t *testing.T) {
	s := newSite(t, nil)
	for _, p := range pagePaths(t) {
		name := p
		if p == "/" {
			name = "/index.html"
		}
		want, err := fs.ReadFile(client.Dist, "dist"+name)
		require.NoError(t, err)
		plain := s.Ask("GET", p, "", nil)
		require.Equal(t, 200, plain.Status)
		assert.Equal(t, want, plain.Body, p)
		assert.Empty(t, plain.Header.Get("Content-Encoding"))
		assert.Equal(t, "Accept-Encoding", plain.Header.Get("Vary"))
		kind := map[string]string{".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
			".svg": "image/svg+xml", ".txt": "text/plain; charset=utf-8", ".webmanifest": "application/manifest+json", ".png": "image/png"}[path.Ext(name)]
		assert.Equal(t, kind, plain.Header.Get("Content-Type"), p)
		if strings.HasPrefix(p, "/assets/") {
			assert.Equal(t, "public, max-age=31536000, immutable", plain.Header.Get("Cache-Control"))
		} else {
			assert.Equal(t, "no-cache", plain.Header.Get("Cache-Control"))
		}

		s.Header = http.Header{"Accept-Encoding": {"br, gzip;q=0.8"}}
		zipped := s.Ask("GET", p, "", nil)
		if zipped.Header.Get("Content-Encoding") == "gzip" {
			assert.Equal(t, want, unzip(t, zipped.Body))
			assert.Less(t, len(zipped.Body), len(want))
			assert.NotEqual(t, plain.Header.Get("ETag"), zipped.Header.Get("ETag"), "other bytes, other tag")
		} else {
			assert.Equal(t, want, zipped.Body)
		}
		head := s.Ask("HEAD", p, "", nil)
		assert.Empty(t, head.Body)
		head.Header.Del("Date")
		zipped.Header.Del("Date")
		assert.Equal(t, zipped.Header, head.Header)

		tag := zipped.Header.Get("ETag")
		require.Regexp(t, `^"[0-9a-f]+(-gz)?"$`, tag)
		for _, have := range []string{tag, "W/" + tag, `"other", ` + tag, "*"} {
			s.Header.Set("If-None-Match", have)
			got := s.Ask("GET", p, "", nil)
			assert.Equal(t, 304, got.Status, have)
			assert.Empty(t, got.Body)
			assert.Equal(t, tag, got.Header.Get("ETag"))
			assert.Equal(t, plain.Header.Get("Cache-Control"), got.Header.Get("Cache-Control"))
		}
		s.Header.Set("If-None-Match", `"other"`)
		assert.Equal(t, 200, s.Ask("GET", p, "", nil).Status)
		s.Header = http.Header{"Accept-Encoding": {"gzip;q=0"}}
		assert.Empty(t, s.Ask("GET", p, "", nil).Header.Get("Content-Encoding"))
		s.Header = nil
	}
}

func TestPagesAreReadOnlyAndNoMoreThanThere(t *testing.T) {
	s := newSite(t, nil)
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS"} {
		got := s.Ask(method, "/", "", nil)
		assert.Equal(t, 405, got.Status)
		assert.Equal(t, "GET, HEAD", got.Header.Get("Allow"))
	}
	for _, p := range []string{"/nothing", "/assets/", "/assets/nothing.js", "/index.html/", "/dist/index.html", "/embed.go", "/.git/config",
		"/%2e%2e/go.mod", "/..%2fgo.mod", "/assets/..%2f..%2fgo.mod", "/index.html%00", "/favicon.ico%ff", "/" + strings.Repeat("x", 9000)} {
		got := s.Ask("GET", p, "", nil)
		assert.Equal(t, 404, got.Status, p)
		assert.Equal(t, "no-store", got.Header.Get("Cache-Control"))
		assert.Equal(t, "text/plain; charset=utf-8", got.Header.Get("Content-Type"))
	}
}

// firstLoad is what a phone fetches before it can join: the page, and what the
// page names.
func firstLoad(s *site) (requests, bytes int) {
	s.Header = http.Header{"Accept-Encoding": {"gzip"}}
	defer func() { s.Header = nil }()
	fetch := func(p string) []byte {
		got := s.Ask("GET", p, "", nil)
		require.Equal(s.t, 200, got.Status, p)
		requests++
		bytes += len(got.Body)
		if got.Header.Get("Content-Encoding") == "gzip" {
			return unzip(s.t, got.Body)
		}
		return got.Body
	}
	page := string(fetch("/"))
	for _, m := range regexp.MustCompile(`(?:src|href)="(/?[^":#]+)"`).FindAllStringSubmatch(page, -1) {
		fetch("/" + strings.TrimPrefix(m[1], "/"))
	}
	return requests, bytes
}

func TestFirstLoadOfAPhone(t *testing.T) {
	requests, size := firstLoad(newSite(t, nil))
	t.Logf("first load of the player's page: %d requests, %d bytes (%.1f KiB) gzipped, headers not counted", requests, size, float64(size)/1024)
	assert.LessOrEqual(t, requests, 6)
	assert.Less(t, size, 150<<10, "a phone on bad Wi-Fi waits for each byte")
	assert.Greater(t, size, 5<<10)
}
