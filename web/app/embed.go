package app

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"sync"
)

//go:embed static
var embedded embed.FS

// Static returns the files that are served under /static/. The engine is there
// as engine.wasm.gz, and not at all in a checkout where go generate was not run.
func Static() fs.FS {
	static, err := fs.Sub(embedded, "static")
	if err != nil { // cannot be: the name is valid
		return embedded
	}
	return static
}

// HasEngine reports whether the engine for the browser was built in. Without it
// the server answers for a phone, while there is coverage.
func HasEngine() bool {
	_, err := fs.Stat(Static(), "engine.wasm.gz")
	return err == nil
}

// Version names what is served together: a hash of all files, the engine's
// among them. Two builds from one source have the same.
func Version() string { return whole().version }

// Page returns the page at /. It must not be cached without asking again.
func Page() []byte { return whole().page }

// Manifest returns the web app manifest.
func Manifest() []byte { return whole().manifest }

// ServiceWorker returns the program at /sw.js, with the list of all files that a
// phone keeps and their hashes. It must not be cached without asking again.
func ServiceWorker() []byte { return whole().worker }

type release struct {
	version                string
	page, manifest, worker []byte
}

// whole reads the embedded files once.
var whole = sync.OnceValue(func() release {
	r, err := assemble(Static())
	if err != nil {
		return release{page: fmt.Appendf(nil, "the app is damaged: %v", err)}
	}
	return r
})

// assemble makes of the files what depends on all of them.
func assemble(static fs.FS) (release, error) {
	sums := map[string]string{}
	all := sha256.New()
	err := fs.WalkDir(static, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		served, sum, err := served(static, name)
		if err != nil || served == "" {
			return err
		}
		fmt.Fprintf(all, "%s %s\n", served, sum) // a hash takes all
		sums["/static/"+served] = sum
		return nil
	})
	if err != nil {
		return release{}, err
	}
	version := hex.EncodeToString(all.Sum(nil))[:16]
	page, err := fs.ReadFile(static, "index.html")
	if err != nil {
		return release{}, err
	}
	page = bytes.ReplaceAll(page, []byte("VERSION"), []byte(version))
	manifest, err := fs.ReadFile(static, "manifest.webmanifest")
	if err != nil {
		return release{}, err
	}
	worker, err := fs.ReadFile(static, "sw.js")
	if err != nil {
		return release{}, err
	}
	keep := map[string]string{"/": digest(page)}
	for name, sum := range sums {
		if first(path.Base(name)) {
			keep[name] = sum
		}
	}
	files, err := json.MarshalIndent(keep, "", " ") // sorted by name
	if err != nil {
		return release{}, err
	}
	worker = bytes.ReplaceAll(worker, []byte("{{version}}"), []byte(version))
	worker = bytes.ReplaceAll(worker, []byte("{{files}}"), files)
	return release{version, page, manifest, worker}, nil
}

// served returns the name under which a file is served, and the hash of its
// content there; no name for what is served otherwise.
func served(static fs.FS, name string) (as, sum string, err error) {
	if strings.HasSuffix(name, ".br") { // the same as .gz, packed smaller
		return "", "", nil
	}
	f, err := static.Open(name)
	if err != nil {
		return "", "", err
	}
	defer f.Close()
	var r io.Reader = f
	if as = strings.TrimSuffix(name, ".gz"); as != name {
		if r, err = gzip.NewReader(f); err != nil {
			return "", "", fmt.Errorf("%s: %w", name, err)
		}
	}
	h := sha256.New()
	if _, err := io.Copy(h, r); err != nil {
		return "", "", fmt.Errorf("%s: %w", name, err)
	}
	return as, hex.EncodeToString(h.Sum(nil)), nil
}

// first reports whether a file is fetched with the first visit. The page, the
// worker and the manifest are served from the root, and the reader of PDF pages
// is large and seldom wanted.
func first(name string) bool {
	switch name {
	case "index.html", "sw.js", "manifest.webmanifest":
		return false
	}
	return !strings.HasPrefix(name, "pdf")
}

func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
