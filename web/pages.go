package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"

	"asfound/web/app"
)

// file is a file of the page as it is sent: packed where that pays.
type file struct {
	kind         string
	tag          string // of its content
	plain        []byte // nil: packed only
	gzip, brotli []byte // nil: not packed so
}

// kinds are the media types of the page's files; the machine's own table is not
// used, since machines differ.
var kinds = map[string]string{
	".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8",
	".svg": "image/svg+xml; charset=utf-8", ".png": "image/png", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json", ".json": JSON,
}

// readFiles reads the files of the page, and packs what is text.
func readFiles(a *app.App) (map[string]*file, error) {
	files := map[string]*file{}
	err := fs.WalkDir(a.Files(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || app.Hidden(name) {
			return err
		}
		b, err := fs.ReadFile(a.Files(), name)
		if err != nil {
			return err
		}
		served := strings.TrimSuffix(strings.TrimSuffix(name, ".gz"), ".br")
		f := files[served]
		if f == nil {
			f = &file{kind: kinds[path.Ext(served)]}
			files[served] = f
		}
		switch path.Ext(name) {
		case ".gz":
			f.gzip = b
		case ".br":
			f.brotli = b
		default:
			f.plain = b
			if strings.Contains(f.kind, "charset") {
				f.gzip = squeeze(b)
			}
		}
		f.tag = tag(b)
		return nil
	})
	return files, err
}

// squeeze packs b.
func squeeze(b []byte) []byte {
	var out bytes.Buffer
	w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression) // the level is valid
	w.Write(b)                                              // to a buffer: cannot fail
	w.Close()
	return out.Bytes()
}

// tag returns the entity tag of a content.
func tag(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:12])
}

// send sends a file of the page in the smallest form that the browser takes.
func (c *call) send(f *file, cache string) error {
	h := c.w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Cache-Control", cache)
	h.Set("Vary", "Accept-Encoding")
	body, encoding := f.plain, ""
	switch {
	case f.brotli != nil && c.takes("br"):
		body, encoding = f.brotli, "br"
	case f.gzip != nil && (c.takes("gzip") || f.plain == nil):
		body, encoding = f.gzip, "gzip"
	}
	if body == nil {
		return refuse(http.StatusNotAcceptable, "this is kept packed; ask with Accept-Encoding: gzip")
	}
	t := `"` + f.tag + encoding + `"`
	h.Set("Etag", t)
	if strings.Contains(c.Header.Get("If-None-Match"), t) {
		c.w.WriteHeader(http.StatusNotModified)
		return nil
	}
	if encoding != "" {
		h.Set("Content-Encoding", encoding)
	}
	_, _ = c.w.Write(body) // the client is gone: nobody to report to
	return nil
}

// takes reports whether the browser accepts an encoding (RFC 9110, 12.5.3, as
// far as browsers use it).
func (c *call) takes(encoding string) bool {
	for part := range strings.SplitSeq(c.Header.Get("Accept-Encoding"), ",") {
		name, q, err := mime.ParseMediaType("x/" + strings.TrimSpace(part))
		if err == nil && name == "x/"+encoding && q["q"] != "0" {
			return true
		}
	}
	return false
}

// A page is revalidated each time; a file with its version in its address never
// changes under that address.
const (
	revalidate = "no-cache"
	forever    = "public, max-age=31536000, immutable"
)

func (c *call) root(kind string, body []byte) error {
	return c.send(&file{kind: kind, tag: tag(body), plain: body, gzip: squeeze(body)}, revalidate)
}

func (c *call) page() error          { return c.root(kinds[".html"], c.App.Page()) }
func (c *call) serviceWorker() error { return c.root(kinds[".js"], c.App.ServiceWorker()) }
func (c *call) manifest() error      { return c.root(kinds[".webmanifest"], c.App.Manifest()) }

//go:embed openapi.json
var description []byte

func (c *call) openapi() error { return c.root(JSON, description) }

func (c *call) static() error {
	f := c.files[c.PathValue("name")]
	if f == nil {
		return refuse(http.StatusNotFound, "there is nothing at %.100q", c.URL.Path)
	}
	if v := c.URL.Query().Get("v"); v != "" && v == c.App.Version() {
		return c.send(f, forever)
	}
	return c.send(f, revalidate)
}
