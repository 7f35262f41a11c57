package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"io/fs"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"asfound/testdata/sites"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/logbook"
)

// world is a site on loopback with the demo in it, and a device of each role.
type world struct {
	t    testing.TB
	site *web.Site
	url  string
	job  string
	by   map[access.Role]*http.Client // "": a stranger
}

func newWorld(t testing.TB) *world {
	t.Helper()
	store, err := logbook.Open(filepath.Join(t.TempDir(), "jobs.db"))
	require.NoError(t, err)
	t.Cleanup(func() { store.Close() })
	w := &world{t: t, site: &web.Site{Store: store, Gate: access.New(store, time.Now), Hosts: web.Loopback, Patience: 2 * time.Second}, by: map[access.Role]*http.Client{}}
	w.site.Report = func(err error) { t.Errorf("went wrong inside: %v", err) }
	h, err := w.site.Handler()
	require.NoError(t, err)
	server := httptest.NewUnstartedServer(nil)
	server.Config = web.Server(h)
	server.Config.ReadHeaderTimeout = 2 * time.Second
	server.Start()
	t.Cleanup(server.Close)
	w.url = server.URL
	demo, err := fs.Sub(sites.Folders, "demo")
	require.NoError(t, err)
	w.job, err = w.site.Import(context.Background(), demo, access.Device{Name: "test"})
	require.NoError(t, err)
	w.by[""] = &http.Client{}
	for _, role := range []access.Role{access.Lead, access.Tech, access.Office} {
		w.by[role] = w.device(role)
	}
	return w
}

// device joins a new device.
func (w *world) device(role access.Role) *http.Client {
	w.t.Helper()
	_, token, err := w.site.Gate.Invite(context.Background(), role, string(role), time.Hour)
	require.NoError(w.t, err)
	_, session, err := w.site.Gate.Join(context.Background(), token, "")
	require.NoError(w.t, err)
	jar, err := cookiejar.New(nil)
	require.NoError(w.t, err)
	client := &http.Client{Jar: jar, Transport: &http.Transport{MaxIdleConnsPerHost: 4}}
	w.t.Cleanup(client.CloseIdleConnections)
	request, err := http.NewRequest("GET", w.url, nil)
	require.NoError(w.t, err)
	jar.SetCookies(request.URL, []*http.Cookie{{Name: "asfound", Value: session}})
	return client
}

// ask sends a request as a role and returns status, head and body.
func (w *world) ask(role access.Role, method, path, kind string, body []byte, head ...string) (int, http.Header, []byte) {
	w.t.Helper()
	request, err := http.NewRequest(method, w.url+path, bytes.NewReader(body))
	require.NoError(w.t, err)
	if kind != "" {
		request.Header.Set("Content-Type", kind)
	}
	for i := 0; i+1 < len(head); i += 2 {
		if head[i] == "Host" {
			request.Host = head[i+1]
		} else {
			request.Header.Set(head[i], head[i+1])
		}
	}
	answer, err := w.by[role].Do(request)
	require.NoError(w.t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(w.t, err)
	return answer.StatusCode, answer.Header, text
}

// get reads JSON as a role.
func (w *world) get(role access.Role, path string, into any) {
	w.t.Helper()
	status, _, text := w.ask(role, "GET", path, "", nil)
	require.Equal(w.t, http.StatusOK, status, "%s: %s", path, text)
	require.NoError(w.t, json.Unmarshal(text, into), "%s", text)
}

// fill puts the ids of the world into a path of the table.
func (w *world) fill(path string) string {
	return strings.NewReplacer("{$}", "", "{name...}", "app.js", "{job}", w.job, "{name}", "spots.csv", "{sha256}", strings.Repeat("0", 64),
		"{id}", "none").Replace(path)
}
