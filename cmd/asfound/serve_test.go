package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/app/build"
)

// paper is a stdout that is read while it is written.
type paper struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (p *paper) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.b.Write(b)
}

func (p *paper) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.b.String()
}

// served runs asfound serve until the test is over or stop is called, and
// returns what it printed once it serves. The app is built beforehand, by the
// same function that the first start calls, since the time for that depends on
// what else the machine does.
func served(t *testing.T, args ...string) (out *paper, stop func() int) {
	t.Helper()
	_, err := build.App(t.Context(), t.Output())
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	out = &paper{}
	errs := &paper{}
	code := make(chan int, 1)
	go func() { code <- Run(ctx, append([]string{"serve"}, args...), strings.NewReader(""), out, errs) }()
	stop = sync.OnceValue(func() int { cancel(); return <-code })
	t.Cleanup(func() { stop() })
	require.Eventually(t, func() bool { return strings.Contains(out.String(), "asfound serves") }, time.Minute, 10*time.Millisecond, "%s", errs)
	return out, stop
}

// TestServe starts a site as a new user would: one command, the printed link,
// and the demo is there; after a restart everything still is, and no second
// lead is asked for.
func TestServe(t *testing.T) {
	data := filepath.Join(t.TempDir(), "jobs.db")
	out, stop := served(t, "--listen", "127.0.0.1:0", "--data", data)
	link := regexp.MustCompile(`(http://127\.0\.0\.1:\d+)/#join=(\S+)`).FindStringSubmatch(out.String())
	require.NotNil(t, link, "%s", out)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	client := &http.Client{Jar: jar}
	status := func(url string) int {
		a, err := client.Get(url)
		require.NoError(t, err)
		a.Body.Close()
		return a.StatusCode
	}
	assert.Equal(t, 200, status(link[1]+"/"))
	assert.Equal(t, 200, status(link[1]+"/static/app.js"))
	assert.Equal(t, 200, status(link[1]+"/static/engine.wasm"), "phones have no engine")
	assert.Equal(t, 404, status(link[1]+"/static/.source"), "not for serving")
	assert.Equal(t, 401, status(link[1]+"/api/jobs"))
	a, err := client.Post(link[1]+"/api/session", "application/json", strings.NewReader(`{"token": "`+link[2]+`", "name": "Desk"}`))
	require.NoError(t, err)
	a.Body.Close()
	require.Equal(t, 200, a.StatusCode)
	a, err = client.Get(link[1] + "/api/jobs")
	require.NoError(t, err)
	defer a.Body.Close()
	var jobs []struct{ Title string }
	require.NoError(t, json.NewDecoder(a.Body).Decode(&jobs))
	require.Len(t, jobs, 1)
	assert.Contains(t, jobs[0].Title, "Invented")

	var says, errs bytes.Buffer
	saved := filepath.Join(t.TempDir(), "copy.db")
	require.Equal(t, Done, Run(t.Context(), []string{"backup", "--data", data, "--out", saved}, strings.NewReader(""), &says, &errs), "%s", &errs)
	require.Equal(t, Refused, Run(t.Context(), []string{"backup", "--data", data, "--out", saved}, strings.NewReader(""), io.Discard, io.Discard), "it wrote over a copy")
	assert.Equal(t, Done, stop())

	again, _ := served(t, "--listen", "127.0.0.1:0", "--data", saved)
	assert.NotContains(t, again.String(), "join=", "a lead is there already")
	info, err := os.Stat(data)
	require.NoError(t, err)
	assert.Zero(t, info.Mode().Perm()&0o077, "others of the machine may read the store")
}

// TestServeMisused refuses what would not work for phones, and says why.
func TestServeMisused(t *testing.T) {
	data := filepath.Join(t.TempDir(), "jobs.db")
	for _, tt := range []struct {
		name string
		args []string
		says string
	}{
		{"plain HTTP for others", []string{"--listen", "0.0.0.0:0"}, "position"},
		{"all addresses", []string{"--listen", ":0"}, "--tls-name"},
		{"no port", []string{"--listen", "localhost"}, "127.0.0.1:8423"},
		{"half a pair", []string{"--tls-cert", "x.pem"}, "go together"},
		{"two ways", []string{"--tls-cert", "x", "--tls-key", "y", "--tls-name", "z"}, "one of them"},
		{"a folder", []string{"lot7"}, "takes no folder"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var errs bytes.Buffer
			code := Run(t.Context(), append([]string{"serve", "--data", data}, tt.args...), strings.NewReader(""), io.Discard, &errs)
			assert.Equal(t, Misused, code)
			assert.Contains(t, errs.String(), tt.says)
		})
	}
	_, err := os.Stat(data)
	assert.ErrorIs(t, err, os.ErrNotExist, "a store was made for nothing")
}
