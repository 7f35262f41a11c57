package build

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/app"
)

// What the first visit of a phone may weigh, in bytes as gzip -9 has them: page
// and engine. They are this project's own bounds.
const (
	pageBudget   = 250_000
	engineBudget = 3_500_000
)

// TestBudget builds the app and measures what a phone loads at its first visit.
func TestBudget(t *testing.T) {
	a, err := App(t.Context(), t.Output())
	require.NoError(t, err)
	require.NotEmpty(t, a.Source(), "the app is not whole")
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	require.NoError(t, err)
	var engine int
	visit, _, ok := strings.Cut(string(a.ServiceWorker()), "const LATER")
	require.True(t, ok)
	require.NoError(t, fs.WalkDir(a.Files(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(a.Files(), name)
		if err != nil {
			return err
		}
		switch as := "/static/" + strings.TrimSuffix(name, ".gz"); {
		case name == "engine.wasm.gz":
			engine = len(data)
		case strings.Contains(visit, as) && (strings.HasSuffix(name, ".js") || strings.HasSuffix(name, ".css")):
			_, err = z.Write(data)
		}
		return err
	}))
	require.NoError(t, z.Close())
	t.Logf("page %d of %d bytes, engine %d of %d", b.Len(), pageBudget, engine, engineBudget)
	assert.Greater(t, b.Len(), 50_000, "the page was not found")
	assert.Less(t, b.Len(), pageBudget)
	// A language is whole without a network as soon as the app is: of page and tracing screen.
	assert.Equal(t, 2, strings.Count(visit, "/static/es-"), "Spanish is kept from the first visit")
	assert.Greater(t, engine, 1_000_000, "the engine was not found")
	assert.Less(t, engine, engineBudget)
}

// TestInputs holds the folders that are watched for changes to what the engine
// is built from: every package of ours that it imports lies in one of them.
func TestInputs(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "./cmd/asfoundwasm")
	list.Dir = Root()
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	out, err := list.Output()
	require.NoError(t, err)
	ours := 0
	for name := range strings.FieldsSeq(string(out)) {
		name, ok := strings.CutPrefix(name, "asfound/")
		if !ok {
			continue
		}
		ours++
		watched := false
		for _, in := range inputs {
			watched = watched || name == in || strings.HasPrefix(name, in+"/")
		}
		assert.True(t, watched, "%s goes into the engine; add it to inputs", name)
	}
	assert.Greater(t, ours, 10, "the engine was not found")
}

// TestSum expects another name for a source where something that goes into the
// app has changed, and the same name where only a test or a built file has.
func TestSum(t *testing.T) {
	source := func(change string) string {
		files := fstest.MapFS{}
		for _, name := range inputs {
			if !strings.Contains(name, ".") {
				name += "/a.go"
			}
			files[name] = &fstest.MapFile{Data: []byte(name)}
		}
		if change != "" {
			files[change] = &fstest.MapFile{Data: []byte("changed")}
		}
		sum, err := Sum(files)
		require.NoError(t, err)
		return sum
	}
	for _, name := range []string{"geo/a.go", "survey/fit/b.go", "geo/geodesy/stateplane.csv", "web/app/source/app.tsx", "web/app/static/sw.js", "web/app/vendor/ol.js", "go.sum", ".ci/tools.mod"} {
		assert.NotEqual(t, source(""), source(name), name)
	}
	for _, name := range []string{"geo/a_test.go", "survey/testdata/x.json", "web/app/static/app.js", "web/app/static/chunk-MLBOIDFM.js", "web/app/static/engine.wasm.gz", "web/app/static/.source", "web/app/.built/1/app.js", "web/jobs.go"} {
		assert.Equal(t, source(""), source(name), name)
	}
}

// sum stands for the hash of a source.
var sum = strings.Repeat("5", 64)

// small puts a small whole app of a source into dir, slowly.
func small(dir, sum string) error {
	for _, name := range []string{"index.html", "manifest.webmanifest", "sw.js", "app.js"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(name), 0o644); err != nil {
			return err
		}
		time.Sleep(20 * time.Millisecond)
	}
	a, err := app.Read(os.DirFS(dir))
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, app.Stamp), []byte(app.Seal(sum, a.Version())), 0o644)
}

// TestOneBuilds has many ask at once: one builds, and all get the same whole app.
func TestOneBuilds(t *testing.T) {
	folder := t.TempDir()
	var builds atomic.Int32
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			dir, err := shelve(t.Context(), folder, sum, io.Discard, func(dir string) error {
				builds.Add(1)
				return small(dir, sum)
			})
			assert.NoError(t, err)
			assert.True(t, used(dir, sum), "what was returned is whole")
		})
	}
	all.Wait()
	assert.EqualValues(t, 1, builds.Load())
}

// TestNoGo expects no app, and nothing left behind, where there is no Go to
// build it with; one that was built before is used.
func TestNoGo(t *testing.T) {
	root := t.TempDir()
	for _, name := range inputs {
		if !strings.Contains(name, ".") {
			name += "/a.go"
		}
		require.NoError(t, os.MkdirAll(filepath.Join(root, filepath.Dir(name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(root, name), nil, 0o644))
	}
	t.Setenv("PATH", t.TempDir())
	_, err := Make(t.Context(), root, io.Discard)
	require.ErrorIs(t, err, errNoGo)
	found, err := filepath.Glob(filepath.Join(root, "web", "app", shelf, "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{"lock"}, []string{filepath.Base(found[0])})
	assert.Len(t, found, 1)

	now, err := Sum(os.DirFS(root))
	require.NoError(t, err)
	made := filepath.Join(root, "web", "app", shelf, now[:16])
	require.NoError(t, os.Mkdir(made, 0o755))
	require.NoError(t, small(made, now))
	dir, err := Make(t.Context(), root, io.Discard)
	require.NoError(t, err)
	assert.Equal(t, made, dir)
}

// child is set in the process that TestKilledMidway kills.
const child = "ASFOUND_BUILD_CHILD"

// TestKilledMidway kills a process while it builds: the process that waited for
// it builds again, and what was half done is neither returned nor left behind.
// An app that was damaged later is built again.
func TestKilledMidway(t *testing.T) {
	if folder := os.Getenv(child); folder != "" {
		_, err := shelve(t.Context(), folder, sum, io.Discard, func(dir string) error {
			if err := os.WriteFile(filepath.Join(dir, "app.js"), []byte("half"), 0o644); err != nil {
				return err
			}
			time.Sleep(time.Hour)
			return nil
		})
		t.Fatal("it was not killed", err)
	}
	folder := t.TempDir()
	filled := func(dir string) error { return small(dir, sum) }
	other := exec.Command(os.Args[0], "-test.run=^TestKilledMidway$")
	other.Env = append(os.Environ(), child+"="+folder)
	require.NoError(t, other.Start())
	begun := func() bool {
		halves, _ := filepath.Glob(filepath.Join(folder, half+"*", "app.js"))
		return len(halves) == 1
	}
	require.Eventually(t, begun, 20*time.Second, 5*time.Millisecond)

	short, stop := context.WithTimeout(t.Context(), 1500*time.Millisecond)
	defer stop()
	var says bytes.Buffer
	_, err := shelve(short, folder, sum, &says, filled)
	require.ErrorIs(t, err, context.DeadlineExceeded, "two build at once")
	assert.Contains(t, says.String(), "another process")

	require.NoError(t, other.Process.Kill())
	_ = other.Wait() // it was killed
	dir, err := shelve(t.Context(), folder, sum, io.Discard, filled)
	require.NoError(t, err)
	assert.True(t, used(dir, sum))
	halves, err := filepath.Glob(filepath.Join(folder, half+"*"))
	require.NoError(t, err)
	assert.Empty(t, halves)

	require.NoError(t, os.Truncate(filepath.Join(dir, "app.js"), 2))
	assert.False(t, used(dir, sum), "a file was cut")
	dir, err = shelve(t.Context(), folder, sum, io.Discard, filled)
	require.NoError(t, err)
	assert.True(t, used(dir, sum))
}
