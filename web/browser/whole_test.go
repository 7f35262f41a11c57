package browser

import (
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/testdata/long"
)

// TestWholeAfterABrokenLine has the first visit lose a file: the page is told
// nothing, stays open, and is whole all the same, without asking again for what
// it had.
func TestWholeAfterABrokenLine(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	var lock sync.Mutex
	asked := map[string]int{}
	inner := s.handler
	s.server.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Query().Has("v") { // nothing but the service worker asks for the screen of tracing here
			lock.Lock()
			asked[r.URL.Path]++
			lost := strings.HasPrefix(r.URL.Path, "/static/trace-") && asked[r.URL.Path] == 1
			lock.Unlock()
			if lost {
				http.Error(w, "the line broke", http.StatusServiceUnavailable)
				return
			}
		}
		inner.ServeHTTP(w, r)
	})
	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	s.stop()
	lock.Lock()
	defer lock.Unlock()
	again := 0
	for path, n := range asked {
		if strings.HasPrefix(path, "/static/trace-") {
			assert.Equal(t, 2, n, path)
			again++
		} else {
			assert.LessOrEqual(t, n, 2, "%s: by the page and by the worker", path)
		}
	}
	assert.Equal(t, 1, again, "files that were lost")
	b.visit(s.url + "/")
	b.sees("Import a job")
	assert.Empty(t, b.log, "exceptions in the page")
}
