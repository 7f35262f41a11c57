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

// budget is what program and style of the first visit may weigh, in bytes as
// gzip -9 has them. It is this project's own bound.
const budget = 250_000

// TestBudget weighs what a phone loads before it shows a plan, the engine aside.
func TestBudget(t *testing.T) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	require.NoError(t, err)
	for _, pattern := range []string{"*.js", "*.css"} {
		names, err := fs.Glob(Static(), pattern)
		require.NoError(t, err)
		for _, name := range names {
			if !first(name) {
				continue
			}
			data, err := fs.ReadFile(Static(), name)
			require.NoError(t, err)
			_, err = z.Write(data)
			require.NoError(t, err)
		}
	}
	require.NoError(t, z.Close())
	assert.Greater(t, b.Len(), 50_000, "the app was not found")
	assert.Less(t, b.Len(), budget)
}

// TestOneVersion changes one file: everything that names the version must then
// name another, and the service worker the file's new hash (FIPS 180-4).
func TestOneVersion(t *testing.T) {
	files := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(Static(), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			data, err := fs.ReadFile(Static(), name)
			files[name] = &fstest.MapFile{Data: data}
			return err
		}
		return err
	}))
	before, err := assemble(files)
	require.NoError(t, err)
	assert.Equal(t, Version(), before.version)
	assert.Contains(t, string(Page()), "?v="+before.version)
	changed := maps.Clone(files)
	changed["worker.js"] = &fstest.MapFile{Data: []byte("// other")}
	after, err := assemble(changed)
	require.NoError(t, err)
	assert.NotEqual(t, before.version, after.version)
	list := func(r release) (m map[string]string) {
		_, rest, ok := strings.Cut(string(r.worker), "const FILES = ")
		require.True(t, ok)
		text, _, _ := strings.Cut(rest, ";")
		require.NoError(t, json.Unmarshal([]byte(text), &m))
		return m
	}
	sum := sha256.Sum256([]byte("// other"))
	assert.Equal(t, hex.EncodeToString(sum[:]), list(after)["/static/worker.js"])
	assert.Equal(t, list(before)["/static/app.js"], list(after)["/static/app.js"])
	page := sha256.Sum256(after.page)
	assert.Equal(t, hex.EncodeToString(page[:]), list(after)["/"])
	for name := range list(after) {
		assert.NotContains(t, name, "pdf", "kept once it was wanted")
	}
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
