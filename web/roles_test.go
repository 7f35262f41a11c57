package web_test

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
	"asfound/web/entry"
)

// meant is who may do what, as the issue of this part requires: no job without
// a session; the lead everything; a tech reads and logs; the office reads, logs
// and imports whole folders. It is written out here again, independently of the
// table that is tested.
var meant = map[string]string{
	"GET /{$}": "stranger tech office lead", "GET /static/{name...}": "stranger tech office lead",
	"GET /sw.js": "stranger tech office lead", "GET /manifest.webmanifest": "stranger tech office lead",
	"GET /api/openapi.json": "stranger tech office lead", "POST /api/session": "stranger tech office lead",

	"GET /api/session": "tech office lead", "DELETE /api/session": "tech office lead",
	"GET /api/jobs": "tech office lead", "GET /api/entries": "tech office lead", "POST /api/entries": "tech office lead",
	"GET /api/jobs/{job}/folder.zip": "tech office lead", "GET /api/jobs/{job}/papers/{name}": "tech office lead",
	"GET /api/jobs/{job}/files/{sha256}": "tech office lead", "PUT /api/jobs/{job}/files/{sha256}": "tech office lead",
	"POST /api/stage/{name}": "tech office lead",

	"POST /api/jobs": "office lead",

	"GET /api/invites": "lead", "POST /api/invites": "lead", "DELETE /api/invites/{id}": "lead",
	"GET /api/devices": "lead", "DELETE /api/devices/{id}": "lead", "GET /api/backup": "lead",
	"GET /api/acts": "lead", "GET /api/acts.csv": "lead",
}

// TestWhoMay calls every route in every role. A role that may never gets 401 or
// 403 (though it may get 404 or 400), a stranger gets 401, a wrong role 403.
func TestWhoMay(t *testing.T) {
	w := newWorld(t)
	seen := map[string]bool{}
	for _, r := range web.Routes {
		key := r.Method + " " + r.Path
		seen[key] = true
		may := strings.Fields(meant[key])
		if !assert.NotEmpty(t, may, "%s: say in this test who may", key) {
			continue
		}
		for _, role := range []access.Role{"", access.Tech, access.Office, access.Lead} {
			name := string(role)
			if role == "" {
				name = "stranger"
			}
			t.Run(key+" as "+name, func(t *testing.T) {
				if key == "DELETE /api/session" && role != "" {
					w.by[role] = w.device(role) // it leaves
					defer func() { w.by[role] = w.device(role) }()
				}
				kind := r.Takes
				if kind == web.Any {
					kind = "image/png"
				}
				status, head, text := w.ask(role, r.Method, w.fill(r.Path), kind, nil)
				switch {
				case slices.Contains(may, name) && key == "POST /api/session": // no token: not let in
					assert.Equal(t, http.StatusBadRequest, status, "%s", text)
				case slices.Contains(may, name):
					assert.NotContains(t, []int{401, 403, 405, 500}, status, "%s", text)
				case role == "":
					assert.Equal(t, http.StatusUnauthorized, status)
				default:
					assert.Equal(t, http.StatusForbidden, status)
				}
				for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
					"Cross-Origin-Opener-Policy": "same-origin", "X-Frame-Options": "DENY"} {
					assert.Equal(t, want, head.Get(name))
				}
				assert.Contains(t, head.Get("Content-Security-Policy"), "default-src 'none'")
				assert.NotContains(t, head.Get("Content-Security-Policy"), "unsafe-inline")
				assert.NotContains(t, head.Get("Content-Security-Policy"), "'unsafe-eval'")
			})
		}
	}
	for key := range meant {
		assert.True(t, seen[key], "%s is not in the table", key)
	}
}

// TestRolesOfTheTable checks the roles in the table against those meant.
func TestRolesOfTheTable(t *testing.T) {
	for _, r := range web.Routes {
		for _, role := range []access.Role{access.Lead, access.Tech, access.Office} {
			assert.Equal(t, strings.Contains(meant[r.Method+" "+r.Path], string(role)), slices.Contains(r.Roles(), role), "%s %s as %s", r.Method, r.Path, role)
		}
		if r.Takes != "" {
			assert.Positive(t, r.Limit, "%s %s takes a body of any size", r.Method, r.Path)
		}
		require.NotEmpty(t, r.Says)
	}
}

// TestSettingsAreTheLeads sends settings in each role. A tech or an office begins a job
// with its settings, and changes nobody's afterwards, its own neither; to send the first
// ones again is no change. The lead changes them all. What is refused is not stored.
func TestSettingsAreTheLeads(t *testing.T) {
	w := newWorld(t)
	at := time.Now()
	body := func(seek string) json.RawMessage { return json.RawMessage(`{"title": "Lot", "seek": "` + seek + `"}`) }
	send := func(role access.Role, list ...entry.Entry) (got web.Logged) {
		t.Helper()
		text, err := json.Marshal(web.Entries{Entries: list})
		require.NoError(t, err)
		status, _, answer := w.ask(role, "POST", "/api/entries", web.JSON, text)
		require.Equal(t, http.StatusOK, status, "%s", answer)
		require.NoError(t, json.Unmarshal(answer, &got))
		return got
	}
	n := 0
	settings := func(job, seek string) entry.Entry {
		n++
		at = at.Add(time.Second)
		return entry.Entry{ID: entry.NewID(at, [10]byte{byte(n)}), Job: job, Kind: entry.KindSettings, At: at, By: "Phone", Body: body(seek)}
	}
	for _, role := range []access.Role{access.Tech, access.Office} {
		theirs := settings(w.job, "tank")
		note := entry.Entry{ID: entry.NewID(at, [10]byte{99, byte(n)}), Job: w.job, Kind: entry.KindReading, At: at, By: "Phone", Body: json.RawMessage(`{"kind": "condition", "target": "box", "note": "seen"}`)}
		got := send(role, theirs, note)
		assert.Equal(t, []string{note.ID}, got.Accepted, "the rest is taken")
		require.Len(t, got.Refused, 1)
		assert.Equal(t, entry.Refused{ID: theirs.ID, Error: "the settings of a job are not for the role " + string(role) + " to change; ask the lead"}, got.Refused[0])
		job, err := w.site.Store.Job(t.Context(), w.job)
		require.NoError(t, err)
		assert.NotContains(t, string(job.Settings), "tank")

		mine := entry.NewID(at, [10]byte{98, byte(n)})
		first := settings(mine, "box")
		assert.Equal(t, []string{first.ID}, send(role, first).Accepted)
		assert.Equal(t, []string{first.ID}, send(role, first).Accepted, "sent again after a lost answer")
		assert.Len(t, send(role, settings(mine, "tank")).Refused, 1)
		assert.Empty(t, send(access.Lead, settings(mine, "tank")).Refused)
		job, err = w.site.Store.Job(t.Context(), mine)
		require.NoError(t, err)
		assert.JSONEq(t, string(body("tank")), string(job.Settings))
	}
}

// TestSketchIsReplacedByLeadAndOffice sends sketches in each role. Whoever begins a
// job gives the first one; a tech replaces none, its own neither, and the rest of
// its sending is taken; lead and office replace it, if they have seen the one that
// holds. Only the lead sets aside.
func TestSketchIsReplacedByLeadAndOffice(t *testing.T) {
	w := newWorld(t)
	demo, err := w.site.Store.Job(t.Context(), w.job)
	require.NoError(t, err)
	n := byte(0)
	made := func(kind, body, over string) entry.Entry {
		n++
		return entry.Entry{ID: entry.NewID(time.Now(), [10]byte{n}), Job: "01JX4W7M5N6P8S0V2X4Z6B8D0G", Kind: kind, At: time.Now(), By: "Phone", Body: json.RawMessage(body), Over: over}
	}
	sketch := func(over string) entry.Entry { return made(entry.KindSketch, string(demo.Sketch), over) }
	send := func(role access.Role, list ...entry.Entry) (got web.Logged) {
		t.Helper()
		text, err := json.Marshal(web.Entries{Entries: list})
		require.NoError(t, err)
		status, _, answer := w.ask(role, "POST", "/api/entries", web.JSON, text)
		require.Equal(t, http.StatusOK, status, "%s", answer)
		require.NoError(t, json.Unmarshal(answer, &got))
		return got
	}
	first := sketch("")
	first.At = time.Now().AddDate(3, 0, 0) // by a clock that is three years ahead
	assert.Equal(t, []string{first.ID}, send(access.Tech, first).Accepted)
	again, note := sketch(first.ID), made(entry.KindReading, `{"kind": "condition", "target": "box", "note": "seen"}`, "")
	got := send(access.Tech, again, note)
	assert.Equal(t, []string{note.ID}, got.Accepted)
	require.Len(t, got.Refused, 1)
	assert.Equal(t, "the sketch of a job is not for the role tech to replace; ask the lead or the office", got.Refused[0].Error)
	office, lead := sketch(first.ID), sketch(first.ID)
	assert.Equal(t, []string{office.ID}, send(access.Office, office).Accepted)
	got = send(access.Lead, lead)
	require.Len(t, got.Refused, 1, "it was made over the first, which the office has replaced")
	assert.Contains(t, got.Refused[0].Error, "another device has changed this meanwhile")
	lead = sketch(office.ID)
	assert.Equal(t, []string{lead.ID}, send(access.Lead, lead).Accepted)
	var page web.Page
	w.get(access.Tech, "/api/entries?job="+first.Job, &page)
	job := entry.Fold(page.Entries)[first.Job]
	assert.Equal(t, lead.ID, page.Entries[len(page.Entries)-1].ID)
	assert.JSONEq(t, string(demo.Sketch), string(job.Sketch))
	assert.Equal(t, "tech", page.Entries[0].Sender, "which device sent it is the server's to say")
	assert.Equal(t, "Phone", page.Entries[0].By)
	assert.WithinDuration(t, time.Now(), page.Entries[0].Arrived, time.Minute)

	mine := note
	mine.Body = json.RawMessage(`{"kind": "condition", "target": "box", "note": "something else"}`)
	got = send(access.Tech, mine)
	assert.Equal(t, []string{note.ID}, got.Different, "the id is taken")
	assert.Empty(t, got.Accepted)

	body := `{"device": "` + page.Entries[0].Device + `", "aside": true}`
	for _, role := range []access.Role{access.Tech, access.Office} {
		assert.Len(t, send(role, made(entry.KindAside, body, "")).Refused, 1)
	}
	assert.Len(t, send(access.Lead, made(entry.KindAside, body, "")).Accepted, 1)
	stored, err := w.site.Store.Job(t.Context(), first.Job)
	require.NoError(t, err)
	assert.Empty(t, stored.Rows, "what the tech sent is set aside")
	assert.Len(t, send(access.Lead, made(entry.KindAside, strings.Replace(body, "true", "false", 1), "")).Accepted, 1)
	stored, err = w.site.Store.Job(t.Context(), first.Job)
	require.NoError(t, err)
	assert.Len(t, stored.Rows, 1, "and taken up again")
}

// TestOtherMethods expects what is not in the table to be refused.
func TestOtherMethods(t *testing.T) {
	w := newWorld(t)
	status, head, _ := w.ask(access.Lead, "DELETE", "/api/jobs", "", nil)
	assert.Equal(t, http.StatusMethodNotAllowed, status)
	assert.Equal(t, "GET, POST", head.Get("Allow"))
	for _, path := range []string{"/api", "/api/job", "/static/", "/.env", "/asfound.db", "/api/jobs/x/y"} {
		status, _, _ := w.ask(access.Lead, "GET", path, "", nil)
		assert.Equal(t, http.StatusNotFound, status, path)
	}
}
