package browser

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/app"
)

// newer is the same site as another build would serve it: another version in
// its page, and the service worker of that version.
func newer(a *app.App, h http.Handler) http.Handler {
	version := strings.Repeat("f", 16)
	page := bytes.ReplaceAll(a.Page(), []byte(a.Version()), []byte(version))
	digest := func(b []byte) []byte {
		sum := sha256.Sum256(b)
		return []byte(hex.EncodeToString(sum[:]))
	}
	worker := bytes.ReplaceAll(a.ServiceWorker(), []byte(a.Version()), []byte(version))
	worker = bytes.ReplaceAll(worker, digest(a.Page()), digest(page))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body := map[string][]byte{"/": page, "/sw.js": worker}[r.URL.Path]
		if body == nil {
			h.ServeHTTP(w, r)
			return
		}
		for _, name := range []string{"If-None-Match", "If-Modified-Since", "Accept-Encoding"} {
			r.Header.Del(name)
		}
		old := httptest.NewRecorder()
		h.ServeHTTP(old, r)
		for name, v := range old.Header() {
			if name != "Content-Length" && name != "Etag" {
				w.Header()[name] = v
			}
		}
		w.Write(body)
	})
}

// TestUpdate serves another build to a phone that has one: it goes on with its
// own until the user updates it, all at once, and loses no reading.
func TestUpdate(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	b.bring("day-before")
	rows := b.rows()
	const version = `document.querySelector("meta[name=version]")?.content`
	a := whole(t)
	require.Equal(t, a.Version(), eval[string](b, version))

	s.stop()
	s.handler = newer(a, s.handler)
	s.start()
	eval[bool](b, `(document.dispatchEvent(new Event("visibilitychange")), true)`) // one looks at the phone again
	b.sees("A newer version is ready")
	b.look("phone-newer")
	b.do(reload)
	b.settled()
	assert.Equal(t, a.Version(), eval[string](b, version), "the old one until it is told")
	b.sees("A newer version is ready")
	b.press("Update now")
	b.wait(version + ` === "ffffffffffffffff"`)
	b.settled()
	assert.Equal(t, rows, b.rows(), "no reading is lost")
	assert.NotContains(t, b.text(), "A newer version is ready")
	assert.Empty(t, b.log, "exceptions")
}
