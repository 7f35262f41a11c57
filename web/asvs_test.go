package web_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"mime"
	"net"
	"net/http"
	"net/url"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/app"
	"asfound/web/entry"
)

// These tests show requirements of the OWASP Application Security Verification
// Standard that no other test does: see SECURITY.md, which has their numbers.

// file sends a file as a tech, logs it, and returns its address.
func (w *world) file(name, kind, content string) string {
	w.t.Helper()
	address := "/api/jobs/" + w.job + "/files/" + sum(content)
	status, _, text := w.ask(access.Tech, "PUT", address, kind, []byte(content))
	require.Equal(w.t, http.StatusNoContent, status, "%s", text)
	body, err := json.Marshal(entry.File{SHA256: sum(content), Name: name, Type: kind, Size: int64(len(content))})
	require.NoError(w.t, err)
	now := time.Now()
	text, err = json.Marshal(web.Entries{Entries: []entry.Entry{{
		ID: entry.NewID(now, [10]byte([]byte(sum(content)[:10]))), Job: w.job, Kind: entry.KindFile, At: now, By: "x", Body: body}}})
	require.NoError(w.t, err)
	_, _, text = w.ask(access.Tech, "POST", "/api/entries", web.JSON, text)
	require.Contains(w.t, string(text), `"refused":[]`)
	return address
}

// safeType is a media type whose text says how it is encoded, where a browser
// would guess otherwise.
func safeType(kind string) bool {
	base, parameters, err := mime.ParseMediaType(kind)
	text := strings.HasPrefix(base, "text/") || strings.HasSuffix(base, "/xml") || strings.HasSuffix(base, "+xml")
	return err == nil && (!text || parameters["charset"] == "utf-8")
}

// TestEveryAnswerIsHeaded asks every route, every file of the page and for what
// is refused: each answer says what it is, and keeps a browser from running,
// framing or sharing it.
func TestEveryAnswerIsHeaded(t *testing.T) {
	w := newWorld(t)
	type request struct{ method, path, kind, body, head, value string }
	requests := []request{
		{"GET", w.file("note.txt", "text/plain", "hello"), "", "", "", ""},
		{"GET", w.file("box.png", "image/png", "\x89PNG\r\n\x1a\nx"), "", "", "", ""},
		{"GET", "/nothing", "", "", "", ""},
		{"PUT", "/api/jobs", "", "", "", ""},
		{"GET", "/static/../x", "", "", "", ""},
		{"GET", "/api/jobs", "", "", "Host", "evil.example"},
		{"POST", "/api/entries", "text/plain", "{}", "", ""},
		{"POST", "/api/entries", web.JSON, "{", "", ""},
		{"POST", "/api/entries", web.JSON, "{}", "Sec-Fetch-Site", "cross-site"},
	}
	for _, r := range web.Routes {
		if r.Path != "/api/session" || r.Method != "DELETE" {
			requests = append(requests, request{r.Method, w.fill(r.Path), r.Takes, "{}", "", ""})
		}
	}
	whole, err := app.Embedded()
	require.NoError(t, err)
	require.NoError(t, fs.WalkDir(whole.Files(), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !app.Hidden(name) && path.Ext(name) != ".br" && path.Ext(name) != ".gz" {
			requests = append(requests, request{"GET", "/static/" + name, "", "", "", ""})
		}
		return err
	}))
	for _, r := range requests {
		var body []byte
		if r.method != "GET" && r.kind != "" {
			body = []byte(r.body)
		}
		head := []string{"Origin", w.url}
		if r.head != "" {
			head = []string{r.head, r.value}
		}
		status, got, text := w.ask(access.Lead, r.method, r.path, r.kind, body, head...)
		name := fmt.Sprintf("%s %s %s: %d", r.method, r.path, r.value, status)
		policy := got.Get("Content-Security-Policy")
		for _, directive := range []string{"default-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"} {
			assert.Contains(t, policy, directive, name)
		}
		assert.True(t, strings.Contains(policy, "object-src 'none'") || strings.HasSuffix(policy, "; sandbox"), name)
		assert.Equal(t, "nosniff", got.Get("X-Content-Type-Options"), name)
		assert.Equal(t, "no-referrer", got.Get("Referrer-Policy"), name)
		assert.Equal(t, "same-origin", got.Get("Cross-Origin-Resource-Policy"), name)
		for field := range got {
			assert.False(t, strings.HasPrefix(field, "Access-Control-"), "%s %s", name, field)
		}
		if len(text) > 0 {
			assert.True(t, safeType(got.Get("Content-Type")), "%s %q", name, got.Get("Content-Type"))
		}
		if strings.HasPrefix(r.path, "/api/") && r.path != "/api/openapi.json" && !(strings.Contains(r.path, "/files/") && status == http.StatusOK) {
			assert.Equal(t, "no-store", got.Get("Cache-Control"), name)
		}
	}
	for name, p := range api.Papers {
		assert.True(t, safeType(p.Type), name)
	}
}

// raw sends bytes and returns the answers that come back, by their status.
func (w *world) raw(sent string) (got []*http.Response) {
	w.t.Helper()
	conn, err := net.Dial("tcp", strings.TrimPrefix(w.url, "http://"))
	require.NoError(w.t, err)
	defer conn.Close()
	_, err = conn.Write([]byte(sent))
	require.NoError(w.t, err)
	require.NoError(w.t, conn.SetReadDeadline(time.Now().Add(10*time.Second)))
	for r := bufio.NewReader(conn); ; {
		answer, err := http.ReadResponse(r, nil)
		if err != nil {
			return got
		}
		_, err = io.Copy(io.Discard, answer.Body)
		require.NoError(w.t, err)
		require.NoError(w.t, answer.Body.Close())
		got = append(got, answer)
	}
}

// TestOddRequests sends what no browser does. What frames a request in two ways
// is refused (RFC 9112, 6.3), nothing is echoed, and no redirect leads elsewhere.
func TestOddRequests(t *testing.T) {
	w := newWorld(t)
	const end = "Host: localhost\r\nConnection: close\r\n\r\n"
	for _, tt := range []struct {
		name, sent string
		status     int
	}{
		{"TRACE", "TRACE / HTTP/1.1\r\n" + end, 405},
		{"TRACE of the interface", "TRACE /api/session HTTP/1.1\r\n" + end, 405},
		{"CONNECT", "CONNECT localhost:22 HTTP/1.1\r\n" + end, 405},
		{"OPTIONS", "OPTIONS /api/jobs HTTP/1.1\r\n" + end, 405},
		{"two lengths", "POST /api/session HTTP/1.1\r\nContent-Length: 2\r\nContent-Length: 3\r\n" + end + "{}x", 400},
		{"an unknown framing", "POST /api/session HTTP/1.1\r\nTransfer-Encoding: xchunked\r\n" + end + "{}", 501},
		{"a header of two lines", "GET / HTTP/1.1\r\nX: a\r\n b\x00\r\n" + end, 400},
		{"another host in the path", "GET //evil.example/%2f.. HTTP/1.1\r\n" + end, 307},
		{"another host above", "GET /..//evil.example/.. HTTP/1.1\r\n" + end, 307},
	} {
		got := w.raw(tt.sent)
		if !assert.Len(t, got, 1, tt.name) {
			continue
		}
		assert.Equal(t, tt.status, got[0].StatusCode, tt.name)
		if to := got[0].Header.Get("Location"); to != "" {
			assert.Regexp(t, `^/([^/\\]|$)`, to, tt.name)
		}
	}
	// A length beside chunks does not hide a second request in the first.
	got := w.raw("POST /api/session HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 60\r\nTransfer-Encoding: chunked\r\n\r\n" +
		"2\r\n{}\r\n0\r\n\r\n" + "GET /sw.js HTTP/1.1\r\n" + end)
	require.NotEmpty(t, got)
	assert.Equal(t, 401, got[0].StatusCode)
	for _, answer := range got[1:] {
		assert.Equal(t, 200, answer.StatusCode)
	}
}

// TestForwardedIsNotBelieved expects no client to choose its own address, host or
// scheme: each guess comes from another address as its headers have it.
func TestForwardedIsNotBelieved(t *testing.T) {
	w := newWorld(t)
	stopped := 0
	for i := range 30 {
		from := fmt.Sprintf("192.0.2.%d", i)
		status, _, _ := w.ask("", "POST", "/api/session", web.JSON, []byte(`{"token": "guess"}`),
			"X-Forwarded-For", from, "X-Real-IP", from, "Forwarded", "for="+from, "True-Client-IP", from)
		if status == http.StatusTooManyRequests {
			stopped++
		}
	}
	assert.GreaterOrEqual(t, stopped, 15)
	_, _, text := w.ask(access.Lead, "POST", "/api/invites", web.JSON, []byte(`{"role": "tech"}`),
		"X-Forwarded-Host", "evil.example", "X-Forwarded-Proto", "https", "Forwarded", "host=evil.example")
	var made web.Invitation
	require.NoError(t, json.Unmarshal(text, &made), "%s", text)
	assert.True(t, strings.HasPrefix(made.URL, w.url+"/#"), made.URL)
}

// TestLinkSendsNoToken expects the token of a link in the part of its address
// that no browser sends, and nowhere else.
func TestLinkSendsNoToken(t *testing.T) {
	w := newWorld(t)
	_, _, text := w.ask(access.Lead, "POST", "/api/invites", web.JSON, []byte(`{"role": "tech"}`))
	var made web.Invitation
	require.NoError(t, json.Unmarshal(text, &made))
	u, err := url.Parse(made.URL)
	require.NoError(t, err)
	assert.Regexp(t, `^join=[\w-]{43}$`, u.Fragment)
	assert.Equal(t, w.url+"/", strings.TrimSuffix(made.URL, "#"+u.Fragment))
	_, _, list := w.ask(access.Lead, "GET", "/api/invites", "", nil)
	assert.NotContains(t, string(list), strings.TrimPrefix(u.Fragment, "join="))
}

// TestEveryRateHolds exhausts each rate as one device, while the clock stands
// still; another device is not held up.
func TestEveryRateHolds(t *testing.T) {
	for _, tt := range []struct {
		rate               web.Rate
		method, path, kind string
		burst              int
	}{
		{web.Often, "GET", "/api/session", "", 300},
		{web.Logging, "POST", "/api/entries", web.JSON, 100},
		{web.Working, "POST", "/api/stage/length", web.JSON, 30},
		{web.Seldom, "POST", "/api/jobs", web.Zip, 10},
	} {
		t.Run(string(tt.rate), func(t *testing.T) {
			w := newWorld(t)
			now := time.Now()
			w.site.Now = func() time.Time { return now }
			body := []byte("{}")
			if tt.kind == "" {
				body = nil
			}
			for i := range tt.burst + 1 {
				status, _, _ := w.ask(access.Office, tt.method, tt.path, tt.kind, body)
				require.Equal(t, i == tt.burst, status == http.StatusTooManyRequests, "request %d", i+1)
			}
			status, _, _ := w.ask(access.Lead, tt.method, tt.path, tt.kind, body)
			assert.NotEqual(t, http.StatusTooManyRequests, status)
		})
	}
}

// TestReadsChangeNothing asks every route that a link or a picture can ask, and
// expects the same entries, links and devices as before.
func TestReadsChangeNothing(t *testing.T) {
	w := newWorld(t)
	what := func() string {
		_, _, entries := w.ask(access.Lead, "GET", "/api/entries", "", nil)
		_, _, invites := w.ask(access.Lead, "GET", "/api/invites", "", nil)
		_, _, devices := w.ask(access.Lead, "GET", "/api/devices", "", nil)
		return string(entries) + string(invites) + string(devices)
	}
	before := what()
	for _, r := range web.Routes {
		if r.Method == "GET" {
			w.ask(access.Lead, r.Method, w.fill(r.Path), "", nil)
			w.ask(access.Lead, "HEAD", w.fill(r.Path), "", nil)
		}
	}
	assert.Equal(t, before, what())
}

// TestJoiningSaysNothingElse expects a device to get the role of its link,
// whatever it asks for beside it, and a name to stay text.
func TestJoiningSaysNothingElse(t *testing.T) {
	w := newWorld(t)
	_, token, err := w.site.Gate.Invite(t.Context(), access.Tech, "x", time.Hour)
	require.NoError(t, err)
	const name = `'); DROP TABLE devices; --<script>alert(1)</script>`
	body, err := json.Marshal(map[string]any{"token": token, "name": name, "role": "lead", "Role": "lead", "id": "1", "expires": "9999-01-01T00:00:00Z"})
	require.NoError(t, err)
	status, head, text := w.ask("", "POST", "/api/session?role=lead", web.JSON, body)
	require.Equal(t, http.StatusOK, status, "%s", text)
	var s web.Session
	require.NoError(t, json.Unmarshal(text, &s))
	assert.Equal(t, access.Tech, s.Role)
	assert.Equal(t, name, s.Name)
	assert.NotContains(t, string(text), "<script>")
	cookie := head.Get("Set-Cookie")
	session := strings.TrimPrefix(strings.SplitN(cookie, ";", 2)[0], "asfound=")
	assert.Len(t, session, 43)
	assert.NotContains(t, string(text), session, "scripts do not see it")
	var devices []access.Device
	w.get(access.Lead, "/api/devices", &devices)
	assert.Equal(t, name, devices[len(devices)-1].Name)
	status, _, _ = w.ask(access.Lead, "GET", "/api/entries?job="+url.QueryEscape("' OR 1=1 --"), "", nil)
	assert.Equal(t, http.StatusBadRequest, status)
}

// TestJoiningAgainEndsTheSession joins twice from one browser.
func TestJoiningAgainEndsTheSession(t *testing.T) {
	w := newWorld(t)
	address, err := url.Parse(w.url)
	require.NoError(t, err)
	first := w.by[access.Tech].Jar.Cookies(address)[0]
	_, token, err := w.site.Gate.Invite(t.Context(), access.Tech, "x", time.Hour)
	require.NoError(t, err)
	status, _, _ := w.ask(access.Tech, "POST", "/api/session", web.JSON, []byte(`{"token": "`+token+`"}`))
	require.Equal(t, http.StatusOK, status)
	second := w.by[access.Tech].Jar.Cookies(address)[0]
	assert.NotEqual(t, first.Value, second.Value)
	status, _, _ = w.ask(access.Tech, "GET", "/api/jobs", "", nil)
	assert.Equal(t, http.StatusOK, status)
	status, _, _ = w.ask("", "GET", "/api/jobs", "", nil, "Cookie", first.String())
	assert.Equal(t, http.StatusUnauthorized, status)
	status, _, _ = w.ask("", "GET", "/api/jobs", "", nil, "Cookie", second.String())
	assert.Equal(t, http.StatusOK, status)
	var acts []access.Act
	w.get(access.Lead, "/api/acts", &acts)
	kept := func(act access.Deed, name string) bool {
		return slices.ContainsFunc(acts, func(a access.Act) bool { return a.Act == act && a.Name == name })
	}
	assert.True(t, kept(access.Left, "tech") && kept(access.Joined, "x"))
}

// TestNamesOfDownloads expects a file to be saved under the name that it was
// logged with, and the name to stay one parameter of its header (RFC 6266).
func TestNamesOfDownloads(t *testing.T) {
	w := newWorld(t)
	for i, name := range []string{"note.txt", `a"b.txt`, "boîte 1.txt", "a; filename=b.html", "photos/box.txt"} {
		_, head, _ := w.ask(access.Office, "GET", w.file(name, "text/plain", fmt.Sprint("note ", i)), "", nil)
		disposition, parameters, err := mime.ParseMediaType(head.Get("Content-Disposition"))
		require.NoError(t, err, name)
		assert.Equal(t, "attachment", disposition)
		assert.Equal(t, map[string]string{"filename": name}, parameters)
	}
}

// TestInternalErrorsStayInside takes the store away while the server runs: nobody
// is let in, nothing is acknowledged, and what went wrong is told to the operator
// alone.
func TestInternalErrorsStayInside(t *testing.T) {
	w := newWorld(t)
	var lock sync.Mutex
	var reported []string
	w.site.Report = func(err error) { lock.Lock(); defer lock.Unlock(); reported = append(reported, err.Error()) }
	require.NoError(t, w.site.Store.Close())
	for _, r := range []struct{ method, path, kind, body string }{
		{"GET", "/api/jobs", "", ""}, {"POST", "/api/entries", web.JSON, `{"entries": []}`}, {"POST", "/api/invites", web.JSON, `{"role": "lead"}`},
		{"POST", "/api/session", web.JSON, `{"token": "` + strings.Repeat("A", 43) + `"}`},
	} {
		status, head, text := w.ask(access.Lead, r.method, r.path, r.kind, []byte(r.body))
		assert.Equal(t, http.StatusInternalServerError, status, r.path)
		assert.JSONEq(t, `{"error": "the server could not do this; what was acknowledged before is safe"}`, string(text))
		assert.Empty(t, head.Get("Set-Cookie"))
	}
	status, _, _ := w.ask("", "GET", "/api/jobs", "", nil)
	assert.Equal(t, http.StatusUnauthorized, status)
	lock.Lock()
	defer lock.Unlock()
	require.Len(t, reported, 4)
	assert.Regexp(t, "GET /api/jobs: .*closed", reported[0])
}

// running matches what takes text for a script or for markup, and what loads
// something from elsewhere.
var running = regexp.MustCompile(`\beval\(|new Function\(|innerHTML|outerHTML|insertAdjacentHTML|dangerouslySetInnerHTML|document\.write|createContextualFragment|` +
	`srcdoc|javascript:|document\.cookie|window\.open|(fetch|import|importScripts)\(["'` + "`" + `](https?:)?//|<script[^>]+src="(https?:)?//`)

// TestPageRunsNoText looks through the source of the page, written by hand.
func TestPageRunsNoText(t *testing.T) {
	for _, bad := range []string{"e.innerHTML = x", "<p dangerouslySetInnerHTML={{__html: x}} />", "eval(x)", `fetch("https://x.example/")`, `fetch("//x.example/")`} {
		assert.Regexp(t, running, bad)
	}
	seen := 0
	for _, folder := range []string{"source", "trace", "picture", "static"} {
		require.NoError(t, fs.WalkDir(os.DirFS("app"), folder, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				if err == nil && strings.HasPrefix(d.Name(), ".") {
					return fs.SkipDir // built
				}
				return err
			}
			switch path.Ext(name) {
			case ".ts", ".tsx", ".html":
			case ".js":
				if name != "static/sw.js" && name != "static/worker.js" {
					return nil // built
				}
			default:
				return nil
			}
			seen++
			text, err := os.ReadFile(path.Join("app", name))
			assert.NotRegexp(t, running, string(text), name)
			return err
		}))
	}
	assert.Greater(t, seen, 80, "the page was not found")
}
