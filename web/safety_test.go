package web_test

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/sites"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/entry"
)

func sum(text string) string {
	h := sha256.Sum256([]byte(text))
	return hex.EncodeToString(h[:])
}

// TestAnotherSiteMayNotChangeAnything sends what a page of another site could
// make a browser send. The headers are those of Fetch Metadata (W3C) and RFC
// 6454.
func TestAnotherSiteMayNotChangeAnything(t *testing.T) {
	w := newWorld(t)
	for _, r := range web.Routes {
		if r.Method == "GET" {
			continue
		}
		for _, head := range [][]string{
			{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Origin", "https://evil.example"}, {"Origin", "null"},
		} {
			status, _, _ := w.ask(access.Lead, r.Method, w.fill(r.Path), web.JSON, []byte("{}"), head...)
			assert.Equal(t, http.StatusForbidden, status, "%s %s %v", r.Method, r.Path, head)
		}
	}
	// A form can send this without a preflight request; it is not JSON.
	status, _, _ := w.ask(access.Lead, "POST", "/api/entries", "text/plain", []byte(`{"entries": []}`))
	assert.Equal(t, http.StatusUnsupportedMediaType, status)
	// The lead is still there, and so is the page itself.
	status, _, _ = w.ask(access.Lead, "POST", "/api/entries", web.JSON, []byte(`{"entries": []}`), "Sec-Fetch-Site", "same-origin")
	assert.Equal(t, http.StatusOK, status)
	// Another host name that somebody points at this machine.
	status, _, _ = w.ask(access.Lead, "GET", "/api/jobs", "", nil, "Host", "evil.example")
	assert.Equal(t, http.StatusMisdirectedRequest, status)
}

// TestCookie expects the session to be out of reach of scripts and other sites,
// and bound to TLS where there is TLS.
func TestCookie(t *testing.T) {
	w := newWorld(t)
	join := func(client *http.Client, url string) (*http.Response, *http.Cookie) {
		_, token, err := w.site.Gate.Invite(context.Background(), access.Tech, "x", time.Hour)
		require.NoError(t, err)
		answer, err := client.Post(url+"/api/session", web.JSON, strings.NewReader(`{"token": "`+token+`"}`))
		require.NoError(t, err)
		answer.Body.Close()
		require.Equal(t, 200, answer.StatusCode)
		require.Len(t, answer.Cookies(), 1)
		return answer, answer.Cookies()[0]
	}
	_, c := join(http.DefaultClient, w.url)
	assert.True(t, c.HttpOnly)
	assert.Equal(t, http.SameSiteStrictMode, c.SameSite)
	assert.False(t, c.Secure)

	h, err := (&web.Site{Store: w.site.Store, Gate: w.site.Gate, Secure: true}).Handler()
	require.NoError(t, err)
	server := httptest.NewTLSServer(h)
	defer server.Close()
	answer, c := join(server.Client(), server.URL)
	assert.True(t, c.Secure && c.HttpOnly)
	assert.Equal(t, "__Host-asfound", c.Name)
	assert.Contains(t, answer.Header.Get("Strict-Transport-Security"), "max-age=")
}

// TestRevokedAndLeft expects a device to lose its access at once.
func TestRevokedAndLeft(t *testing.T) {
	w := newWorld(t)
	var devices []access.Device
	w.get(access.Lead, "/api/devices", &devices)
	for _, d := range devices {
		if d.Role == access.Tech {
			status, _, _ := w.ask(access.Lead, "DELETE", "/api/devices/"+d.ID, "", nil)
			assert.Equal(t, http.StatusNoContent, status)
		}
	}
	status, _, _ := w.ask(access.Tech, "GET", "/api/jobs", "", nil)
	assert.Equal(t, http.StatusUnauthorized, status)
	status, _, _ = w.ask(access.Office, "DELETE", "/api/session", "", nil)
	assert.Equal(t, http.StatusNoContent, status)
	status, _, _ = w.ask(access.Office, "GET", "/api/jobs", "", nil)
	assert.Equal(t, http.StatusUnauthorized, status)
}

// TestGuessing expects attempts to guess tokens to be stopped.
func TestGuessing(t *testing.T) {
	w := newWorld(t)
	stopped := 0
	for range 30 {
		status, head, _ := w.ask("", "POST", "/api/session", web.JSON, []byte(`{"token": "guess"}`))
		if status == http.StatusTooManyRequests {
			stopped++
			assert.NotEmpty(t, head.Get("Retry-After"))
		} else {
			assert.Equal(t, http.StatusUnauthorized, status)
		}
	}
	assert.GreaterOrEqual(t, stopped, 15)
}

// TestTraversal requests files outside the folder, in raw requests.
func TestTraversal(t *testing.T) {
	w := newWorld(t)
	for _, path := range []string{
		"/static/../embed.go", "/static/..%2f..%2fembed.go", "/static/%2e%2e/%2e%2e/etc/passwd", `/static/..\..\embed.go`, "/static//etc/passwd",
		"/static/%00", "/../../etc/passwd", "/api/jobs/../../etc/passwd", "/api/jobs/..%2f..%2f/folder.zip",
		"/api/jobs/" + w.job + "/papers/..%2f..%2fetc%2fpasswd", "/api/jobs/" + w.job + "/files/..%2f..%2fetc%2fpasswd",
	} {
		conn, err := net.Dial("tcp", strings.TrimPrefix(w.url, "http://"))
		require.NoError(t, err)
		fmt.Fprintf(conn, "GET %s HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n", path)
		answer, err := io.ReadAll(conn)
		require.NoError(t, err)
		conn.Close()
		assert.Regexp(t, `^HTTP/1.1 (301|307|400|401|404) `, string(answer), path)
		assert.NotContains(t, string(answer), "package app", path)
		assert.NotContains(t, string(answer), "root:", path)
	}
}

// TestOversized sends more than is accepted, with and without a stated length.
func TestOversized(t *testing.T) {
	w := newWorld(t)
	for _, r := range web.Routes {
		if r.Takes != web.JSON || r.Limit > 1<<20 {
			continue
		}
		big := []byte(`{"name": "` + strings.Repeat("x", int(r.Limit)) + `"}`)
		status, _, _ := w.ask(access.Lead, r.Method, w.fill(r.Path), web.JSON, big)
		assert.Equal(t, http.StatusRequestEntityTooLarge, status, r.Path)
		request, err := http.NewRequest(r.Method, w.url+w.fill(r.Path), struct{ io.Reader }{bytes.NewReader(big)}) // chunked
		require.NoError(t, err)
		request.Header.Set("Content-Type", web.JSON)
		answer, err := w.by[access.Lead].Do(request)
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, http.StatusRequestEntityTooLarge, answer.StatusCode, r.Path)
	}
	status, _, _ := w.ask(access.Lead, "GET", "/api/jobs", web.JSON, []byte("{}"))
	assert.Equal(t, http.StatusRequestEntityTooLarge, status)
	// Headers as well: net/http answers 431 (RFC 6585).
	status, _, _ = w.ask(access.Lead, "GET", "/", "", nil, "X-Long", strings.Repeat("x", 64<<10))
	assert.Equal(t, http.StatusRequestHeaderFieldsTooLarge, status)
}

// TestSlow begins a request and never ends it: the server does not wait. Here it
// waits 2 s instead of its usual 10 and 15.
func TestSlow(t *testing.T) {
	s := web.Server(nil)
	assert.Positive(t, s.ReadHeaderTimeout) // shorter below, so as not to wait for it
	assert.Positive(t, s.IdleTimeout)
	w := newWorld(t)
	for _, tt := range []struct{ name, sent, want string }{
		{"head", "POST /api/session HTTP/1.1\r\nHost: localhost\r\n", ""},
		{"body", "POST /api/session HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{", "408"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			conn, err := net.Dial("tcp", strings.TrimPrefix(w.url, "http://"))
			require.NoError(t, err)
			defer conn.Close()
			start := time.Now()
			io.WriteString(conn, tt.sent)
			require.NoError(t, conn.SetReadDeadline(start.Add(15*time.Second)))
			answer, err := io.ReadAll(conn)
			require.NoError(t, err, "it is still waiting after %v", time.Since(start))
			assert.Contains(t, string(answer), tt.want)
		})
	}
}

// packed makes an archive of names and contents.
func packed(t *testing.T, files ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := z.Create(files[i])
		require.NoError(t, err)
		_, err = io.WriteString(f, files[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// TestHostileArchives imports archives that are not what a job folder is.
func TestHostileArchives(t *testing.T) {
	w := newWorld(t)
	sketch, err := fs.ReadFile(sites.Folders, "demo/sketch.geojson")
	require.NoError(t, err)
	var many []string
	for i := range entry.MaxFiles + 1 {
		many = append(many, fmt.Sprintf("%d.txt", i), "x")
	}
	link := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		h := &zip.FileHeader{Name: "sketch.geojson"}
		h.SetMode(fs.ModeSymlink | 0o777)
		f, err := z.CreateHeader(h)
		require.NoError(t, err)
		io.WriteString(f, "/etc/passwd")
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	// A zip bomb with a false size: 64 MB and more of zeros, declared as 100
	// bytes.
	bomb := packed(t, "sketch.geojson", string(sketch), "note.txt", strings.Repeat("\x00", entry.MaxFile+1))
	lying := bytes.Clone(bomb)
	real := binary.LittleEndian.AppendUint32(nil, entry.MaxFile+1)
	require.Positive(t, bytes.Count(lying, real))
	lying = bytes.ReplaceAll(lying, real, binary.LittleEndian.AppendUint32(nil, 100))
	for _, tt := range []struct {
		name    string
		archive []byte
		status  int
	}{
		{"no archive", []byte("hello"), 400},
		{"empty", packed(t), 400},
		{"up and out", packed(t, "sketch.geojson", string(sketch), "../evil.txt", "x"), 400},
		{"absolute", packed(t, "/etc/evil", "x"), 400},
		{"the other slash", packed(t, `..\evil.txt`, "x"), 400},
		{"drive", packed(t, "C:evil.txt", "x"), 400},
		{"twice", packed(t, "a.txt", "x", "a.txt", "y"), 400},
		{"link", link(), 400},
		{"too many", packed(t, many...), 400},
		{"bomb", bomb, 413},
		{"lying bomb", lying, 400},
		{"cut off", packed(t, "sketch.geojson", string(sketch))[:300], 400},
		{"not a job", packed(t, "sketch.geojson", "{}"), 400},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w.by[access.Office] = w.device(access.Office) // imports are rate-limited
			status, _, text := w.ask(access.Office, "POST", "/api/jobs", web.Zip, tt.archive)
			assert.Equal(t, tt.status, status, "%.300s", text)
		})
	}
	var jobs []struct{ ID string }
	w.get(access.Lead, "/api/jobs", &jobs)
	assert.Len(t, jobs, 1, "one of them came in")
}

// TestUploads checks that a file is kept whatever it is said to be, and that none
// is sent in a form in which a browser would run it.
func TestUploads(t *testing.T) {
	w := newWorld(t)
	png := "\x89PNG\r\n\x1a\n" + strings.Repeat("x", 100)
	heic := "\x00\x00\x00\x18ftypheic" + strings.Repeat("x", 100)
	page := "<html><script>alert(1)</script></html>"
	for _, tt := range []struct {
		name, kind, content string
		status              int
		sent                string
	}{
		{"png", "image/png", png, 204, "image/png"},
		{"heic", "image/heic", heic, 204, "image/heic"},
		{"pdf", "application/pdf", "%PDF-1.7 x", 204, "application/pdf"},
		{"png called a jpeg", "image/jpeg", png + "2", 204, "image/png"},
		{"page as picture", "image/png", page, 204, entry.Plain},
		{"text as pdf", "application/pdf", "hello there", 204, entry.Plain},
		{"svg", "image/svg+xml", "<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", 204, entry.Plain},
		{"avif", "image/avif", "\x00\x00\x00\x20ftypavif" + strings.Repeat("x", 100), 204, entry.Plain},
		{"tiff", "image/tiff", "II*\x00" + strings.Repeat("x", 100), 204, entry.Plain},
		{"empty", "image/jpeg", "", 204, entry.Plain},
		{"no sensible type", "of no use/;;", "hello, again", 204, entry.Plain},
		{"page as itself", "text/html", page + " ", 204, entry.Plain},
		{"note", "text/plain", "hello", 204, "application/octet-stream"},
		{"no type", "", "hello again", 204, entry.Plain},
		{"unknown", "application/octet-stream", "\x00\x01", 204, "application/octet-stream"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path := "/api/jobs/" + w.job + "/files/" + sum(tt.content)
			status, _, text := w.ask(access.Tech, "PUT", path, tt.kind, []byte(tt.content))
			require.Equal(t, tt.status, status, "%s", text)
			if status != 204 {
				return
			}
			body := fmt.Sprintf(`{"sha256": %q, "name": "f-%s", "type": %q, "size": %d, "for": ""}`, sum(tt.content), strings.ReplaceAll(tt.name, " ", "-"), tt.kind, len(tt.content))
			e := entry.Entry{ID: entry.NewID(time.Now(), [10]byte([]byte(sum(tt.name)[:10]))), Job: w.job, Kind: entry.KindFile, At: time.Now(), By: "x", Body: json.RawMessage(body)}
			require.NoError(t, e.Check())
			_, err := w.site.Store.Take(t.Context(), "", []entry.Entry{e})
			require.NoError(t, err)
			status, head, text := w.ask(access.Office, "GET", path, "", nil)
			require.Equal(t, 200, status, "%s", text)
			assert.Equal(t, tt.content, string(text))
			assert.Equal(t, tt.sent, head.Get("Content-Type"))
			assert.Contains(t, head.Get("Content-Security-Policy"), "sandbox")
			assert.Equal(t, tt.sent == "application/octet-stream", strings.HasPrefix(head.Get("Content-Disposition"), "attachment"))
		})
	}
}

// TestWorkMayTakeLongerThanABody keeps the engine busy for longer than a body
// may take: a request that waits for it is not treated as one whose client has
// left.
func TestWorkMayTakeLongerThanABody(t *testing.T) {
	w := newWorld(t)
	w.site.Patience = 100 * time.Millisecond
	h, err := w.site.Handler()
	require.NoError(t, err)
	server := httptest.NewServer(h)
	defer server.Close()
	w.url = server.URL
	w.by[access.Tech] = w.device(access.Tech)
	for range 2 {
		time.AfterFunc(500*time.Millisecond, w.site.Occupy())
		status, _, text := w.ask(access.Tech, "POST", "/api/stage/length", web.JSON, []byte(`{"text": "3'", "unit": "ft"}`))
		assert.Equal(t, http.StatusOK, status, "%s", text)
		time.AfterFunc(500*time.Millisecond, w.site.Occupy())
		status, _, text = w.ask(access.Tech, "GET", "/api/jobs/"+w.job+"/papers/spots.csv", "", nil)
		assert.Equal(t, http.StatusOK, status, "%s", text)
	}
}
