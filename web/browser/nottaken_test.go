package browser

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
)

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// TestOneFileHoldsBackNoOther has a phone send files of every bad kind to the real
// server. Those that are only named wrongly arrive. Each other one is named with its
// job, can be sent again, saved and dropped, and the photos behind it arrive.
func TestOneFileHoldsBackNoOther(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	lead := s.desk()

	dir := t.TempDir()
	sketch, err := os.ReadFile("../../testdata/sites/day-before/sketch.geojson")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sketch.geojson"), sketch, 0o644))
	scan, err := os.ReadFile("../../testdata/scans/permit.jpg")
	require.NoError(t, err)
	content := map[string]string{
		"a-png.jpg":    "\x89PNG\r\n\x1a\n" + strings.Repeat("x", 100),
		"b-empty.jpg":  "",
		"c-large.jpg":  strings.Repeat("y", entry.MaxFile+1),
		"d-new.jpg":    "\x00\x00\x00\x20ftypavif" + strings.Repeat("z", 100),
		"e-broken.jpg": "\xFF\xD8\xFFthe server cannot for a while",
		"f-bent.jpg":   "\xFF\xD8\xFFbent on the way",
		"g-lid.jpg":    string(scan),
		"h-lid.jpg":    string(scan[:len(scan)-9]),
	}
	for name, text := range content {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}

	// On the way, one file breaks the server for a while and another one is bent.
	var lock sync.Mutex
	trouble := true
	real := s.handler
	s.stop()
	s.handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		lock.Lock()
		on := trouble
		lock.Unlock()
		if r.Method == http.MethodPut && on && r.ContentLength == int64(len(content["e-broken.jpg"])) {
			http.Error(w, "out of order", http.StatusInternalServerError)
			return
		}
		if r.Method == http.MethodPut && on && r.ContentLength == int64(len(content["f-bent.jpg"])) {
			r.Body = io.NopCloser(io.MultiReader(strings.NewReader("?"), io.LimitReader(r.Body, r.ContentLength-1)))
		}
		real.ServeHTTP(w, r)
	})
	s.start()

	lead.visit(s.url + "/#/jobs")
	lead.bringFolder(dir)
	lead.wait(`document.querySelector("[data-unsent]").dataset.unsent === "4"`) // and what the log says of the large one
	lead.sees("The server did not take 3 files")
	lead.press("▲ The server did not take 3 files")
	lead.sees("c-large.jpg (Job without a title): it has 67.1 MB, and the server takes at most 67.1 MB.")
	lead.sees("e-broken.jpg (Job without a title): the server answered 500. It is sent again by itself.")
	lead.sees("f-bent.jpg (Job without a title): the bytes are not those of the SHA-256 they came with.")
	lead.look("desk-not-taken")

	// What is behind arrived, byte by byte, as what it is.
	job := eval[string](lead, `location.hash.split("/")[2]`)
	at := func(name string) string { return `fetch("/api/jobs/` + job + `/files/` + sumOf(content[name]) + `")` }
	for name, kind := range map[string]string{"a-png.jpg": "image/png", "b-empty.jpg": entry.Plain, "d-new.jpg": entry.Plain, "g-lid.jpg": "image/jpeg", "h-lid.jpg": "image/jpeg"} {
		assert.Equal(t, kind, eval[string](lead, at(name)+`.then((r) => r.status + r.headers.get("Content-Type")).then((s) => s.replace("200", ""))`), name)
		assert.Equal(t, float64(len(content[name])), eval[float64](lead, at(name)+`.then((r) => r.blob()).then((b) => b.size)`), name)
	}
	for _, name := range []string{"a-png.jpg", "d-new.jpg", "h-lid.jpg"} { // the phone finds the type by itself
		assert.Equal(t, entry.TypeOf([]byte(content[name])), eval[string](lead, `new Promise((done) => { const o = indexedDB.open("asfound"); o.onsuccess = () => { o.result.transaction("files").objectStore("files").get("`+sumOf(content[name])+`").onsuccess = (e) => { done(e.target.result.type); o.result.close(); }; }; })`), name)
	}

	// A photo of another job, taken later, is not held back either.
	lead.visit(s.url + "/#/jobs")
	lead.press("Invented lot 4")
	lead.settled()
	lead.press("Measure")
	lead.press("a note, photos")
	photo := filepath.Join(t.TempDir(), "later.jpg")
	require.NoError(t, os.WriteFile(photo, scan, 0o644))
	lead.upload("Add photos", photo)
	lead.wait(`document.querySelector(".photos img")`)
	lead.press("Save")
	lead.kept()
	lead.wait(`document.querySelector("[data-unsent]").dataset.unsent === "4"`)

	// The server works again: the one goes by itself, the other when somebody says so.
	lock.Lock()
	trouble = false
	lock.Unlock()
	lead.wait(`document.querySelector("[data-unsent]").dataset.unsent === "3"`)
	lead.press("Send again: f-bent.jpg")
	lead.wait(`document.querySelector("[data-unsent]").dataset.unsent === "2"`)

	// Saved by hand, whole; dropped only after a question.
	eval[bool](lead, `(() => { const make = URL.createObjectURL.bind(URL); URL.createObjectURL = (x) => ((window.handed = x), make(x)); return true; })()`)
	lead.press("Save it: c-large.jpg")
	assert.Equal(t, float64(entry.MaxFile+1), eval[float64](lead, `window.handed.size`))
	lead.press("Drop it: c-large.jpg")
	lead.sees("Drop c-large.jpg?")
	lead.look("desk-drop-file")
	lead.press("Keep it")
	time.Sleep(200 * time.Millisecond)
	assert.Equal(t, "2", eval[string](lead, `document.querySelector("[data-unsent]").dataset.unsent`))
	lead.press("Drop it: c-large.jpg")
	lead.press("Yes, drop it")
	lead.sent()
	lead.do(reload)
	lead.settled()
	lead.sent()
	assert.NotContains(t, lead.text(), "did not take")
	assert.Empty(t, lead.log, "exceptions")
}
