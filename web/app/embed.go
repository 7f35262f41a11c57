package app

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
)

//go:embed all:static
var embedded embed.FS

// Stamp is the file that says from which source an app was built. Only a whole
// app has one: it is written last.
const Stamp = ".source"

// App is the app in one version.
type App struct {
	files                  fs.FS
	source, version        string
	page, manifest, worker []byte
}

// Embedded returns the app that is built into this program. In a checkout where
// go generate has not been run it is not whole.
func Embedded() (*App, error) { return builtIn() }

var builtIn = sync.OnceValues(func() (*App, error) {
	static, err := fs.Sub(embedded, "static")
	if err != nil {
		return nil, err
	}
	return Read(static)
})

// Read returns the app whose files are in static.
func Read(static fs.FS) (*App, error) {
	a, err := assemble(static)
	if err != nil {
		return nil, fmt.Errorf("the app is damaged: %w", err)
	}
	source, err := fs.ReadFile(static, Stamp)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if sum, _, _ := strings.Cut(string(source), " "); string(source) == Seal(sum, a.version) {
		a.source = sum
	}
	return a, nil
}

// Seal returns what the stamp of an app says: the source that it was made of,
// and its version. An app whose files are not those of its stamp is not whole.
func Seal(source, version string) string { return source + " " + version + "\n" }

// Files returns the files that are served under /static/; those whose names
// begin with a dot are not for serving. The engine is there as engine.wasm.gz.
func (a *App) Files() fs.FS { return a.files }

// Source names the source that the app was made of, a hash of it; "": the app
// is not whole.
func (a *App) Source() string { return a.source }

// Version names what is served together: a hash of all files, the engine's
// among them. Two builds from one source have the same.
func (a *App) Version() string { return a.version }

// Page returns the page at /. It must not be cached without asking again.
func (a *App) Page() []byte { return a.page }

// Manifest returns the web app manifest.
func (a *App) Manifest() []byte { return a.manifest }

// ServiceWorker returns the program at /sw.js, with the lists of all files that a
// phone keeps and their hashes: those of the first visit, and those that are large or
// seldom needed, which are fetched once the app works. It must not be cached without
// asking again.
func (a *App) ServiceWorker() []byte { return a.worker }

// assemble makes what depends on all of the files.
func assemble(static fs.FS) (*App, error) {
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
		fmt.Fprintf(all, "%s %s\n", served, sum) // a hash never fails
		sums["/static/"+served] = sum
		return nil
	})
	if err != nil {
		return nil, err
	}
	version := hex.EncodeToString(all.Sum(nil))[:16]
	page, err := fs.ReadFile(static, "index.html")
	if err != nil {
		return nil, err
	}
	page = bytes.ReplaceAll(page, []byte("VERSION"), []byte(version))
	manifest, err := fs.ReadFile(static, "manifest.webmanifest")
	if err != nil {
		return nil, err
	}
	worker, err := fs.ReadFile(static, "sw.js")
	if err != nil {
		return nil, err
	}
	keep, rest := map[string]string{"/": digest(page)}, map[string]string{}
	for name, sum := range sums {
		switch base := path.Base(name); {
		case seldom(base), base == "icon-512.png", base == "icon-maskable.png": // the large icons are for installing, which shows them itself
			rest[name] = sum
		case !fromRoot(base):
			keep[name] = sum
		}
	}
	worker = bytes.ReplaceAll(worker, []byte("{{version}}"), []byte(version))
	for mark, sums := range map[string]map[string]string{"{{files}}": keep, "{{later}}": rest} {
		files, err := json.MarshalIndent(sums, "", " ") // sorted by name
		if err != nil {
			return nil, err
		}
		worker = bytes.ReplaceAll(worker, []byte(mark), files)
	}
	return &App{files: static, version: version, page: page, manifest: manifest, worker: worker}, nil
}

// seldom reports whether a file is left for after the first visit: what lays pictures,
// and what reads pages of a PDF, GeoTIFFs and tiles.
func seldom(base string) bool {
	return slices.ContainsFunc([]string{"pdf-", "picture-", "geotiff-", "pmtiles-"}, func(prefix string) bool { return strings.HasPrefix(base, prefix) })
}

// served returns the name under which a file is served, and the hash of its
// content there; no name for a file that is served in another way.
func served(static fs.FS, name string) (as, sum string, err error) {
	if Hidden(name) || strings.HasSuffix(name, ".br") { // the same as .gz, packed smaller
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

// Hidden reports whether a file is not for serving.
func Hidden(name string) bool { return strings.HasPrefix(path.Base(name), ".") }

// fromRoot reports whether a file is served from the root, and not with the others.
func fromRoot(name string) bool {
	return name == "index.html" || name == "sw.js" || name == "manifest.webmanifest"
}

func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
