package app

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written are the files that are served as they were written, and two that
// stand for what is made.
func written(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	static, err := fs.Sub(embedded, "static")
	require.NoError(t, err)
	for _, name := range []string{"index.html", "manifest.webmanifest", "sw.js", "worker.js", "icon.svg"} {
		data, err := fs.ReadFile(static, name)
		require.NoError(t, err)
		files[name] = &fstest.MapFile{Data: data}
	}
	files["app.js"] = &fstest.MapFile{Data: []byte("// made")}
	files["pdf-ABCDEFGH.js"] = &fstest.MapFile{Data: []byte("// made")}
	files["picture-ABCDEFGH.js"] = &fstest.MapFile{Data: []byte("// made")}
	return files
}

// TestWhole holds that an app is whole where its stamp matches its files, and
// not where a file was changed, cut or is missing.
func TestWhole(t *testing.T) {
	files := written(t)
	a, err := Read(files)
	require.NoError(t, err)
	assert.Empty(t, a.Source(), "there is no stamp")
	files[Stamp] = &fstest.MapFile{Data: []byte(Seal("abc", a.Version()))}
	a, err = Read(files)
	require.NoError(t, err)
	assert.Equal(t, "abc", a.Source())

	cut := maps.Clone(files)
	cut["app.js"] = &fstest.MapFile{Data: []byte("// ma")}
	missing := maps.Clone(files)
	delete(missing, "app.js")
	stamp := maps.Clone(files)
	stamp[Stamp] = &fstest.MapFile{Data: []byte("abc")}
	for name, files := range map[string]fstest.MapFS{"cut": cut, "missing": missing, "half a stamp": stamp} {
		a, err := Read(files)
		require.NoError(t, err)
		assert.Empty(t, a.Source(), name)
	}
}

// TestOneVersion changes one file: everything that names the version must then
// name another, and the service worker the file's new hash (FIPS 180-4).
func TestOneVersion(t *testing.T) {
	files := written(t)
	before, err := Read(files)
	require.NoError(t, err)
	assert.Contains(t, string(before.Page()), "?v="+before.version)
	changed := maps.Clone(files)
	changed["worker.js"] = &fstest.MapFile{Data: []byte("// other")}
	after, err := Read(changed)
	require.NoError(t, err)
	assert.NotEqual(t, before.version, after.version)
	listed := func(r *App, name string) (m map[string]string) {
		_, rest, ok := strings.Cut(string(r.worker), "const "+name+" = ")
		require.True(t, ok)
		text, _, _ := strings.Cut(rest, ";")
		require.NoError(t, json.Unmarshal([]byte(text), &m))
		return m
	}
	list := func(r *App) map[string]string { return listed(r, "FILES") }
	sum := sha256.Sum256([]byte("// other"))
	assert.Equal(t, hex.EncodeToString(sum[:]), list(after)["/static/worker.js"])
	assert.Equal(t, list(before)["/static/app.js"], list(after)["/static/app.js"])
	page := sha256.Sum256(after.page)
	assert.Equal(t, hex.EncodeToString(page[:]), list(after)["/"])
	for name := range list(after) {
		assert.NotContains(t, name, "pdf", "too large for a first visit")
		assert.NotContains(t, name, "picture", "seldom needed")
	}
	reader := sha256.Sum256([]byte("// made"))
	later := hex.EncodeToString(reader[:])
	assert.Equal(t, map[string]string{"/static/pdf-ABCDEFGH.js": later, "/static/picture-ABCDEFGH.js": later}, listed(after, "LATER"))
}

// TestEngineIsListedUnpacked: a browser sees the engine unpacked, so its hash is
// that of the unpacked bytes.
func TestEngineIsListedUnpacked(t *testing.T) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write([]byte("engine"))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	as, sum, err := served(fstest.MapFS{"engine.wasm.gz": &fstest.MapFile{Data: b.Bytes()}}, "engine.wasm.gz")
	require.NoError(t, err)
	want := sha256.Sum256([]byte("engine"))
	assert.Equal(t, "engine.wasm", as)
	assert.Equal(t, hex.EncodeToString(want[:]), sum)
}
