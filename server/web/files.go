package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
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
	kind, tag string
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
		x := &file{kind: mime.TypeByExtension(path.Ext(name)), raw: raw, tag: `"` + hex.EncodeToString(sum[:8]) + `"`, forever: strings.HasPrefix(name, "assets/")}
		if x.kind == "" {
			x.kind = "application/octet-stream"
		}
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
	h.Set("ETag", x.tag)
	h.Set("Vary", "Accept-Encoding")
	if x.forever {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		h.Set("Cache-Control", "no-cache")
	}
	if r.Header.Get("If-None-Match") == x.tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	data := x.raw
	if x.gz != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		data = x.gz
	}
	h.Set("Content-Length", strconv.Itoa(len(data)))
	w.WriteHeader(http.StatusOK)
	if r.Method != http.MethodHead {
		_, _ = w.Write(data) // the other end may be gone; nothing to do then
	}
}
