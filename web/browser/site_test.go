package browser

import (
	"context"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
	"asfound/web/app"
	"asfound/web/app/build"
	"asfound/web/logbook"
)

// site is a real server with its own store, which can go away for a while.
type site struct {
	t       *testing.T
	url     string
	address string
	path    string // of the store
	store   *logbook.Store
	gate    *access.Gate
	site    *web.Site
	handler http.Handler
	server  *http.Server
}

func newSite(t *testing.T) *site {
	t.Helper()
	chromium(t)
	s := &site{t: t, address: "127.0.0.1:0", path: filepath.Join(t.TempDir(), "store.db")}
	s.open()
	t.Cleanup(func() { s.store.Close() })
	s.start()
	t.Cleanup(s.stop)
	return s
}

// open opens the store and makes a site of it.
func (s *site) open() {
	s.t.Helper()
	var err error
	s.store, err = logbook.Open(s.path)
	require.NoError(s.t, err)
	s.gate = access.New(s.store, time.Now)
	s.site = &web.Site{Store: s.store, Gate: s.gate, App: whole(s.t)}
	s.handler, err = s.site.Handler()
	require.NoError(s.t, err)
}

// esbuild bundles source of the page, named from web/app, as the app is built, and
// returns what it prints.
func esbuild(t *testing.T, args ...string) string {
	t.Helper()
	c := exec.Command("go", slices.Concat([]string{"tool", "-modfile=../../.ci/tools.mod", "esbuild", "--log-level=warning", "--bundle", "--target=es2022"}, build.Libraries, args)...)
	c.Dir = "../app"
	out, err := c.CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}

// whole returns the app with its engine, built if needed.
func whole(t *testing.T) *app.App {
	t.Helper()
	a, err := build.App(t.Context(), t.Output())
	require.NoError(t, err)
	return a
}

// start serves, at the same address as before.
func (s *site) start() {
	s.t.Helper()
	l, err := net.Listen("tcp", s.address)
	require.NoError(s.t, err)
	s.address = l.Addr().String()
	s.url = "http://" + s.address
	s.server = &http.Server{Handler: s.handler}
	go s.server.Serve(l)
}

// stop is the end of coverage: nothing answers, connections break. That is a
// more realistic test than the browser's own offline switch, which a service
// worker bypasses.
func (s *site) stop() { s.server.Close() }

// desk returns the lead's desk, with the demo on the server.
func (s *site) desk() *tab {
	s.t.Helper()
	lead := open(s.t, desk)
	lead.join(s.first(), "Desk")
	lead.bring("demo")
	lead.sent()
	return lead
}

// joined returns another phone, which has joined, has the demo open and needs no network
// any more.
func (s *site) joined(z size, name string) *tab {
	s.t.Helper()
	b := open(s.t, z)
	b.join(s.invite(), name)
	b.press("Invented lot 4")
	b.settled()
	b.whole()
	return b
}

// sent waits until the server has all that the page holds.
func (b *tab) sent() {
	b.t.Helper()
	b.wait(`document.querySelector("[data-unsent]")?.dataset.unsent === "0"`)
}

// first returns the one-time link of the lead.
func (s *site) first() string {
	s.t.Helper()
	token, err := s.gate.First(context.Background())
	require.NoError(s.t, err)
	return s.url + "/#join=" + token
}

// invite returns a one-time link for another phone.
func (s *site) invite() string {
	s.t.Helper()
	_, token, err := s.gate.Invite(context.Background(), access.Tech, "Phone", time.Hour)
	require.NoError(s.t, err)
	return s.url + "/#join=" + token
}
