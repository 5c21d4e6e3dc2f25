package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"

	"halfline/client"
)

// files serves the built client from memory, compressed once at the start:
// phones on bad Wi-Fi pay for every byte.
type files struct{ by map[string]*file }

type file struct {
	kind, tag string // the tag without quotes
	raw, gz   []byte
	forever   bool // its name carries its content's checksum
}

func newFiles() (*files, error) {
	f := &files{by: map[string]*file{}}
	root, err := fs.Sub(client.Dist, "dist")
	if err != nil {
		return nil, fmt.Errorf("the built client: %w", err)
	}
	err = fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(raw)
		x := &file{kind: kindOf(name), raw: raw, tag: hex.EncodeToString(sum[:8]), forever: strings.HasPrefix(name, "assets/")}
		var b bytes.Buffer
		z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
		if err != nil {
			return err
		}
		if _, err := z.Write(raw); err != nil {
			return err
		}
		if err := z.Close(); err != nil {
			return err
		}
		if b.Len() < len(raw) {
			x.gz = b.Bytes()
		}
		f.by["/"+name] = x
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("the built client: %w", err)
	}
	if f.by["/index.html"] == nil {
		return nil, fmt.Errorf("the built client: no index.html: run go generate ./client and build again")
	}
	f.by["/"] = f.by["/index.html"]
	return f, nil
}

func (f *files) serve(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		plain(w, http.StatusMethodNotAllowed, "Pages are read only.\n")
		return
	}
	x, ok := f.by[r.URL.Path]
	if !ok {
		plain(w, http.StatusNotFound, "There is no such page here. Open / instead.\n")
		return
	}
	h := w.Header()
	h.Set("Content-Type", x.kind)
	h.Set("Vary", "Accept-Encoding")
	data, tag := x.raw, `"`+x.tag+`"`
	if x.gz != nil && takesGzip(r.Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "gzip")
		data, tag = x.gz, `"`+x.tag+`-gz"` // other bytes, other tag (RFC 9110 section 8.8.3.3)
	}
	h.Set("ETag", tag)
	if x.forever {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	if hasTag(r.Header.Values("If-None-Match"), tag) {
		h.Del("Content-Encoding")
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Length", strconv.Itoa(len(data)))
	w.WriteHeader(http.StatusOK)
	if r.Method != http.MethodHead {
		_, _ = w.Write(data) // the other end may be gone; nothing to do then
	}
}

// kinds are the types of what a client is made of. Asking the machine would
// make a script "text/plain" on some, and browsers do not run that.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
	".txt": "text/plain; charset=utf-8", ".json": "application/json", ".webmanifest": "application/manifest+json",
	".svg": "image/svg+xml", ".png": "image/png", ".ico": "image/x-icon", ".woff2": "font/woff2",
}

func kindOf(name string) string {
	if k, ok := kinds[path.Ext(name)]; ok {
		return k
	}
	return "application/octet-stream"
}

// takesGzip reads Accept-Encoding (RFC 9110 section 12.5.3): gzip is named, and
// not with weight 0.
func takesGzip(accept string) bool {
	for _, part := range strings.Split(accept, ",") {
		coding, weight, _ := strings.Cut(part, ";")
		if !strings.EqualFold(strings.TrimSpace(coding), "gzip") {
			continue
		}
		q, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(weight)), "q=")
		return !ok || strings.Trim(q, "0.") != ""
	}
	return false
}

// hasTag reads If-None-Match (RFC 9110 section 13.1.2); tags that a proxy has
// made weak count.
func hasTag(headers []string, tag string) bool {
	for _, h := range headers {
		for _, t := range strings.Split(h, ",") {
			if t = strings.TrimSpace(t); t == "*" || strings.TrimPrefix(t, "W/") == tag {
				return true
			}
		}
	}
	return false
}
