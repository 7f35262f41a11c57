package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// TestDamagedStore serves a store that is known to be damaged: it is read, it
// acknowledges nothing, and every phone is told what becomes of what it sends.
func TestDamagedStore(t *testing.T) {
	w := newWorld(t)
	var told []error
	w.site.Report = func(err error) { told = append(told, err) }
	var before web.Page
	w.get(access.Tech, "/api/entries", &before)
	assert.Len(t, before.Generation, 32)
	assert.Equal(t, before.Next, before.Last)

	w.site.Store.Notice(fmt.Errorf("page 7: %w", logbook.ErrDamaged))
	body, err := json.Marshal(web.Entries{Entries: []entry.Entry{{ID: entry.NewID(time.Now(), [10]byte{1}), Job: w.job, Kind: entry.KindReading, At: time.Now(), By: "Phone",
		Body: json.RawMessage(`{"kind": "condition", "target": "box", "note": "seen"}`)}}})
	require.NoError(t, err)
	for _, tt := range []struct {
		role         access.Role
		method, path string
		kind, body   string
	}{
		{access.Tech, "POST", "/api/entries", web.JSON, string(body)},
		{access.Tech, "PUT", "/api/jobs/" + w.job + "/files/ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "text/plain", "abc"},
		{access.Lead, "POST", "/api/invites", web.JSON, `{"role": "tech"}`},
		{access.Lead, "GET", "/api/backup", "", ""},
	} {
		status, _, text := w.ask(tt.role, tt.method, tt.path, tt.kind, []byte(tt.body))
		assert.Equal(t, http.StatusServiceUnavailable, status, "%s %s", tt.method, tt.path)
		assert.Contains(t, string(text[:min(len(text), 300)]), "what you send is not kept here", "%s %s", tt.method, tt.path)
	}
	for _, path := range []string{"/api/jobs", "/api/jobs/" + w.job + "/folder.zip", "/api/jobs/" + w.job + "/papers/spots.csv"} {
		status, _, text := w.ask(access.Lead, "GET", path, "", nil)
		assert.Equal(t, http.StatusOK, status, "%s: %s", path, text)
	}
	var after web.Page
	w.get(access.Tech, "/api/entries", &after)
	assert.Equal(t, before, after)
	var session web.Session
	w.get(access.Tech, "/api/session", &session)
	assert.True(t, session.Damaged)
	assert.Empty(t, told, "whoever noticed it told of it")
}
